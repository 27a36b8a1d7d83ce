// ---- The class screen: the day, as the whole class may read it from the back row ----------------

const LONG_ORDER = 8; // lines
const NEXT_BLOCKS = 2; // once the band plays

const isOver = ({ blocks }) => shown.on >= blocks.length;
const blockOn = ({ blocks }) => blocks[shown.on] || {};

// The tempo of all passages of a block, or of each one with its name.
function classTempos({ passages = [], tempo }) {
  const tempos = passages.map(([, ...own]) => own);
  if (!tempos.length) return tempo ? [markOf(tempo)] : [];
  if (tempos.every((one) => String(one) === String(tempos[0]))) return [markOf(tempos[0])];
  return passages.map(([at, ...own]) => element("span", "class-tempo", data.passages[at].name, " ", markOf(own)));
}

// The block that is on with its minutes left, or what the class waits for.
function drawClassNow(rehearsal, track) {
  const { on } = shown;
  const made = element("section", "class-now");
  made.setAttribute("aria-label", gettext("Now"));
  if (on < 0) {
    made.append(element("p", "class-label"), element("h2", "class-name", bandOf(rehearsal).name));
  } else if (isOver(rehearsal)) {
    made.append(element("p", "class-label"), element("h2", "class-name", gettext("Thank you. See you next time.")));
  } else {
    const block = blockOn(rehearsal);
    made.append(
      element("p", "class-label"),
      element("h2", "class-name", titleOf(block)),
      element("p", "class-under", element("span", "", underTitle(block) || ""), ...classTempos(block)));
  }
  made.append(element("p", "class-minutes"));
  if (track && isBeforeMusic(rehearsal)) {
    // Once it was played, the focus that was on its buttons is not this one's.
    const [key, look, words] = track.over ? ["warm-up again", "", gettext("Play again")] : ["warm-up play", " primary", gettext("Play the warm-up")];
    made.append(button(key, `class-button class-start${look}`, words, () => playWarmUp(rehearsal, track)));
  }
  return made;
}

// Until the warm-up's own block is over, it waits with one large button.
function isBeforeMusic({ blocks }) {
  const at = blocks.findIndex(({ kind }) => kind === "warm_up");
  return shown.on <= at;
}

// To play the warm-up is to begin it, so that the course of the day knows; the stand undoes it.
function playWarmUp({ blocks }, track) {
  const at = blocks.findIndex(({ kind }) => kind === "warm_up");
  if (!track.begun && shown.on >= 0 && shown.on < at) shown.begin(at);
  sound.toggle(track);
}

// Whether each section is to know where it goes, or is there.
const isInSections = (rehearsal, now) => !isOver(rehearsal) && roomsAt(rehearsal, shown.on, now) >= 0;

function drawClassRooms({ rooms }) {
  const list = element("ul", "class-rooms", ...rooms.map((room) => element("li", "", room)));
  return element("section", "class-day", element("h2", "", gettext("Rooms")), list);
}

// What stands below or beside a name: all of it, if there is room; else whose passage it is, what a
// join joins, and what tells two of one name apart.
function classDetail({ blocks }, place, isShort, ahead) {
  const block = blocks[place];
  const isAlike = ahead.some((other) => other !== place && titleOf(blocks[other]) === titleOf(block));
  if (isShort || isAlike || block.how === "join") return underTitle(block);
  return titleOf(block) === block.title ? "" : block.title;
}

// When this band meets again.
function drawNextClass(rehearsal) {
  const next = data.rehearsals.find(({ band, at }) => band === rehearsal.band && at > rehearsal.at);
  if (!next) return "";
  const when = besides(nameOfDay(next.day), clockAt(next, next.at));
  return element("p", "class-again", gettext("Next class: %(when)s", { when }));
}

// What comes: before the music all of it, then the next two, and the end; at the close, the next class.
function drawClassOrder(rehearsal) {
  const { kind } = blockOn(rehearsal);
  const isLast = kind === "close" || isOver(rehearsal);
  const after = isLast ? [...drawConcertLine(rehearsal), drawNextClass(rehearsal)] : [];
  if (isOver(rehearsal)) return element("section", "class-day", ...after);
  const all = rehearsal.blocks.map((_, place) => place).filter((place) => place > shown.on && !shown.course[place].dropped);
  const ahead = isBeforeMusic(rehearsal) ? all : all.slice(0, NEXT_BLOCKS);
  const isShort = ahead.length < LONG_ORDER;
  const line = (clock, ...what) => element("li", "", element("span", "class-clock", clock), element("span", "class-line", ...what));
  const list = element("ol", `class-order${isShort ? " is-short" : ""}`, ...ahead.map((place) => {
    const detail = classDetail(rehearsal, place, isShort, ahead);
    return line(clockAt(rehearsal, shown.course[place].start), titleOf(rehearsal.blocks[place]), " ", detail && element("span", "class-detail", detail));
  }));
  const end = line(clockAt(rehearsal, endOf(rehearsal)), gettext("The end"));
  end.className = "class-end";
  list.append(end);
  const heading = pgettext("block of a rehearsal", "Next");
  return element("section", `class-day${isShort ? "" : " is-long"}`, element("h2", "", heading), list, ...after);
}

// Thanks, habit and notices, in their own block, at the close and after it.
function drawClassWords(rehearsal) {
  const { thanks = {}, notices = [], habit } = rehearsal;
  if (!["notices", "close"].includes(blockOn(rehearsal).kind) && !isOver(rehearsal)) return "";
  const made = [];
  if (thanks.sentence) made.push(element("section", "", element("h2", "", gettext("Thanks")), htmlElement("p", "", thanks.sentence)));
  else if (thanks.whom) made.push(element("section", "", element("h2", "", gettext("Thanks")), element("p", "", thanks.whom)));
  if (habit) made.push(element("section", "", element("h2", "", gettext("Habit of the day")), element("p", "", htmlElement("b", "", habit[0])), htmlElement("p", "", habit[1])));
  if (notices.length) made.push(element("section", "", element("h2", "", gettext("Notices")), element("ul", "", ...notices.map((html) => htmlElement("li", "", html)))));
  return made.length ? element("div", "class-said", ...made) : "";
}

const LARGEST = 0.07, SMALLEST = 20; // of letters: a share of the screen's height, and pixels

// Letters as large as their place allows, where the whole screen is to be seen at once; held
// upright it may be longer.
function fillPlaces(place) {
  const isUpright = window.matchMedia("(orientation: portrait)").matches;
  for (const one of isUpright ? [] : all(".class-order, .class-rooms, .class-said, .class-hours, .class-sections", place)) {
    if (!one.matches(".class-said") && place.querySelector(".class-said")) continue; // in a row of their own below
    const rooms = one.matches(".class-sections") ? all(".class-figure, figcaption", one) : [one.closest(".class-day, .class-said, .class-hours")];
    // Letters reach beyond the lines of a caption, which is no sign of too little room.
    const isTooHigh = (room) => room.scrollHeight > room.clientHeight && !room.matches("figcaption");
    const isTooLong = () => rooms.some((room) => isTooHigh(room) || room.scrollWidth > room.clientWidth);
    let size = Math.round(LARGEST * window.innerHeight);
    one.style.fontSize = `${size}px`;
    for (; size > SMALLEST && isTooLong(); size -= 1) one.style.fontSize = `${size - 1}px`;
    one.classList.toggle("is-cut", isTooLong());
  }
}

// ---- The wall's clock, and a concert's day ------------------------------------------------------

const drawWallClock = () => element("p", "class-wall");

function writeWallClock(place, of, now) {
  const clock = place.querySelector(".class-wall"), text = clockAt(of, now);
  if (clock.textContent !== text) clock.textContent = text;
}

const NEXT_HOURS = 5; // of a band, and its first note

// What a band still has before it: the next hours, and in any case the first note, whose second is
// not that of the minute which is told.
function hoursAhead([, , steps, [first]], now) {
  const isFirst = (one) => steps.every(([at]) => Math.abs(one - first) <= Math.abs(at - first));
  return steps.filter(([at]) => at >= now).filter(([at], place) => place < NEXT_HOURS || isFirst(at));
}

// The concert on its day: for each band where to be when, and nothing that is the director's own.
function drawClassConcert({ name, venue, bands }, now) {
  const head = element("section", "class-now", element("p", "class-label"), element("h2", "class-name", name), element("p", "class-under", element("span", "", venue)), element("p", "class-minutes"));
  const hours = bands.map((band) => element("section", "", element("h2", "", band[1]), element("ol", "class-hours-of", ...hoursAhead(band, now).map(([, clock, what]) => (
    element("li", "", element("span", "class-clock", clock), element("span", "class-line", what)))))));
  return [head, element("div", "class-hours", ...hours)];
}

window.addEventListener("resize", () => { if (views.now === "class" && shown.rehearsal) redraw(); });

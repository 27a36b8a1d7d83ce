// ---- The class screen: the day, as the whole class may read it from the back row ----------------

const LONG_ORDER = 8; // lines

// The block that is on with its minutes left, or what the class waits for.
function drawClassNow(rehearsal, track) {
  const { on } = shown;
  const { blocks } = rehearsal;
  const made = element("section", "class-now");
  made.setAttribute("aria-label", gettext("Now"));
  if (on < 0) {
    made.append(element("p", "class-label"), element("h2", "class-name", bandOf(rehearsal).name));
  } else if (on >= blocks.length) {
    made.append(element("p", "class-label"), element("h2", "class-name", gettext("Thank you. See you next time.")));
  } else {
    const block = blocks[on];
    const [mark] = (block.passages || []).length === 1 ? [block.passages[0].slice(1)] : [block.tempo];
    made.append(
      element("p", "class-label"),
      element("h2", "class-name", titleOf(block)),
      element("p", "class-under", element("span", "", underTitle(block) || ""), mark ? markOf(mark) : ""));
  }
  made.append(element("p", "class-minutes"));
  if (track && isBeforeMusic(rehearsal)) {
    made.append(button("warm-up play", "class-button primary class-start", gettext("Play the warm-up"), () => sound.start(track)));
  }
  return made;
}

// Until the warm-up's own block is over, it waits with one large button.
function isBeforeMusic({ blocks }) {
  const at = blocks.findIndex(({ kind }) => kind === "warm_up");
  return shown.on <= at;
}

// What stands below or beside a name: all of it, if there is room; else whose passage it is, what a
// join joins, and what
// tells two of one name apart.
function classDetail({ blocks }, place, isShort, ahead) {
  const block = blocks[place];
  const isAlike = ahead.some((other) => other !== place && titleOf(blocks[other]) === titleOf(block));
  if (isShort || isAlike || block.how === "join") return underTitle(block);
  return titleOf(block) === block.title ? "" : block.title;
}

// What is on and what comes, down to the end.
function drawClassOrder(rehearsal) {
  const ahead = rehearsal.blocks.map((_, place) => place).filter((place) => place >= shown.on && !shown.course[place].dropped);
  if (!ahead.length) return "";
  const isShort = ahead.length < LONG_ORDER;
  const line = (clock, ...what) => element("li", "", element("span", "class-clock", clock), element("span", "class-line", ...what));
  const list = element("ol", `class-order${isShort ? " is-short" : ""}`, ...ahead.map((place) => {
    const block = rehearsal.blocks[place];
    const detail = classDetail(rehearsal, place, isShort, ahead);
    const item = line(clockAt(rehearsal, shown.course[place].start), titleOf(block), " ", detail && element("span", "class-detail", detail));
    if (place === shown.on) {
      item.className = "is-now";
      item.setAttribute("aria-current", "step");
    }
    return item;
  }));
  const end = line(clockAt(rehearsal, endOf(rehearsal)), gettext("The end"));
  end.className = "class-end";
  list.append(end);
  return element("section", `class-day${isShort ? "" : " is-long"}`, element("h2", "", gettext("Order of the day")), list);
}

function drawClassWords(rehearsal) {
  const { thanks = {}, notices = [], habit } = rehearsal;
  const made = [];
  if (thanks.sentence) made.push(element("section", "", element("h2", "", gettext("Thanks")), htmlElement("p", "", thanks.sentence)));
  else if (thanks.whom) made.push(element("section", "", element("h2", "", gettext("Thanks")), element("p", "", thanks.whom)));
  if (habit) made.push(element("section", "", element("h2", "", gettext("Habit of the day")), element("p", "", htmlElement("b", "", habit[0])), htmlElement("p", "", habit[1])));
  if (notices.length) made.push(element("section", "", element("h2", "", gettext("Notices")), element("ul", "", ...notices.map((html) => htmlElement("li", "", html)))));
  return element("div", "class-said", ...made);
}

const LARGEST = 0.052, SMALLEST = 20; // of letters: a share of the screen's height, and pixels

// Letters as large as their place allows, where the whole screen is to be seen at once; held
// upright it may be longer.
function fillPlaces(place) {
  const isUpright = window.matchMedia("(orientation: portrait)").matches;
  for (const one of isUpright ? [] : all(".class-order, .class-said", place)) {
    const room = one.closest(".class-day, .class-said");
    const isTooLong = () => room.scrollHeight > room.clientHeight;
    let size = Math.round(LARGEST * window.innerHeight);
    one.style.fontSize = `${size}px`;
    for (; size > SMALLEST && isTooLong(); size -= 1) one.style.fontSize = `${size - 1}px`;
    one.classList.toggle("is-cut", isTooLong());
  }
}

window.addEventListener("resize", () => { if (views.now === "class" && shown.rehearsal) redraw(); });

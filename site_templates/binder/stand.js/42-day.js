// ---- The day: its order with clock times, and all that belongs to it ----------------------------

// The course as it would be if a block that is held past its time were let go now.
function courseAhead(rehearsal, now) {
  const { went, course, on } = shown;
  if (went.held === null || went.held !== on || now < course[on].end || now >= endOf(rehearsal)) return course;
  const block = nextToBegin();
  return block < course.length ? courseOf(rehearsal, { turns: [...went.turns, { block, at: Math.floor(now / MINUTE) * MINUTE }] }) : course;
}

function blockLine(rehearsal, place, course) {
  const block = rehearsal.blocks[place], { start, end, dropped } = course[place];
  const planned = plannedCourse(rehearsal)[place];
  const moved = Math.round((start - planned.start) / MINUTE);
  const line = button(`block ${place}`, "line", "", () => shown.look(place));
  const time = element("span", "line-time", clockAt(rehearsal, start));
  const [mark] = (block.passages || []).length === 1 ? [block.passages[0].slice(1)] : [block.tempo];
  const name = element("span", "line-name", element("b", "", titleOf(block)), mark ? markOf(mark) : "");
  const what = element("span", "line-what", name, underTitle(block) ? element("span", "small", underTitle(block)) : "");
  const lasts = dropped ? gettext("dropped") : minutesText(minutesBetween(rehearsal, start, end));
  line.append(time, what, element("span", "line-minutes", lasts));
  line.classList.toggle("is-dropped", dropped);
  line.classList.toggle("is-moved", moved !== 0 && !dropped);
  return line;
}

function drawOrder(rehearsal) {
  const list = element("ol", "order");
  const course = courseAhead(rehearsal, moment());
  rehearsal.blocks.forEach((_, place) => {
    const item = element("li", "", blockLine(rehearsal, place, course));
    item.dataset.place = place;
    list.append(item);
  });
  const end = element("p", "order-end", gettext("The end: %(clock)s", { clock: clockAt(rehearsal, endOf(rehearsal)) }));
  return element("section", "day-order", element("h2", "", gettext("Order of the day")), list, end);
}

// Marks the line of the block that is on and those that are over, without drawing them anew.
function markOrder() {
  const { on } = shown;
  for (const item of all("[data-place]", document.querySelector(".order"))) {
    const place = Number(item.dataset.place);
    item.classList.toggle("is-now", place === on);
    item.classList.toggle("is-over", place < on);
    const [line] = item.children;
    if (place === on) line.setAttribute("aria-current", "step"); else line.removeAttribute("aria-current");
  }
}

function drawLook(look) {
  if (!look.length) return [];
  return [element("ul", "look", ...look.map(([what, html = ""]) => (
    element("li", "", element("b", "", what), what && html ? " " : "", htmlElement("span", "", html)))))];
}

const followingOf = (rehearsal) => data.rehearsals.find((one) => one.band === rehearsal.band && one.at > rehearsal.at);

// What to watch for today, so that there is something to thank for next time.
function drawThanksNext(rehearsal) {
  const { thanks = {} } = followingOf(rehearsal) || {};
  const { whom, look = [] } = thanks;
  if (!whom || !look.length) return [];
  return [element("section", "fact", element("h2", "", gettext("To thank next time: %(whom)s", { whom })), ...drawLook(look))];
}

// Whom to thank, and where to look for what to thank them for; one tap keeps that it was said.
function drawThanks({ thanks = {} }) {
  const { whom, sentence, ids = [] } = thanks;
  if (!whom && !sentence) return [];
  const made = element("div", "thanks");
  if (whom) made.append(element("p", "", element("b", "", gettext("Thank today: %(whom)s", { whom }))));
  if (sentence) made.append(htmlElement("p", "", sentence));
  made.append(...keepThanked("thanked", ids));
  return [made];
}

// One tap keeps that it was said, another takes it back.
function keepThanked(key, ids) {
  if (!ids.length) return [];
  const isKept = ids.every((id) => shown.went.thanked.includes(id));
  const keep = button(key, "keep", isKept ? gettext("Thanked: kept") : gettext("Keep as thanked"), () => shown.note({ thanked: isKept ? [] : ids }));
  keep.setAttribute("aria-pressed", String(isKept));
  return [element("div", "tools", keep)];
}

function drawNotices(rehearsal) {
  const { notices = [], habit, thanks: { look = [] } = {} } = rehearsal;
  const made = drawThanks(rehearsal);
  if (notices.length) made.push(element("ul", "notices", ...notices.map((html) => htmlElement("li", "", html))));
  if (habit) made.push(element("p", "habit", htmlElement("b", "", habit[0]), " ", htmlElement("span", "", habit[1])));
  return [...made, ...drawLook(look)];
}

function listed(title, lines, className = "") {
  return lines.length ? [element("section", `fact ${className}`, element("h2", "", title), element("ul", "", ...lines))] : [];
}

function drawNeed({ text, where, media, for: subjects = [] }) {
  const made = element("li", "");
  const names = subjects.map((html) => htmlElement("span", "", html).textContent);
  const what = text || (media ? gettext("Recording: %(file)s", { file: media }) : "");
  made.append(element("b", "", what), ...[where, text && media, names.join(handbookWords.formats.comma)].filter(Boolean).map((fact) => element("span", "need-fact", fact)));
  return made;
}

// What is to be known before the band comes in.
function drawReady({ missing = [], needs = [], rooms = [] }, hasRooms = false) {
  return [
    ...drawNeeds(needs),
    ...listed(gettext("Who is missing"), missing.map((text) => element("li", "", text))),
    ...(rooms.length > 1 && !hasRooms ? listed(gettext("Rooms"), rooms.map((text) => element("li", "", text))) : []),
  ];
}

const ROOMS_BEFORE = 5 * MINUTE; // so that sections are told before they go

// The place of sectionals that are on or begin soon, while the block on the card is on; else -1.
function roomsAt(rehearsal, place, now) {
  if ((rehearsal.rooms || []).length < 2) return -1;
  const isTold = (one) => one === place || (one > place && !shown.course[one].dropped && shown.course[one].start - now <= ROOMS_BEFORE);
  return rehearsal.blocks.findIndex(({ kind }, one) => kind === "sectional" && isTold(one));
}

// Each section with its room, to be read aloud from the podium.
function drawRooms(rehearsal, place) {
  const sectionals = roomsAt(rehearsal, place, moment());
  if (sectionals < 0) return [];
  const when = besides(titleOf(rehearsal.blocks[sectionals]), clockAt(rehearsal, shown.course[sectionals].start));
  const list = element("ul", "rooms", ...rehearsal.rooms.map((text) => element("li", "", text)));
  return [element("section", "fact", element("h2", sectionals === place ? "vh" : "", sectionals === place ? gettext("Rooms") : when), list)];
}

const drawPurpose = ({ purpose }, title) => (purpose ? [element("section", "fact", element("h2", "", title), htmlElement("p", "", purpose))] : []);
const drawNeeds = (needs) => listed(gettext("What must lie ready"), needs.map(drawNeed));

// At the close: what students take along once more, and what the band's next rehearsal needs.
function drawNextTime(rehearsal) {
  const next = followingOf(rehearsal);
  const again = listed(pgettext("block of a rehearsal", "Notices once more"), (rehearsal.notices || []).map((html) => htmlElement("li", "", html)), "notices");
  if (!next) return again;
  const when = besides(nameOfDay(next.day), clockAt(next, next.at));
  const first = next.blocks.find(({ kind }) => kind === "music");
  const { needs = [], missing = [] } = next;
  return [
    ...again,
    element("section", "fact", element("h2", "", gettext("Next time: %(day)s", { day: when })),
      first ? element("p", "", gettext("Music begins with %(block)s.", { block: besides(titleOf(first), underTitle(first)) })) : ""),
    ...drawPurpose(next, gettext("What it is for")),
    ...drawNeeds(needs),
    ...listed(gettext("Who is missing"), missing.map((text) => element("li", "", text))),
    ...drawThanksNext(rehearsal),
  ];
}

// What fills the card of a block that has nothing to play; the rest of the day then leaves it out.
function drawBesides(rehearsal, place) {
  const { kind } = rehearsal.blocks[place];
  if (kind === "set_up") return [...drawPurpose(rehearsal, gettext("What today is for")), ...drawReady(rehearsal), ...drawOwn(rehearsal.private || [])];
  return kind === "close" ? drawNextTime(rehearsal) : [];
}

const drawOwn = (notes) => listed(gettext("For you alone"), notes.map(([about, text]) => element("li", "", element("b", "", about), " ", text)), "own");

// `inCard` is the kind of block whose card has its share of the day already, or `before`.
function drawDay(rehearsal, inCard) {
  const { on } = shown;
  const hasRooms = Boolean(rehearsal.blocks[on]) && roomsAt(rehearsal, on, moment()) >= 0;
  const { private: own = [] } = rehearsal;
  const thanks = drawNotices(rehearsal);
  return [
    ...(inCard === "set_up" ? [] : drawPurpose(rehearsal, gettext("What today is for"))),
    ...(thanks.length && inCard !== "notices" ? [element("section", "fact", element("h2", "", pgettext("block of a rehearsal", "Thanks and notices")), ...thanks)] : []),
    ...(["before", "set_up"].includes(inCard) ? [] : drawReady(rehearsal, hasRooms)),
    ...drawConcertToday(rehearsal),
    ...(inCard === "close" ? [] : drawThanksNext(rehearsal)),
    ...(["before", "set_up"].includes(inCard) ? [] : drawOwn(own)),
  ];
}

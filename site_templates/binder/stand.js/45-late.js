// ---- Running late: one tap keeps the end of class -----------------------------------------------

// What begins when the director goes on: after a block that is held the next one, else the one
// that the clock has begun.
function nextToBegin() {
  const { held } = shown.went;
  if (held === null || held !== shown.on) return shown.on;
  const next = followingIn(shown.course, held);
  return next < 0 ? shown.course.length : next;
}

// A button of the foot: a few words that are read, and for who hears them all that it does.
function pace(key, words, told, act) {
  const made = button(key, "pace-button", words, act);
  made.setAttribute("aria-label", told);
  return made;
}

// Blocks ahead that may fall out, when the director goes on now: all but what begins and the close.
function droppable(rehearsal) {
  const ahead = nextToBegin();
  if (ahead >= rehearsal.blocks.length) return [];
  return placesToDrop(minutesAhead(rehearsal, ahead, droppedNow())).map((place) => ahead + place);
}

const lengthOf = ({ minutes, ...block }) => besides(titleOf(block), minutesText(minutes));

// Which block is to be dropped: often not the last one, which is the run-through of them all.
function drawChoice(rehearsal) {
  const lines = droppable(rehearsal).map((place) => {
    const block = rehearsal.blocks[place];
    return button(`drop ${place}`, "pace-button", lengthOf(block), () => shown.begin(nextToBegin(), place));
  });
  const back = button("drop none", "pace-button", gettext("Drop nothing"), () => shown.chooseDrop(false));
  const row = element("div", "pace-row is-choice", ...lines, back);
  row.setAttribute("role", "group");
  row.setAttribute("aria-label", gettext("Which one to drop?"));
  return row;
}

function drawPace(rehearsal) {
  const { on, went } = shown;
  const { blocks } = rehearsal;
  const isHeld = went.held === on;
  const ahead = nextToBegin();
  const made = [];
  const preceding = precedingIn(shown.course, on), following = followingIn(shown.course, on);
  const before = blocks[preceding];
  if (!isHeld && before && !went.turns.some((turn) => turn.block === on)) {
    const words = gettext("Still on %(block)s", { block: titleOf(before) });
    const still = pace("still", words, words, () => shown.hold(preceding));
    still.classList.add("is-long");
    made.push(still);
  }
  if (following > 0) {
    made.push(pace("next", gettext("Next now"), gettext("Next now: %(block)s", { block: titleOf(blocks[following]) }), () => shown.begin(following)));
  }
  const stay = pace("stay", pgettext("on a block of a rehearsal", "Stay"), gettext("Stay on this until you go on"), () => shown.hold(isHeld ? null : on));
  stay.setAttribute("aria-pressed", String(isHeld));
  made.push(stay);
  if (!isHeld) {
    const clock = clockAt(rehearsal, endOf(rehearsal));
    made.push(pace("share", gettext("Share the rest"), gettext("Share the rest: the end stays %(clock)s", { clock }), () => shown.begin(ahead)));
  }
  const places = droppable(rehearsal);
  if (places.length) {
    const last = lengthOf(blocks[places[places.length - 1]]);
    made.push(pace("drop", gettext("Drop the last"), gettext("Drop the last: %(block)s", { block: last }), () => shown.begin(ahead, places[places.length - 1])));
  }
  if (places.length > 1) made.push(pace("drop other", gettext("or another"), gettext("or another: choose which one to drop"), () => shown.chooseDrop(true)));
  return element("div", "pace-row", ...made);
}

// What comes next, and what the hand needs, stay in sight at the foot of the card: two lines.
function drawLate(rehearsal, next) {
  const { on, went, choosing } = shown;
  if (on < 0 || on >= rehearsal.blocks.length) return [];
  const undo = went.turns.length ? button("undo", "undo", gettext("Undo"), () => shown.undo()) : "";
  const first = next || undo ? [element("div", "pace-next", next || gettext("The end stays %(clock)s.", { clock: clockAt(rehearsal, endOf(rehearsal)) }), undo)] : [];
  return [element("div", "pace", ...first, choosing && droppable(rehearsal).length ? drawChoice(rehearsal) : drawPace(rehearsal))];
}

const droppedNow = () => new Set(shown.course.flatMap(({ dropped }, place) => (dropped ? [place] : [])));

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

// What a block is called in full, with its measures and minutes, since joins of a piece have one name.
const lengthOf = ({ minutes, ...block }) => besides(titleOf(block), underTitle(block), minutesText(minutes));

// The block before the one on the card, where the band may still be on it.
function blockBefore() {
  const { on, went } = shown;
  const preceding = went.held === on || went.turns.some((turn) => turn.block === on) ? -1 : precedingIn(shown.course, on);
  return preceding;
}

// All that helps when class runs late, each with what it does.
function drawChoice(rehearsal) {
  const { blocks } = rehearsal;
  const { on, went } = shown;
  const choose = (key, words, act) => button(key, "pace-button", words, () => { shown.choosing = false; act(); });
  const made = [], preceding = blockBefore(), ahead = nextToBegin();
  if (preceding >= 0) made.push(choose("still", gettext("Still on %(block)s", { block: besides(titleOf(blocks[preceding]), underTitle(blocks[preceding])) }), () => shown.hold(preceding)));
  if (went.held !== on) made.push(choose("share", gettext("Share the rest: the end stays %(clock)s", { clock: clockAt(rehearsal, endOf(rehearsal)) }), () => shown.begin(ahead)));
  for (const place of droppable(rehearsal).reverse()) made.push(choose(`drop ${place}`, gettext("Drop %(block)s", { block: lengthOf(blocks[place]) }), () => shown.begin(nextToBegin(), place)));
  const back = button("drop none", "pace-button", gettext("Change nothing"), () => shown.chooseDrop(false));
  const row = element("div", "pace-row is-choice", ...made, back);
  row.setAttribute("role", "group");
  row.setAttribute("aria-label", gettext("Late: what to do"));
  return row;
}

function drawPace(rehearsal) {
  const { on, went } = shown;
  const isHeld = went.held === on;
  const made = [];
  const following = followingIn(shown.course, on);
  if (following > 0) {
    made.push(pace("next", gettext("Next now"), gettext("Next now: %(block)s", { block: titleOf(rehearsal.blocks[following]) }), () => shown.begin(following)));
  }
  const stay = pace("stay", pgettext("on a block of a rehearsal", "Stay"), gettext("Stay on this until you go on"), () => shown.hold(isHeld ? null : on));
  stay.setAttribute("aria-pressed", String(isHeld));
  made.push(stay);
  if (blockBefore() >= 0 || !isHeld || droppable(rehearsal).length) {
    made.push(pace("late", gettext("Late …"), gettext("Late: what to do"), () => shown.chooseDrop(true)));
  }
  return element("div", "pace-row", ...made);
}

// Whole minutes behind the plan: of the block that is on, and what it is held over.
function minutesBehind(rehearsal, now) {
  const { on, went } = shown;
  const { start, end } = plannedCourse(rehearsal)[on];
  const late = went.held === on ? Math.max(now - end, shown.course[on].start - start) : shown.course[on].start - start;
  return Math.floor(late / MINUTE);
}

function behindText(rehearsal, now) {
  const minutes = minutesBehind(rehearsal, now);
  return minutes > 0 ? gettext("Behind by %(time)s", { time: minutesText(minutes) }) : "";
}

// What comes next, and what the hand needs, stay in sight at the foot of the card: two lines, and
// one more when class is late.
function drawLate(rehearsal, next) {
  const { on, went, choosing } = shown;
  if (on < 0 || on >= rehearsal.blocks.length) return [];
  const undo = went.turns.length ? button("undo", "undo", gettext("Undo"), () => shown.undo()) : "";
  const first = next || undo ? [element("div", "pace-next", next || gettext("The end stays %(clock)s.", { clock: clockAt(rehearsal, endOf(rehearsal)) }), undo)] : [];
  const behind = element("p", "behind", behindText(rehearsal, moment()));
  return [element("div", "pace", behind, ...first, choosing ? drawChoice(rehearsal) : drawPace(rehearsal))];
}

// ---- Keys, which the pedals that turn pages send as well ------------------------------------------

const pedal = {
  REST: 2, // seconds, or one press of a foot would go on twice
  FIELDS: "input, textarea, select",
  lastAt: 0,
  keys: { ArrowRight: "next", PageDown: "next", ArrowLeft: "undo", PageUp: "undo" },

  listen() {
    document.addEventListener("keydown", (event) => {
      const does = this.keys[event.key];
      const isPlain = !event.altKey && !event.ctrlKey && !event.metaKey && !event.shiftKey;
      if (!does || !isPlain || views.now !== "stand" || document.activeElement.matches(this.FIELDS)) return;
      if (insteadNow() || cardOf(shown.rehearsal, shown.on).kind !== "on") return; // the page scrolls
      event.preventDefault();
      if (event.repeat || moment() - this.lastAt < this.REST) return;
      this.lastAt = moment();
      this[does]();
    });
  },

  next() {
    const following = followingIn(shown.course, shown.on);
    if (following > 0) shown.begin(following);
  },

  undo() { if (shown.went.turns.length) shown.undo(); },
};
pedal.listen();

const droppedNow = () => new Set(shown.course.flatMap(({ dropped }, place) => (dropped ? [place] : [])));

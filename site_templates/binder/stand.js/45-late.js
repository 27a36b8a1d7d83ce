// ---- Running late: one tap keeps the end of class -----------------------------------------------

// What begins when the director goes on: after a block that is held the next one, else the one
// that the clock has begun.
function nextToBegin() {
  const { held } = shown.went;
  if (held !== null && held === shown.on) return held + 1;
  return shown.on;
}

function pace(key, does, what, act) {
  const made = button(key, "pace-button", "", act);
  made.append(element("b", "", does), element("span", "", what));
  return made;
}

// What comes next, and what the hand needs, stay in sight at the foot of the card.
function drawLate(rehearsal, next) {
  const { on, went } = shown;
  const { blocks } = rehearsal;
  if (on < 0 || on >= blocks.length) return [];
  const isHeld = went.held === on;
  const ahead = nextToBegin();
  const made = [];
  const before = blocks[on - 1];
  if (!isHeld && before && !went.turns.some((turn) => turn.block === on)) {
    made.push(pace("still", gettext("Still on the one before"), titleOf(before), () => shown.hold(on - 1)));
  }
  if (on + 1 < blocks.length) {
    made.push(pace("next", gettext("Next now"), titleOf(blocks[on + 1]), () => shown.begin(on + 1, false)));
  }
  const stay = pace("stay", gettext("Stay on this"), gettext("until you go on"), () => shown.hold(isHeld ? null : on));
  stay.setAttribute("aria-pressed", String(isHeld));
  made.push(stay);
  if (!isHeld) {
    const clock = clockAt(rehearsal, endOf(rehearsal));
    made.push(pace("share", gettext("Late: share the rest"), gettext("the end stays %(clock)s", { clock }), () => shown.begin(ahead, false)));
  }
  if (ahead < blocks.length) {
    const gone = droppedNow();
    const place = placeToDrop(minutesAhead(rehearsal, ahead, gone));
    if (place > 0) {
      made.push(pace("drop", isHeld ? gettext("Go on, drop the last") : gettext("Late: drop the last"), besides(titleOf(blocks[ahead + place]), minutesText(blocks[ahead + place].minutes)), () => shown.begin(ahead, true)));
    }
  }
  const bar = element("div", "pace", next);
  if (went.turns.length) {
    const end = gettext("The end stays %(clock)s.", { clock: clockAt(rehearsal, endOf(rehearsal)) });
    bar.append(element("p", "pace-note", element("span", "", end), button("undo", "", gettext("Undo"), () => shown.undo())));
  }
  bar.append(element("div", "pace-row", ...made));
  return [bar];
}

const droppedNow = () => new Set(shown.course.flatMap(({ dropped }, place) => (dropped ? [place] : [])));

// ---- The course of a rehearsal: when each block begins and ends, as planned and as it goes ------

function plannedCourse({ at, blocks }) {
  let start = at;
  return blocks.map(({ minutes }) => {
    const one = { start, end: start + minutes * MINUTE, minutes, dropped: false };
    start = one.end;
    return one;
  });
}

// Planned minutes from a block on, with those of the close last, none where there is no close.
function minutesAhead({ blocks }, first, dropped) {
  const ahead = blocks.slice(first).map(({ minutes }, place) => (dropped.has(first + place) ? 0 : minutes));
  return blocks[blocks.length - 1].kind === "close" ? ahead : [...ahead, 0];
}

// Begin a block at a moment: the one before lasts until then, what comes shares the time to the end.
// Seconds that make no whole minute are the block's that begins. `drop` is the place of a block
// ahead that falls out, or true for the last that may.
function begin(rehearsal, course, { block, at, drop }, dropped) {
  const end = endOf(rehearsal);
  dropped.delete(block); // which is played after all
  let planned = minutesAhead(rehearsal, block, dropped);
  const places = placesToDrop(planned);
  const place = drop === true ? places[places.length - 1] : drop - block;
  if (drop && places.includes(place)) {
    dropped.add(block + place);
    planned = without(planned, place);
  }
  const music = rehearsal.blocks.slice(block).map(({ kind }) => kind === "music");
  const shares = sharedToTheEnd(Math.max(0, Math.floor((end - at) / MINUTE)), planned, music);
  const made = course.map((one, place) => (
    place < block ? { ...one, start: Math.min(one.start, at), end: place === block - 1 ? at : Math.min(one.end, at) } : one));
  let until = Math.max(end, at);
  for (let place = course.length - 1; place >= block; place -= 1) {
    const minutes = shares[place - block];
    const start = place === block ? at : until - minutes * MINUTE;
    made[place] = { start, end: until, minutes, dropped: !minutes && place > block };
    until = start;
  }
  return made;
}

function courseOf(rehearsal, { turns }) {
  const dropped = new Set();
  return turns.reduce((course, turn) => begin(rehearsal, course, turn, dropped), plannedCourse(rehearsal));
}

// The nearest block before or behind a place that was not dropped; -1 where there is none.
const followingIn = (course, place) => course.findIndex((one, other) => other > place && !one.dropped);
const precedingIn = (course, place) => course.findLastIndex((one, other) => other < place && !one.dropped);

// The place of the block that is on: -1 before the first, and the number of blocks after the last.
function blockAt(course, now) {
  if (now < course[0].start) return -1;
  const place = course.findIndex(({ start, end }) => start <= now && now < end);
  return place < 0 ? course.length : place;
}

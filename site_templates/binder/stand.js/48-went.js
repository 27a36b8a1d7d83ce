// ---- What the course itself says of a rehearsal: what was not played, and how long it ran over --

const PLAYED = 30; // seconds at least, or a block was only tapped past
const MOST_OVER = 30 * MINUTE; // later it was no longer class, but a block that nobody let go

// Places of the blocks that were not played: dropped, tapped past, or gone by the clock while
// another was held.
function placesLeftOut(rehearsal, went, now) {
  const course = courseOf(rehearsal, went);
  const { held, ended, turns } = went;
  const stayed = ended || { at: now, block: held === null ? Infinity : held };
  const isBegunLate = (place) => turns.some(({ block, at }) => block === place && at >= endOf(rehearsal));
  return course.flatMap(({ start, end }, place) => {
    const isPassed = place > stayed.block && end <= stayed.at;
    return isPassed || (end - start < PLAYED && !isBegunLate(place)) ? [place] : [];
  });
}

// Passages, as a log names them, whose every block was left out.
function leftOut(rehearsal, went, now) {
  const places = new Set(placesLeftOut(rehearsal, went, now));
  const passagesOf = ({ passages = [] }) => passages.map(([at]) => data.passages[at].key);
  const played = new Set(rehearsal.blocks.flatMap((block, place) => (places.has(place) ? [] : passagesOf(block))));
  const gone = rehearsal.blocks.flatMap((block, place) => (places.has(place) ? passagesOf(block) : []));
  return [...new Set(gone)].filter((key) => !played.has(key));
}

// What was not played: as said by hand, and what the course left out, if nothing else was said.
function notPlayed(rehearsal, went, now) {
  const { notDone, played, reached } = went;
  const byItself = leftOut(rehearsal, went, now).filter((key) => !played.includes(key) && !(key in reached));
  return [...new Set([...notDone, ...byItself])];
}

// Whole minutes that class went on past its end, as far as what was tapped tells; else 0. A block
// that nobody let go went on until now, or, hours later, as long as it was `seen`.
function overByClock(rehearsal, { held, ended, seen, turns }, now) {
  const end = endOf(rehearsal);
  const isKnown = now <= end + MOST_OVER;
  const until = Math.max(0, ...turns.map(({ at }) => at), ended ? ended.at : 0, held === null ? 0 : isKnown ? now : seen);
  return until - end > MOST_OVER ? 0 : Math.max(0, Math.round((until - end) / MINUTE));
}

const minutesOver = (rehearsal, went, now) => (went.over === null ? overByClock(rehearsal, went, now) : went.over);

// Turn "Not played" of a passage round; what is changed is said by hand from then on.
function turnNotPlayed(key) {
  const without = (keys) => keys.filter((one) => one !== key);
  shown.note((went) => {
    const { [key]: before, ...reached } = went.reached;
    if (notPlayed(shown.rehearsal, went, moment()).includes(key)) return { notDone: without(went.notDone), played: [...without(went.played), key] };
    return { reached, notDone: [...without(went.notDone), key], played: without(went.played) };
  });
}

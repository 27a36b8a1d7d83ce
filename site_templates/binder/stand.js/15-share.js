// ---- What is left of a rehearsal, shared: the same rules as handbook/domain/overrun.py ---------

// Whole things shared by weights, by the largest remainders; a tie goes to the earlier.
function largestRemainder(total, weights) {
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const shares = weights.map((weight) => Math.floor((total * weight) / whole));
  const rest = weights.map((weight) => (total * weight) % whole);
  const first = weights.map((_, place) => place).sort((one, other) => rest[other] - rest[one] || one - other);
  const given = shares.reduce((sum, share) => sum + share, 0);
  for (const place of first.slice(0, total - given)) shares[place] += 1;
  return shares;
}

// Minutes left until the end over the planned minutes ahead, of which the last are the close's:
// those stay as they are as long as there are so many.
// What is more than planned is the music's: `music` says which blocks before the last are.
function sharedToTheEnd(left, planned, music = []) {
  const others = planned.slice(0, -1), [close] = planned.slice(-1);
  const closes = Math.min(left, close);
  if (!others.some(Boolean)) return [...others, left];
  const rest = left - closes, whole = others.reduce((sum, minutes) => sum + minutes, 0);
  const growing = others.map((minutes, place) => (music[place] ? minutes : 0));
  if (rest > whole && growing.some(Boolean)) {
    const more = largestRemainder(rest - whole, growing);
    return [...others.map((minutes, place) => minutes + more[place]), closes];
  }
  return [...largestRemainder(rest, others), closes];
}

// The places of the blocks ahead that may be dropped: not the close, nor what begins now.
function placesToDrop(planned) {
  return planned.flatMap((minutes, place) => (minutes && place > 0 && place < planned.length - 1 ? [place] : []));
}

const without = (planned, dropped) => planned.map((minutes, place) => (place === dropped ? 0 : minutes));
const withoutLast = (planned) => without(planned, placesToDrop(planned).pop());

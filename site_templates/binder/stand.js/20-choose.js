// ---- Which rehearsal is shown by itself --------------------------------------------------------

const AFTER = 10 * MINUTE; // as long as a log may be written, unless the next one is near
const BEFORE = 2 * MINUTE; // between two classes there may be four

// The rehearsal that is on; for a while the one that just ended; else the next one; after all of
// them the last. Of two bands at once it is the one that was shown on this device before.
function rehearsalAt(now, rehearsals, usual) {
  const byUsual = (found) => found.find((one) => bandOf(one).id === usual) || found[0];
  const on = rehearsals.filter((one) => one.at <= now && now < endOf(one));
  if (on.length) return byUsual(on);
  const ahead = rehearsals.filter((one) => one.at > now);
  const next = ahead.length ? byUsual(ahead.filter((one) => one.at === ahead[0].at)) : null;
  const ended = rehearsals.filter((one) => endOf(one) <= now && now < endOf(one) + AFTER);
  if (ended.length && !(next && next.at - now <= BEFORE)) {
    const last = Math.max(...ended.map(endOf));
    return byUsual(ended.filter((one) => endOf(one) === last));
  }
  return next || rehearsals[rehearsals.length - 1];
}

const USUAL = "handbook-stand-band";
const usual = {
  band: null,
  read() {
    try { this.band = localStorage.getItem(USUAL); } catch { /* the first band, then */ }
    return this.band;
  },
  write(band) {
    this.band = band;
    try { localStorage.setItem(USUAL, band); } catch { /* until the page is closed */ }
  },
};
usual.read();

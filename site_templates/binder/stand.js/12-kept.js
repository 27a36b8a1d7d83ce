// ---- What is kept on the device: how a rehearsal went, so that a reload loses nothing ---------

// Windows of one browser keep it in one place: whoever changes it reads it afresh before.
const kept = {
  able: true, // until the device is seen to keep nothing
  memory: new Map(), // for then, until the page is closed
  name(rehearsal) { return `handbook-stand ${data.cycle} ${bandOf(rehearsal).id} ${rehearsal.at}`; },
  read(rehearsal) {
    const name = this.name(rehearsal);
    if (!this.able && this.memory.has(name)) return this.memory.get(name);
    try {
      return JSON.parse(localStorage.getItem(name)) || {};
    } catch { return {}; /* something else stands there */ }
  },
  write(rehearsal, went) {
    const name = this.name(rehearsal);
    this.memory.set(name, went);
    if (!this.able) return;
    try { localStorage.setItem(name, JSON.stringify(went)); } catch { this.able = false; }
  },
  test() {
    const name = "handbook-stand test";
    try {
      localStorage.setItem(name, name);
      this.able = localStorage.getItem(name) === name;
      localStorage.removeItem(name);
    } catch { this.able = false; }
  },
};
kept.test();

// How a rehearsal went: `turns` are the blocks that were begun by hand, `ended` is when a block that
// was held was let go, and which, `seen` when it was last seen held past the end. `reached`,
// `notDone` and `played` (though its blocks fell out) go by the names that passages have in a log,
// `over` is null until it is said by hand, and `saved` is the log file as it was saved last.
function howItWent(rehearsal) {
  const unsaid = { turns: [], held: null, ended: null, seen: 0, reached: {}, notDone: [], played: [], over: null, note: "", thanked: [], saved: "" };
  return { ...unsaid, ...kept.read(rehearsal) };
}

// ---- What is kept on the device: how a rehearsal went, so that a reload loses nothing ---------

const kept = {
  memory: new Map(), // where the device keeps nothing, until the page is closed
  name(rehearsal) { return `handbook-stand ${data.cycle} ${bandOf(rehearsal).id} ${rehearsal.at}`; },
  read(rehearsal) {
    const name = this.name(rehearsal);
    try {
      const text = localStorage.getItem(name);
      if (text) return JSON.parse(text);
    } catch { /* storage is refused, or holds something else: what is remembered stands */ }
    return this.memory.get(name) || {};
  },
  write(rehearsal, course) {
    const name = this.name(rehearsal);
    this.memory.set(name, course);
    try { localStorage.setItem(name, JSON.stringify(course)); } catch { /* remembered until the page is closed */ }
  },
};

// How a rehearsal went: `turns` are the blocks that were begun by hand, `reached` and `notDone`
// go by the names that passages have in a log.
function howItWent(rehearsal) {
  return { turns: [], held: null, reached: {}, notDone: [], over: 0, note: "", thanked: [], ...kept.read(rehearsal) };
}

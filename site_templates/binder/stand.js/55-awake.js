// ---- The screen stays on around a rehearsal, where the device lets a page ask for it -------------

const awake = {
  lock: null,
  async keep(wanted) {
    if (!navigator.wakeLock || document.hidden || !wanted === !(this.lock && !this.lock.released)) return;
    try {
      if (wanted) this.lock = await navigator.wakeLock.request("screen");
      else { await this.lock.release(); this.lock = null; }
    } catch { /* a low battery, or a policy: the screen may go dark */ }
  },
};

const AROUND = 15 * MINUTE;
const isNear = (rehearsal, now) => rehearsal.at - AROUND <= now && now < endOf(rehearsal) + AROUND;

// ---- The bell: the clock of a device may be off by minutes, and one tap at a bell sets it ---------

const BELL_NEAR = 20 * MINUTE; // a clock that is off by more is to be set on the device
const FAR = 60; // days before the first rehearsal, or after all of the cycle

// By how many seconds the bell is ahead of the device, kept for the day, for all windows.
const schoolBell = {
  NAME: "handbook-stand-bell",
  by: 0,
  day: "",

  read() {
    this.by = 0;
    this.day = today();
    try {
      const { day, by } = JSON.parse(localStorage.getItem(this.NAME)) || {};
      if (day === this.day && Math.abs(by) <= BELL_NEAR) this.by = by;
    } catch { /* the device's own time */ }
  },

  set(by) {
    this.by = by;
    try { localStorage.setItem(this.NAME, JSON.stringify({ day: this.day, by })); } catch { /* until the page is closed */ }
    redraw();
    this.show();
  },

  // The start or end of a class that is nearest to what the device shows, if any is near.
  nearest() {
    const now = Date.now() / 1000;
    const bells = data.rehearsals.flatMap((one) => [one.at, endOf(one)]).filter((at) => Math.abs(at - now) <= BELL_NEAR);
    return bells.sort((one, other) => Math.abs(one - now) - Math.abs(other - now))[0];
  },

  ring() {
    const bell = this.nearest();
    if (bell === undefined) return;
    this.set(Math.ceil(bell - Date.now() / 1000));
    const rehearsal = data.rehearsals.find((one) => one.at === bell || endOf(one) === bell);
    say(gettext("The clock is set to %(clock)s for today.", { clock: clockAt(rehearsal, bell) }));
  },

  show() {
    document.querySelector("[data-bell]").hidden = this.nearest() === undefined;
    document.querySelector("[data-no-bell]").hidden = !this.by;
  },

  tick() {
    if (this.day !== today()) this.read();
    this.show();
  },

  listen() {
    document.querySelector("[data-bell]").addEventListener("click", () => this.ring());
    document.querySelector("[data-no-bell]").addEventListener("click", () => this.set(0));
    window.addEventListener("storage", ({ key }) => {
      if (key !== null && key !== this.NAME) return;
      this.read();
      if (shown.rehearsal) redraw();
      this.show();
    });
  },
};
schoolBell.read();
schoolBell.listen();

// A line where the device's date lies far from all of the cycle: it may have lost its time.
function drawFarDate() {
  const days = [...data.rehearsals, ...data.concerts].map(({ day }) => dayNumber(day));
  const day = today(), number = dayNumber(day);
  if (data.alone || (number >= Math.min(...days) - FAR && number <= Math.max(...days) + FAR)) return [];
  const date = besides(writtenDay(day, "fullDay"), day.slice(0, 4));
  return [element("p", "unsafe", gettext("This device says %(date)s. That lies far from this cycle.", { date }))];
}

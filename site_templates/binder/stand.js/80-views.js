// ---- Two views of one file: the stand, and the class screen -------------------------------------

// A view draws itself into its place: `draw` when what it shows is another, `tick` each second.
const views = {
  now: "stand",
  known: new Map(),

  add(name, view) { this.known.set(name, view); },

  placeOf: (name) => document.querySelector(`[data-place="${name}"]`),

  show(name) {
    const before = this.known.get(this.now);
    if (before && before.leave) before.leave();
    this.now = name;
    for (const one of all("button[data-view]")) one.setAttribute("aria-pressed", String(one.dataset.view === name));
    for (const place of all("[data-place][data-place]", document.getElementById("main"))) {
      if (this.known.has(place.dataset.place)) place.hidden = place.dataset.place !== name;
    }
    document.documentElement.dataset.view = name;
    showStop();
    redraw();
  },

  listen() {
    for (const one of all("button[data-view]")) {
      one.hidden = !this.known.has(one.dataset.view);
      one.addEventListener("click", () => this.show(one.dataset.view));
    }
    document.querySelector("[data-views]").hidden = this.known.size < 2;
  },
};

const RESTING = 10; // seconds without a touch, and the page may move by itself

// A button that is under a finger is not drawn anew before its tap is over.
const finger = {
  lastAt: 0, // when the page was touched, turned or typed on last, in seconds since 1970
  inLogAt: 0, // and when in a log
  isDown: false,
  isAwaited: false,
  // Whether the director was writing the log within the last minute.
  isInLog() { return moment() - this.inLogAt < MINUTE; },
  isResting() { return !this.isDown && moment() - this.lastAt >= RESTING && !document.activeElement.matches("input, textarea, select"); },
  listen() {
    for (const name of ["pointerdown", "wheel", "touchmove", "keydown"]) {
      document.addEventListener(name, ({ target }) => {
        this.lastAt = moment();
        if (target instanceof Element && target.closest(".log")) this.inLogAt = this.lastAt;
      }, { passive: true, capture: true });
    }
    document.addEventListener("pointerdown", ({ button: which }) => {
      this.isDown = which === 0;
      clearTimeout(this.most);
      this.most = setTimeout(() => this.lift(), 2000);
    });
    // The click comes after the finger is up, and a field that it leaves is read before it.
    for (const name of ["pointerup", "pointercancel"]) {
      document.addEventListener(name, () => {
        clearTimeout(this.most);
        this.most = setTimeout(() => this.lift(), 300);
      });
    }
    document.addEventListener("click", () => this.lift(), true);
  },
  lift() {
    clearTimeout(this.most);
    this.isDown = false;
    // The click mostly draws anew by what it does.
    setTimeout(() => { if (this.isAwaited && !this.isDown) redraw(); });
  },
};
finger.listen();

function redraw() {
  finger.isAwaited = finger.isDown;
  if (finger.isDown) return;
  const before = document.activeElement, focused = before && before.dataset.key;
  const caret = before && before.matches("textarea, .bpm") ? [before.selectionStart, before.selectionEnd] : null;
  const typed = before && before.isTyped ? before.value : null;
  if (before) before.isTyped = false;
  const view = views.known.get(views.now), place = views.placeOf(views.now);
  drawHead();
  view.draw(place, shown.rehearsal);
  view.tick(place, shown.rehearsal, moment());
  if (!focused || document.activeElement !== document.body) return;
  const again = all("[data-key]").find((one) => one.dataset.key === focused && !one.disabled);
  (again || document.getElementById("main")).focus({ preventScroll: true });
  // What is half typed stays under the hand, or is taken where its block has gone.
  if (typed !== null && again) Object.assign(again, { value: typed, isTyped: true });
  else if (typed !== null) {
    before.isTyped = true;
    before.take();
  }
  if (caret && again) again.setSelectionRange(...caret);
}

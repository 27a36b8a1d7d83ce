// ---- From the class screen back to the stand: never by one key, with the class before it ---------

const wayBack = {
  SHOWN: 15000, TOLD: 8000, PRESSED: 700, TWICE: 1000, // milliseconds
  escaped: -Infinity,

  get views() { return document.querySelector("[data-views]"); },

  // The switch comes last in the order of keys, and is not there until it is asked for.
  keep() {
    const { views: both } = this, main = document.getElementById("main");
    if (both.parentElement === main) return;
    const how = gettext("Back to the stand: hold a finger on the screen, or press Escape twice.");
    const hint = element("p", "class-hint", how);
    main.append(hint, both);
    setTimeout(() => hint.remove(), this.TOLD);
  },

  give() {
    for (const hint of all(".class-hint")) hint.remove();
    this.views.classList.remove("is-asked");
    document.querySelector(".stand-head").prepend(this.views);
  },

  ask() {
    if (views.now !== "class") return;
    this.views.classList.add("is-asked");
    clearTimeout(this.gone);
    this.gone = setTimeout(() => this.views.classList.remove("is-asked"), this.SHOWN);
  },

  listen() {
    document.addEventListener("keydown", ({ key, repeat }) => {
      if (repeat) return;
      const now = performance.now();
      if (key === "Escape" && now - this.escaped < this.TWICE) this.ask();
      this.escaped = key === "Escape" ? now : -Infinity;
    });
    document.addEventListener("pointerdown", ({ target }) => {
      clearTimeout(this.pressed);
      if (!target.closest("button")) this.pressed = setTimeout(() => this.ask(), this.PRESSED);
    });
    for (const name of ["pointerup", "pointercancel"]) document.addEventListener(name, () => clearTimeout(this.pressed));
  },
};
wayBack.listen();

// ---- Which window of this browser shows the class screen, and what the stand asks of it ----------

const classWindows = {
  SHOWN: "handbook-class-screen", PLAYED: "handbook-class-play",
  WHILE: 4, // seconds: each window tells once a second that it is there
  own: String(Math.random()),

  write(name, value) {
    try { localStorage.setItem(name, JSON.stringify(value)); } catch { /* windows then know nothing of each other */ }
  },
  read(name) {
    try { return JSON.parse(localStorage.getItem(name)) || {}; } catch { return {}; }
  },

  tell() { if (!document.hidden) this.write(this.SHOWN, { by: this.own, cycle: data.cycle, at: moment() }); },
  forget() {
    if (this.read(this.SHOWN).by === this.own) this.write(this.SHOWN, {});
  },

  get isElsewhere() {
    const { by, cycle, at } = this.read(this.SHOWN);
    const ago = moment() - at;
    return Boolean(by) && by !== this.own && cycle === data.cycle && ago >= 0 && ago < this.WHILE;
  },

  // One tap on the stand: the window on the projector plays, or this one turns to the class and does.
  play() {
    const { rehearsal } = shown;
    if (this.isElsewhere) {
      this.write(this.PLAYED, { cycle: data.cycle, rehearsal: data.rehearsals.indexOf(rehearsal), at: moment(), by: this.own });
      say(gettext("The class screen plays the warm-up."));
      return;
    }
    views.show("class");
    this.start(rehearsal);
  },

  start(rehearsal) {
    const track = warmUps.of(rehearsal);
    if (track && !sound.isOn(track)) playWarmUp(rehearsal, track);
  },

  // What another window asked for.
  take() {
    const { cycle, rehearsal: place } = this.read(this.PLAYED), rehearsal = data.rehearsals[place];
    if (views.now !== "class" || cycle !== data.cycle || !rehearsal) return;
    if (rehearsal !== shown.rehearsal) shown.choose(rehearsal);
    this.start(rehearsal);
  },
};

window.addEventListener("storage", ({ key }) => { if (key === classWindows.PLAYED) classWindows.take(); });
window.addEventListener("pagehide", () => { if (views.now === "class") classWindows.forget(); });

"use strict";
// One player for the page, at its foot: it sounds one thing at a time, a passage's click, a held
// note or a warm-up, and stays in sight until it is closed.
(() => {
  const sound = window.handbookSound;
  const { BeatRow, Passage } = window.handbookClick, { HeldNote } = window.handbookDrone;
  const { WarmUp } = window.handbookWarmUp || {};
  const LONG = 16; // letters of a message that leave no room for the tempo to reach
  const page = document.documentElement;
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const template = document.getElementById("player-parts");
  const passages = new Map(); // by the address of the passage on this page

  if (!template) return;
  if (!sound.able) {
    for (const place of all("[data-click], [data-drone], [data-click-for], [data-warm-up]")) place.classList.add("is-plain");
    return;
  }

  function partsOf(within) {
    const parts = {};
    for (const item of all("*", within)) for (const part in item.dataset) parts[part] = item;
    return parts;
  }

  const labelOf = (on, what) => (on ? pgettext("sound", "Stop %(what)s", { what }) : pgettext("sound", "Play %(what)s", { what }));

  // ---- The screen stays on while something sounds, where the device lets a page ask for it ----

  const light = {
    wanted: false,
    lock: null,
    async keep(wanted) {
      this.wanted = wanted;
      if (!wanted) {
        if (this.lock) this.lock.release().catch(() => {});
        this.lock = null;
      } else if (navigator.wakeLock && !document.hidden && !(this.lock && !this.lock.released)) {
        try {
          const lock = await navigator.wakeLock.request("screen");
          if (this.wanted && !(this.lock && !this.lock.released)) this.lock = lock; else await lock.release();
        } catch { /* a low battery, or a policy: the screen may go dark, the sound goes on */ }
      }
    },
  };
  document.addEventListener("visibilitychange", () => { if (light.wanted) light.keep(true); });

  // ---- The bar ----

  const bar = {
    track: null, // what it shows
    on: false, // whether that sounds
    button: null, // where it was started

    build() {
      const copy = template.content.cloneNode(true);
      Object.assign(this, partsOf(copy));
      this.stop = this.stop.bind(this);
      document.body.append(copy);
      this.toPlayer.remove();
      this.places = new BeatRow(this.beatRow);
      new ResizeObserver(() => this.makeRoom()).observe(this.bar);
      this.volume.value = sound.volume();
      this.listen();
    },

    listen() {
      const tap = (control, act) => control.addEventListener("click", act);
      const change = (control, act) => control.addEventListener("change", act);
      tap(this.play, () => this.toggle(this.track, this.button));
      tap(this.close, () => this.shut());
      tap(this.options, () => this.unfold(this.sheet.hidden));
      tap(this.slower, () => this.track.setBpm(this.track.slower));
      tap(this.faster, () => this.track.setBpm(this.track.faster));
      tap(this.clean, () => this.track.clean());
      tap(this.next, () => this.goOn());
      if (WarmUp) {
        tap(this.stepBack, () => this.track.back());
        tap(this.skip, () => this.track.skip());
      }
      tap(this.week, () => this.track.setBpm(this.track.week));
      tap(this.goal, () => this.track.setBpm(this.track.data.goal));
      change(this.divide, () => this.track.divide(Number(this.divide.value)));
      change(this.meter, () => this.track.restart({ meter: Number(this.meter.value) }));
      change(this.change, () => this.track.restart({ change: this.change.checked }));
      change(this.accent, () => { this.track.choices.accent = this.accent.checked; this.track.renew(); });
      change(this.countIn, () => { this.track.choices.countIn = this.countIn.checked; });
      change(this.octave, () => { this.track.choices.octave = Number(this.octave.value); this.track.sound(); });
      change(this.pure, () => { this.track.choices.pure = this.pure.checked; this.track.sound(); });
      this.volume.addEventListener("input", () => sound.setVolume(this.volume.value));
      document.addEventListener("keydown", (event) => this.key(event));
    },

    // Escape stops it from anywhere; + and - change the tempo of what has the focus, arrows the
    // step of a warm-up.
    key(event) {
      const { target, key } = event;
      if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
      if (key === "Escape" && this.on && !document.querySelector("dialog[open]")) {
        this.stop();
        if (this.bar.contains(target)) this.back();
      }
      const here = this.bar.contains(target) || target === this.button;
      if (!here || !this.track || target.matches("select, input")) return;
      if (this.track.key(key)) event.preventDefault();
    },

    beats(of) { this.places.lay(of); },
    beat(due) { this.places.show(due, this.track.run.score); },

    toggle(track, button) {
      if (this.on && this.track === track) this.stop(); else this.start(track, button);
    },

    async start(track, button) {
      if (this.on) this.track.end();
      const same = this.track === track;
      const before = this.track;
      Object.assign(this, { track, button, on: true });
      this.open();
      if (before && !same) this.showButtons(before);
      if (!same || this.drawn !== track) this.fill();
      this.show();
      const tap = this.tap = {};
      const opened = await sound.open();
      if (!this.on || tap !== this.tap) return;
      if (!opened) {
        this.on = false;
        this.show();
        this.say(gettext("No sound yet. Tap again."));
        return;
      }
      sound.add(this.stop);
      light.keep(true);
      track.begin(opened);
    },

    stop() {
      if (!this.on) return;
      this.on = false;
      this.track.end();
      sound.remove(this.stop);
      light.keep(false);
      this.show();
      this.say(this.track.stopped);
      this.beats(this.track.beatsShown);
    },

    say(text) {
      this.state.textContent = text;
      this.stateShown.textContent = text;
      if (this.track.kind === "click") this.aim.parentNode.hidden = text.length > LONG;
    },

    // ---- Its place on the page ----

    open() {
      if (!this.bar.hidden) return;
      this.bar.hidden = false;
      page.classList.add("has-player");
      this.makeRoom();
      const { activeElement } = document; // nothing that has the focus may lie under the bar
      if (activeElement.getBoundingClientRect().bottom > this.bar.getBoundingClientRect().top) activeElement.scrollIntoView({ block: "center" });
    },

    makeRoom() { page.style.setProperty("--player-room", `${this.bar.offsetHeight}px`); },

    unfold(open) {
      this.sheet.hidden = !open;
      this.options.setAttribute("aria-expanded", String(open));
    },

    back() {
      if (this.button && this.button.isConnected && this.button.checkVisibility?.() !== false) this.button.focus();
    },

    shut() {
      this.stop();
      if (this.track.kind === "warm-up") this.track.reset();
      this.showButtons(this.track);
      this.unfold(false);
      this.bar.hidden = true;
      page.classList.remove("has-player");
      this.toPlayer.remove();
      this.back();
    },

    // ---- What it shows ----

    // The next passage of the list it was started from, or of the page.
    following() {
      if (!this.button) return null;
      const list = this.button.closest("[data-play-list]") || document.querySelector("main");
      const buttons = all("[data-starts]", list).filter((button) => button.track.kind === "click" && button.track !== this.track);
      return buttons.find((button) => this.button.compareDocumentPosition(button) & Node.DOCUMENT_POSITION_FOLLOWING);
    },

    // To the next passage, with its fold open and in sight.
    goOn() {
      const button = this.following();
      if (!button) return;
      for (let fold = button.closest("details"); fold; fold = fold.parentNode.closest("details")) fold.open = true;
      button.scrollIntoView({ block: "nearest" });
      this.start(button.track, button);
    },

    // Once for each thing that is started: its title, its choices, the places of its beats.
    fill() {
      const { track } = this;
      this.drawn = track;
      this.title.textContent = track.title;
      for (const part of all("[data-for]", this.bar)) part.hidden = part.dataset.for !== track.kind;
      this.facts.replaceChildren(...(track.kind === "drone" ? track.facts : []));
      this.toneRow.replaceChildren();
      this.beats(track.beatsShown);
      if (track.kind === "click") {
        const { meters, change, sign } = track.data;
        this.sign.textContent = sign;
        this.week.hidden = !track.week;
        this.change.parentNode.hidden = !change;
        this.meter.replaceChildren(...meters.map(({ name }, value) => new Option(name || gettext("as written"), value)));
        this.meter.parentNode.hidden = meters.length < 2;
      }
      if (track.kind === "drone") this.fillTones(track);
    },

    fillTones(track) {
      this.tones = track.data.tones.map(([shown, spoken], tone) => {
        const button = this.tonePart.content.firstElementChild.cloneNode(true);
        const { label, toneName } = partsOf(button);
        label.textContent = shown;
        toneName.textContent = spoken;
        button.addEventListener("click", () => track.choose(tone));
        return button;
      });
      this.toneRow.append(...this.tones);
    },

    show() {
      const { track, on } = this;
      if (!track) return;
      this.showButtons(track);
      if (this.drawn !== track) return;
      this.play.classList.toggle("is-on", on);
      this.playName.textContent = labelOf(on, track.spoken);
      if (track.kind === "drone") {
        this.tones.forEach((button, tone) => button.setAttribute("aria-pressed", String(track.choices.tones.has(tone))));
      } else if (track.kind === "warm-up") this.time();
      else this.showClick(track);
    },

    // How long a warm-up still goes on.
    time() {
      this.left.textContent = this.track.clock;
    },

    showClick(track) {
      this.mark.textContent = track.text;
      this.aim.textContent = track.aim;
      this.slower.setAttribute("aria-disabled", String(!track.slower));
      this.faster.setAttribute("aria-disabled", String(!track.faster));
      this.week.setAttribute("aria-pressed", String(track.bpm === track.week));
      this.goal.setAttribute("aria-pressed", String(track.bpm === track.data.goal));
      [...this.cleanDots.children].forEach((dot, n) => dot.classList.toggle("is-on", n < track.times));
      this.cleanName.textContent = track.cleanly;
      const next = this.following();
      if (!next && document.activeElement === this.next) this.play.focus();
      this.next.classList.toggle("is-none", !next); // its place is kept
      if (next) this.nextName.textContent = next.track.title;
      const { divisions } = track.layout;
      this.divide.replaceChildren(...[[gettext("beats only"), 0], ...divisions].map(([name, ticks]) => new Option(name, ticks)));
      this.divide.value = track.division;
      this.meter.value = track.meter;
      this.meter.disabled = this.change.checked = track.change;
    },

    showButtons(track) {
      const on = this.on && this.track === track;
      for (const button of track.buttons) {
        button.classList.toggle("is-on", on);
        if (track.kind === "warm-up") button.parts.label.textContent = on ? gettext("Stop this warm-up") : gettext("Play this warm-up");
        else button.parts.playName.textContent = labelOf(on, besides(track.spoken, track.kind === "click" && track.title));
        if (button.parts.mark) button.parts.mark.textContent = track.text;
      }
      if (track.kind === "warm-up") this.showSteps(track);
      if (!on || !this.button) return;
      this.button.parentNode.classList.add("has-way");
      this.toPlayer.classList.toggle("at-end", this.button.getBoundingClientRect().left > window.innerWidth / 2);
      this.button.after(this.toPlayer);
    },

    // The step of a warm-up that is played, or at which it goes on. Who has looked on so far sees
    // the next one too.
    showSteps(track) {
      const before = track.items.find((item) => item.classList.contains("is-played"));
      const follows = this.on && before && before !== track.items[track.place] && this.isInSight(before);
      track.items.forEach((item, place) => {
        const now = track.begun && place === track.place;
        item.classList.toggle("is-played", now);
        if (now) item.setAttribute("aria-current", "step"); else item.removeAttribute("aria-current");
      });
      if (follows) track.items[track.place].scrollIntoView({ block: "nearest" });
    },

    isInSight(item) {
      const { top, bottom } = item.getBoundingClientRect();
      return bottom > 0 && top < this.bar.getBoundingClientRect().top;
    },
  };

  // ---- The buttons of the page ----

  function button(track, kind) {
    const made = document.getElementById(`${kind}-button`).content.firstElementChild.cloneNode(true);
    Object.assign(made, { track, parts: partsOf(made) });
    if (made.parts.sign) made.parts.sign.textContent = track.data.sign;
    if (made.parts.role) {
      const [before, name, behind] = track.data.label;
      made.parts.before.textContent = before;
      made.parts.label.textContent = name;
      made.parts.behind.textContent = behind;
      made.parts.role.textContent = `(${track.data.role})`;
    }
    if (kind === "warm-up") made.parts.playName.textContent = track.title;
    made.addEventListener("click", () => bar.toggle(track, made));
    track.buttons.push(made);
    bar.showButtons(track);
    return made;
  }

  function track(Kind, data, facts) {
    return Object.assign(new Kind(data, bar), { buttons: [], facts });
  }

  bar.build();
  for (const place of all("[data-click]")) {
    const passage = track(Passage, JSON.parse(place.dataset.click), [...place.children]);
    const near = place.closest("[id]");
    if (near) passages.set(near.id, passage);
    place.replaceChildren(button(passage, "click"));
  }
  for (const place of all("[data-drone]")) {
    const facts = [...place.children];
    place.replaceChildren(...JSON.parse(place.dataset.drone).notes.map((note) => button(track(HeldNote, note, facts), "drone")));
  }

  for (const place of all("[data-warm-up]")) {
    const items = all(".steps-list > li", place);
    const recordings = new Map(items.flatMap((item, number) => all("audio[data-step-sound]", item).map((sound) => [number, sound])));
    const made = Object.assign(new WarmUp(JSON.parse(place.dataset.warmUp), bar, items, recordings), { buttons: [] });
    place.querySelector(".warm-up-start").replaceChildren(button(made, "warm-up"));
  }

  // A second button for a passage that has its click elsewhere on the page, or null.
  const another = (id) => (passages.has(id) ? button(passages.get(id), "row") : null);
  for (const place of all("[data-click-for]")) {
    const made = another(place.dataset.clickFor);
    if (made) place.replaceChildren(made);
  }
  window.handbookPlayer = { button: another };
})();

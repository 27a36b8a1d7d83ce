// ---- What is shown: a rehearsal, the block that is on, or one that is looked at -----------------

const shown = {
  rehearsal: null,
  chosen: false, // by hand, and so kept until the director says otherwise
  went: null, // how it went so far
  course: null,
  looked: null, // the place of a block that is looked at though it is not on
  choosing: false, // whether the foot of the card asks what to do when class is late

  take(rehearsal) {
    if (this.rehearsal === rehearsal) return;
    this.leave();
    sound.stop();
    this.rehearsal = rehearsal;
    this.went = howItWent(rehearsal);
    this.course = courseOf(rehearsal, this.went);
    this.looked = null;
    this.choosing = false;
  },

  // A block that is held past the end and never let go: the last moment it was seen counts.
  leave() {
    const now = Math.floor(moment());
    if (!this.rehearsal || this.went.held === null) return;
    if (endOf(this.rehearsal) < now && now <= endOf(this.rehearsal) + MOST_OVER) this.note({ seen: now }, false);
  },

  choose(rehearsal) {
    this.chosen = true;
    usual.write(bandOf(rehearsal).id);
    finger.inLogAt = 0;
    this.take(rehearsal);
    redraw();
    window.scrollTo(0, 0);
  },

  follow() {
    this.chosen = false;
    finger.inLogAt = 0; // who goes on has written it
    this.take(rehearsalAt(moment(), data.rehearsals, usual.band));
    redraw();
    window.scrollTo(0, 0);
  },

  // Note how it goes, and show it. What another window noted meanwhile stays: a change that is
  // made of what stood before is a function of it.
  note(change, isDrawn = true) {
    const went = howItWent(this.rehearsal);
    this.went = { ...went, ...(typeof change === "function" ? change(went) : change) };
    kept.write(this.rehearsal, this.went);
    this.course = courseOf(this.rehearsal, this.went);
    if (isDrawn) redraw();
  },

  // What another window noted is shown here too.
  again() {
    this.went = howItWent(this.rehearsal);
    this.course = courseOf(this.rehearsal, this.went);
    redraw();
  },

  // The block that the band is on: one that is held stays on when its time is over.
  get on() {
    const { held } = this.went;
    const place = blockAt(this.course, moment());
    return held !== null && held <= place ? held : place;
  },

  begin(block, drop = false) {
    this.looked = null;
    this.choosing = false;
    const turn = { block, at: Math.floor(moment()), drop };
    this.note(({ turns }) => ({ turns: [...turns, turn], held: null }));
    say(gettext("The end stays %(clock)s.", { clock: clockAt(this.rehearsal, endOf(this.rehearsal)) }));
  },

  chooseDrop(isOpen) {
    this.choosing = isOpen;
    redraw();
    const first = document.querySelector(isOpen ? ".is-choice button" : "[data-key='late']");
    if (first) first.focus({ preventScroll: true });
  },

  undo() { this.note(({ turns }) => ({ turns: turns.slice(0, -1), held: null })); },

  // Hold a block, or let it go with null: then that moment and the block are remembered.
  hold(block) {
    this.looked = null;
    const at = Math.floor(moment());
    this.note(({ held }) => ({ held: block, ended: block === null && held !== null ? { at, block: held } : null }));
  },

  look(block) {
    this.looked = block === this.on ? null : block;
    redraw();
    const card = document.querySelector(".card");
    if (card) card.scrollIntoView({ block: "nearest" });
  },
};

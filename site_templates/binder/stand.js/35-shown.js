// ---- What is shown: a rehearsal, the block that is on, or one that is looked at -----------------

const shown = {
  rehearsal: null,
  chosen: false, // by hand, and so kept until the director says otherwise
  went: null, // how it went so far
  course: null,
  looked: null, // the place of a block that is looked at though it is not on

  take(rehearsal) {
    if (this.rehearsal === rehearsal) return;
    sound.stop();
    this.rehearsal = rehearsal;
    this.went = howItWent(rehearsal);
    this.course = courseOf(rehearsal, this.went);
    this.looked = null;
  },

  choose(rehearsal) {
    this.chosen = true;
    usual.write(bandOf(rehearsal).id);
    this.take(rehearsal);
    redraw();
  },

  follow() {
    this.chosen = false;
    this.take(rehearsalAt(moment(), data.rehearsals, usual.band));
    redraw();
  },

  // Note how it goes, and show it.
  note(change) {
    Object.assign(this.went, change);
    kept.write(this.rehearsal, this.went);
    this.course = courseOf(this.rehearsal, this.went);
    redraw();
  },

  // The block that the band is on: one that is held stays on when its time is over.
  get on() {
    const { held } = this.went;
    const place = blockAt(this.course, moment());
    return held !== null && held <= place ? held : place;
  },

  begin(block, drop) {
    this.looked = null;
    const turn = { block, at: Math.floor(moment()), drop };
    this.note({ turns: [...this.went.turns, turn], held: null });
    say(gettext("The end stays %(clock)s.", { clock: clockAt(this.rehearsal, endOf(this.rehearsal)) }));
  },

  undo() { this.note({ turns: this.went.turns.slice(0, -1), held: null }); },

  hold(block) {
    this.looked = null;
    this.note({ held: block });
  },

  look(block) {
    this.looked = block === this.on ? null : block;
    redraw();
    const card = document.querySelector(".card");
    if (card) card.scrollIntoView({ block: "nearest" });
  },
};

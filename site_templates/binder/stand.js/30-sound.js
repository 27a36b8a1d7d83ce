// ---- What sounds: the click of a passage or a held note, one at a time --------------------------

const SHOWN_GAP = 0.35; // seconds

const sound = {
  track: null,
  on: false,
  tap: null,
  tracks: new Map(),
  changed: () => {}, // told whenever a button must look another way
  shownAt: 0,

  // A small sign goes from side to side with the beat, but never more than three times a second.
  beat(due) {
    if (due.at - this.shownAt < SHOWN_GAP && due.at >= this.shownAt) return;
    this.shownAt = due.at;
    for (const sign of all(".beat")) {
      sign.classList.toggle("is-there");
      sign.classList.toggle("is-first", due.stress > 2);
    }
  },

  // What a track tells, as the player of the site's pages is told.
  bar: {
    show: () => sound.changed(),
    say: (text) => say(text),
    beats: () => {},
    beat: (due) => sound.beat(due),
  },

  get able() { return window.handbookSound.able; },

  clickOf(key, click) {
    if (!this.tracks.has(key)) this.tracks.set(key, new window.handbookClick.Passage(click, this.bar));
    return this.tracks.get(key);
  },

  droneOf(key, note) {
    if (!this.tracks.has(key)) this.tracks.set(key, new window.handbookDrone.HeldNote(note, this.bar));
    return this.tracks.get(key);
  },

  isOn(track) { return this.on && this.track === track; },

  toggle(track) {
    if (this.isOn(track)) this.stop(); else this.start(track);
  },

  async start(track) {
    if (this.on) this.track.end();
    this.track = track;
    this.on = true;
    this.changed();
    const tap = this.tap = {};
    const opened = await window.handbookSound.open();
    if (!this.on || tap !== this.tap) return;
    if (!opened) {
      this.on = false;
      this.changed();
      say(gettext("No sound yet. Tap again."));
      return;
    }
    window.handbookSound.add(stopSound);
    track.begin(opened);
  },

  stop() {
    if (!this.on) return;
    this.on = false;
    this.track.end();
    window.handbookSound.remove(stopSound);
    this.changed();
    say(this.track.stopped);
  },
};

const stopSound = () => sound.stop();

// Whatever sounds is stopped in the same place, on both screens and in whatever block one is; but
// where the warm-up plays on its own screen, its own buttons are there.
const stopButton = document.querySelector("[data-stop]");
stopButton.addEventListener("click", stopSound);

function showStop() {
  const isAtHome = sound.on && sound.track.kind === "warm-up" && views.now === "class";
  stopButton.hidden = !sound.on || isAtHome;
  if (!sound.on) return;
  const what = pgettext("sound", "Stop %(what)s", { what: sound.track.title });
  stopButton.textContent = `■ ${what}`;
}

document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && sound.on) sound.stop();
});

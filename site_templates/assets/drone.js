"use strict";
// A held note to tune against, with the third and the fifth above it, tempered or pure.
(() => {
  const ATTACK = 0.04, RELEASE = 0.05; // seconds to nearly two thirds; nothing clicks
  const LEVEL = 0.22; // of each of up to three notes
  const PARTIALS = [0, 1, 0.5, 0.35, 0.25, 0.15, 0.1, 0.06, 0.04]; // enough to hear it on a phone
  const WRITTEN_OCTAVE = 3; // of the frequencies in the page

  const hertzOf = (root, octave, semitones, cents) => root * 2 ** (octave - WRITTEN_OCTAVE + (semitones + cents / 100) / 12);

  // One voice on any audio context, from `at`; gives the function that lets it go.
  function voice(context, output, hertz, at) {
    const oscillator = context.createOscillator();
    const gain = context.createGain();
    oscillator.setPeriodicWave(context.createPeriodicWave(new Float32Array(PARTIALS.length), Float32Array.from(PARTIALS)));
    oscillator.frequency.value = hertz;
    gain.gain.setValueAtTime(0, at);
    gain.gain.setTargetAtTime(LEVEL, at, ATTACK);
    oscillator.connect(gain).connect(output);
    oscillator.start(at);
    return (end) => {
      gain.gain.setTargetAtTime(0, end, RELEASE);
      oscillator.stop(end + RELEASE * 10);
    };
  }

  const sound = window.handbookSound;
  let playing = null;

  class Drone {
    constructor({ notes }, words, parts) {
      Object.assign(this, parts, { notes, words, voices: new Map(), note: null, chosen: new Set([0]) });
      this.buttons = notes.map((_, index) => this.button(this.noteRow, () => this.toggle(index)));
      this.tones = notes[0].tones.map((_, tone) => this.button(this.toneRow, () => this.choose(tone)));
      for (const control of [this.octave, this.pure]) control.addEventListener("change", () => this.sound());
      this.stop = this.stop.bind(this);
      this.show();
    }

    button(within, act) {
      const button = within.querySelector("template").content.firstElementChild.cloneNode(true);
      button.addEventListener("click", act);
      within.append(button);
      return button;
    }

    show() {
      const { words } = this;
      const write = (button, texts) => {
        for (const [part, text] of Object.entries(texts)) button.querySelector(`[data-${part}]`).textContent = text;
      };
      for (const [index, button] of this.buttons.entries()) {
        const { name, spoken, role } = this.notes[index];
        const on = this.note === index;
        button.classList.toggle("is-on", on);
        write(button, { label: name, role, name: `${on ? words.stop : words.play} ${spoken}, ${role}` });
      }
      const { tones } = this.notes[this.note || 0];
      for (const [tone, button] of this.tones.entries()) {
        button.hidden = !tones[tone];
        if (button.hidden) continue;
        const [kind, name, spoken] = tones[tone];
        button.setAttribute("aria-pressed", String(this.chosen.has(tone)));
        write(button, { label: `${kind} ${name}`, name: `${kind}, ${spoken}` });
      }
    }

    say(text) { this.state.textContent = text; }

    choose(tone) {
      if (this.chosen.has(tone)) this.chosen.delete(tone); else this.chosen.add(tone);
      if (!this.chosen.size) this.chosen.add(0);
      this.show();
      this.sound();
    }

    async toggle(index) {
      if (this.note === index) { this.stop(); return; }
      if (playing && playing !== this) playing.stop();
      playing = this;
      this.note = index;
      this.show();
      const opened = await sound.open();
      if (playing !== this || this.note !== index) return;
      if (!opened) { this.silence(); this.say(this.words.refused); return; }
      this.opened = opened;
      sound.add(this.stop);
      this.sound();
      this.say(`${this.words.playing} ${this.notes[index].spoken}`);
    }

    // Let go of the voices that are no longer wanted and begin those that are.
    sound() {
      if (this.note === null || !this.opened) return;
      const { context, output } = this.opened;
      const { hertz, tones } = this.notes[this.note];
      const wanted = tones.filter((_, tone) => this.chosen.has(tone)).map(([, , , semitones, cents]) => (
        hertzOf(hertz, this.octave.value, semitones, this.pure.checked ? cents : 0)));
      const now = context.currentTime + 0.02;
      for (const [pitch, release] of this.voices) if (!wanted.includes(pitch)) { release(now); this.voices.delete(pitch); }
      for (const pitch of wanted) if (!this.voices.has(pitch)) this.voices.set(pitch, voice(context, output, pitch, now));
    }

    silence() {
      if (this.opened) for (const release of this.voices.values()) release(this.opened.context.currentTime + 0.03);
      this.voices.clear();
      this.note = this.opened = null;
      if (playing === this) playing = null;
      this.show();
    }

    stop() {
      if (this.note === null) return;
      this.silence();
      sound.remove(this.stop);
      this.say(this.words.stopped);
    }
  }

  sound.mount("drone", Drone);
  window.handbookDrone = { hertzOf, voice };
})();

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

  const choices = { tones: new Set([0]), octave: WRITTEN_OCTAVE, pure: true }; // for every note of the page

  // One note to hold; `bar` is told what changes: show(), say(text).
  class HeldNote {
    constructor(data, bar) { Object.assign(this, { data, bar, voices: new Map(), opened: null }); }

    get kind() { return "drone"; }
    get choices() { return choices; }
    get title() { return this.data.title; }
    get note() { return this.data.note; }
    get spoken() { return this.data.spoken; }
    get stopped() { return gettext("Stopped"); }
    get beatsShown() { return []; }

    key() { return false; }

    begin(opened) {
      this.opened = opened;
      this.sound();
      this.bar.say(gettext("Playing %(what)s", { what: this.note }));
    }

    choose(tone) {
      if (choices.tones.has(tone)) choices.tones.delete(tone); else choices.tones.add(tone);
      if (!choices.tones.size) choices.tones.add(0);
      this.bar.show();
      this.sound();
    }

    // Let go of the voices that are no longer wanted and begin those that are.
    sound() {
      if (!this.opened) return;
      const { context, output } = this.opened;
      const { hertz, tones } = this.data;
      const wanted = tones.filter((_, tone) => choices.tones.has(tone)).map(([, , semitones, cents]) => (
        hertzOf(hertz, choices.octave, semitones, choices.pure ? cents : 0)));
      const now = context.currentTime + 0.02;
      for (const [pitch, release] of this.voices) if (!wanted.includes(pitch)) { release(now); this.voices.delete(pitch); }
      for (const pitch of wanted) if (!this.voices.has(pitch)) this.voices.set(pitch, voice(context, output, pitch, now));
    }

    end() {
      if (this.opened) for (const release of this.voices.values()) release(this.opened.context.currentTime + 0.03);
      this.voices.clear();
      this.opened = null;
    }
  }

  window.handbookDrone = { hertzOf, voice, HeldNote };
})();

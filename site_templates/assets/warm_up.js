"use strict";
// A warm-up that plays by itself. Each step has its place on one line of time, in seconds from
// the start; it is counted in, sounds, is silent, and the next one follows. The click's own
// scheduler hands it to the audio clock, so nothing drifts, and what a sleeping tab missed is
// left out.
(() => {
  const { LEAD, Run, keepTime } = window.handbookClick, { hertzOf, voice } = window.handbookDrone;
  const OCTAVE = 3; // of drones: the one below middle C
  const A_LITTLE = 0.001; // seconds: no click at the very end of a step
  const SOON = 0.02; // seconds until what is late sounds
  const AT_HAND = 0.06; // seconds before a recording starts, in which its start waits for the very moment
  const AGAIN = 3; // seconds of a step; later than that, back leads to its own beginning

  function scoreOf({ beats, unit, bpm }, countIn) {
    return { spans: [{ measures: 1, beats, unit, from: bpm, to: bpm, model: "" }], division: 0, countIn, again: false };
  }

  // A step without a beat begins with one click, so that whoever looks away hears the change.
  const SIGNAL = scoreOf({ beats: [[48, 2]], unit: 48, bpm: 60 }, false);

  // One step on an audio context, whose warm-up began at `zero`. `counted` has it counted in from
  // that moment until where it sounds, for a step that goes on after a pause.
  class Sounding {
    constructor({ context, output }, step, zero, counted = zero + step.start) {
      Object.assign(this, { context, step, zero, release: null });
      const from = counted + step.from - step.start;
      const until = zero + step.until;
      if (step.beat) {
        this.run = new Run(context, output, scoreOf(step.beat, step.from > step.start), counted);
        this.last = (step.beat.click ? until : from) - A_LITTLE;
      } else {
        this.run = new Run(context, output, SIGNAL, counted);
        this.last = counted + A_LITTLE;
      }
      const at = Math.max(from, context.currentTime + SOON);
      if (step.drone && at < until) {
        this.release = voice(context, output, hertzOf(step.drone, OCTAVE, 0, 0), at);
        this.release(until);
      }
    }

    ahead(until) { this.run.ahead(Math.min(until, this.last)); }

    cancel() {
      this.run.cancel();
      if (this.release && this.zero + this.step.until > this.context.currentTime) this.release(this.context.currentTime + SOON);
    }
  }

  // `bar` is told what changes: show(), say(text), time(),
  // beats(of), beat(due), stop(). `items` are the
  // elements of the steps, `recordings` the sound of each that has one.
  class WarmUp {
    constructor(data, bar, items = [], recordings = new Map()) {
      Object.assign(this, { data, bar, items, recordings, at: 0, place: 0, opened: null, sounding: [], laid: [], goesOn: 0 });
    }

    get kind() { return "warm-up"; }
    get title() { return this.data.name; }
    get spoken() { return this.data.name; }
    get steps() { return this.data.steps; }
    get step() { return this.steps[this.place]; }
    get on() { return Boolean(this.opened); }
    get begun() { return this.on || this.at > 0; }
    get beatsShown() {
      const { beat } = this.step;
      return beat && (this.phase === "count-in" || (beat.click && this.phase === "plays")) ? beat.beats : [];
    }

    get stopped() { return this.at ? gettext("Paused") : this.over ? gettext("The warm-up is over.") : gettext("Stopped"); }
    get left() { return Math.max(0, this.data.seconds - this.at); }
    get stepLeft() { return Math.max(0, this.step.end - this.at); }
    get clock() { return minutesOf(this.left); }
    get told() { return gettext("%(place)s of %(count)s: %(what)s", { place: this.place + 1, count: this.steps.length, what: this.step.title }); }
    get run() { return this.heardStep ? this.heardStep.run : null; }

    // What the step does now: it is counted in, plays, or is silent before the next.
    get phase() {
      const { from, start, end, beat } = this.step;
      if (this.at < from && from > start) return "count-in";
      return this.at < (beat ? this.step.until : end) ? "plays" : "rests";
    }

    key(key) {
      if (key === "ArrowRight") this.skip();
      else if (key === "ArrowLeft") this.back();
      else return false;
      return true;
    }

    begin(opened) {
      this.opened = opened;
      this.over = false;
      this.goOn(opened.context.currentTime + LEAD);
      this.halt = keepTime(opened.context, (until, heard) => this.tick(until, heard));
      this.lay(this.beatsShown);
      this.bar.say(this.told);
      this.bar.show();
    }

    // Go on at an audio time: from the moment it was left, or with a beat from the start of that
    // measure, counted in.
    goOn(when) {
      const { step, at } = this;
      const { beat, start, from, until } = step;
      this.next = this.place + 1;
      if (beat && at > start && at < until) {
        const measure = Math.max(0, Math.floor((at - from) / beat.measure));
        const counted = from - start;
        this.goesOn = from + measure * beat.measure;
        this.zero = when + counted - this.goesOn;
        this.heardStep = new Sounding(this.opened, step, this.zero, when);
      } else {
        this.goesOn = at;
        this.zero = when - at;
        this.heardStep = at < step.end ? new Sounding(this.opened, step, this.zero) : null;
      }
      this.sounding = this.heardStep ? [this.heardStep] : [];
    }

    tick(until, heard) {
      while (this.next < this.steps.length && this.zero + this.steps[this.next].start < until) {
        this.sounding.push(new Sounding(this.opened, this.steps[this.next], this.zero));
        this.next += 1;
      }
      for (const one of this.sounding) one.ahead(until);
      this.at = Math.max(this.at, heard - this.zero, 0);
      if (this.at >= this.data.seconds) {
        this.finish();
        return;
      }
      this.follow();
      this.playRecording();
      const due = this.run && this.run.due(heard);
      if (due && this.step.beat) this.bar.beat(due);
      this.showTime();
    }

    // To the step that is heard now.
    follow() {
      let moved = false;
      while (this.place + 1 < this.steps.length && this.at >= this.steps[this.place + 1].start) {
        this.place += 1;
        moved = true;
      }
      if (!moved) return;
      this.heardStep = this.sounding.find((one) => one.step === this.step) || null;
      this.sounding = this.sounding.filter((one) => this.steps.indexOf(one.step) >= this.place);
      this.lay(this.beatsShown);
      this.bar.say(this.told);
      this.bar.show();
    }

    lay(beats) {
      this.laid = beats;
      this.bar.beats(beats);
    }

    showTime() {
      const shown = `${Math.ceil(this.left)} ${Math.ceil(this.stepLeft)} ${this.phase}`;
      if (shown === this.shown) return;
      this.shown = shown;
      const beats = this.beatsShown;
      if (beats.length !== this.laid.length) this.lay(beats);
      this.bar.time();
    }

    // ---- Recordings ----

    // An element cannot be told an audio time, so it is started when the context is there; what
    // lies between that and the ear is then alike for both. In the file of the class screen a
    // long recording in samples would take more memory than a tablet has.
    playRecording() {
      const now = this.opened.context.currentTime - this.zero;
      const isDue = (place) => this.startOf(place) - AT_HAND <= now && now < this.steps[place].end;
      const due = [...this.recordings.keys()].find(isDue);
      const sound = this.recordings.get(due);
      for (const other of this.recordings.values()) if (other !== sound) other.pause();
      if (!sound) return;
      sound.volume = window.handbookSound.level();
      if (this.played === due) return;
      this.played = due;
      clearTimeout(this.starting);
      this.starting = setTimeout(() => this.startRecording(sound, due), Math.max(0, this.startOf(due) - now) * 1000);
    }

    // When the recording of a step starts, or goes on after a pause.
    startOf(place) { return Math.max(this.steps[place].from, place === this.place ? this.goesOn : 0); }

    startRecording(sound, place) {
      const { from, sound: { again } } = this.steps[place];
      const gone = this.startOf(place) - from;
      const into = again && sound.duration ? gone % sound.duration : gone;
      if (Math.abs(sound.currentTime - into) > A_LITTLE) sound.currentTime = into;
      sound.loop = again;
      sound.play().catch(() => this.bar.say(gettext("No sound yet. Tap again.")));
    }

    rewind() {
      clearTimeout(this.starting);
      this.played = -1;
      for (const sound of this.recordings.values()) {
        sound.pause();
        sound.currentTime = 0;
      }
    }

    // ---- Pause, skip and back ----

    end() {
      if (this.halt) this.halt();
      for (const one of this.sounding) one.cancel();
      clearTimeout(this.starting);
      for (const sound of this.recordings.values()) sound.pause();
      Object.assign(this, { halt: null, opened: null, sounding: [], heardStep: null, played: -1, shown: "" });
    }

    finish() {
      this.reset();
      this.over = true;
      this.bar.stop();
    }

    // To a moment of it, at rest, as it was left before the page was loaded again.
    leftAt(at) { Object.assign(this, { at, place: this.steps.findIndex(({ end }) => at < end) }); }

    // To the beginning, for the next time.
    reset() {
      this.rewind();
      Object.assign(this, { at: 0, place: 0 });
    }

    skip() {
      if (this.place + 1 < this.steps.length) this.to(this.place + 1);
      else if (this.on) this.finish();
    }

    back() { this.to(this.at - this.step.start < AGAIN ? Math.max(0, this.place - 1) : this.place); }

    to(place) {
      for (const one of this.sounding) one.cancel();
      this.rewind();
      Object.assign(this, { place, at: this.steps[place].start, over: false });
      if (this.on) this.goOn(this.opened.context.currentTime + LEAD);
      this.lay(this.beatsShown);
      this.bar.say(this.told);
      this.bar.show();
      this.bar.time();
    }
  }

  // `4:05`, rounded up, so that 0:00 is the end.
  function minutesOf(seconds) {
    const whole = Math.ceil(seconds - A_LITTLE);
    return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
  }

  window.handbookWarmUp = { Sounding, WarmUp, minutesOf };
})();

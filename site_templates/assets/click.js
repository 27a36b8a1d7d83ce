"use strict";
// The sound of a click. Each click has its own place on a grid, in seconds from the first;
// a run hands the next few to the audio clock. What a sleeping tab has missed is left out.
(() => {
  const LENGTH = 0.03; // seconds of one click
  const SOUNDS = [[880, 0.25], [1175, 0.55], [1397, 0.75], [1760, 1]]; // hertz and loudness by stress

  // ---- The grid ----

  // Seconds from the start of a change of tempo to its beat k, over n beats from a to b.
  const ONSETS = {
    "linear in beats": (k, n, a, b) => (60 * n) / (b - a) * Math.log1p(((b - a) * k) / (a * n)),
    "linear in time": (k, n, a, b) => (120 * k) / (a + Math.sqrt(a * a + (k * (b * b - a * a)) / n)),
    "exponential in beats": (k, n, a, b) => {
      const growth = Math.log(b / a);
      return (-60 * n) / (a * growth) * Math.expm1((-growth * k) / n);
    },
    stepped: (k, n, a, b) => {
      let seconds = 0;
      for (let beat = 0; beat < k; beat += 1) seconds += (60 * Math.min(1, k - beat)) / (a + ((b - a) * beat) / n);
      return seconds;
    },
  };

  const ticksOf = (span) => span.beats.reduce((sum, [ticks]) => sum + ticks, 0);

  function onset(span, ticks) {
    const { from, to, unit } = span;
    if (from === to) return (60 * ticks) / unit / from;
    return ONSETS[span.model](ticks / unit, (span.measures * ticksOf(span)) / unit, from, to);
  }

  function* measuresOf(span, division, base, counting) {
    const length = ticksOf(span);
    for (let measure = 0; measure < span.measures; measure += 1) {
      let start = measure * length;
      for (const [beat, [ticks, stress]] of span.beats.entries()) {
        const parts = division && ticks % division === 0 ? ticks / division : 1;
        for (let part = 0; part < parts; part += 1) {
          const seconds = base + onset(span, start + (part * ticks) / parts);
          yield { seconds, beat, part, stress: part ? 0 : stress, of: span.beats, counting };
        }
        start += ticks;
      }
    }
  }

  // Spans of { measures, beats: [[ticks, stress]], unit, from, to, model } are played over and
  // over; `again` counts in before every turn.
  function* grid({ spans, division, countIn, again }) {
    const first = { ...spans[0], measures: 1, to: spans[0].from };
    const lengths = spans.map((span) => onset(span, span.measures * ticksOf(span)));
    const turnLength = lengths.reduce((sum, length) => sum + length, 0);
    const lead = countIn ? onset(first, ticksOf(first)) : 0;
    for (let turn = 0; ; turn += 1) {
      let base = turn * turnLength + lead * (again ? turn : Math.min(turn, 1));
      if (lead && (again || !turn)) {
        yield* measuresOf(first, division, base, true);
        base += lead;
      }
      for (const [place, span] of spans.entries()) {
        yield* measuresOf(span, division, base, false);
        base += lengths[place];
      }
    }
  }

  // ---- Sounding it, on any audio context ----

  const buffersOf = new WeakMap();

  function buffers(context) {
    if (!buffersOf.has(context)) {
      buffersOf.set(context, SOUNDS.map(([hertz, loudness]) => {
        const rate = context.sampleRate, count = Math.round(LENGTH * rate);
        const buffer = context.createBuffer(1, count, rate);
        const samples = buffer.getChannelData(0);
        for (let i = 0; i < count; i += 1) {
          samples[i] = loudness * (1 - i / count) * Math.exp((-5 * i) / count) * Math.sin((2 * Math.PI * hertz * (i + 1)) / rate);
        }
        return buffer;
      }));
    }
    return buffersOf.get(context);
  }

  class Run {
    constructor(context, output, score, start) {
      Object.assign(this, { context, output, score, start, count: 0, sources: new Set(), beats: [] });
      this.clicks = grid(score);
      this.next = this.clicks.next().value;
    }

    get at() { return this.start + this.next.seconds; }

    step() {
      this.count += 1;
      this.next = this.clicks.next().value;
    }

    // Hand every click before `until` to the audio clock, but none that is past.
    ahead(until) {
      const now = this.context.currentTime;
      for (; this.at < until; this.step()) {
        if (this.at < now) continue;
        this.strike();
        if (!this.next.part) this.beats.push({ ...this.next, at: this.at });
      }
    }

    // The last beat that is heard by then and was not asked for before, or null.
    due(heard) {
      let due = null;
      while (this.beats.length && this.beats[0].at <= heard) due = this.beats.shift();
      return due;
    }

    strike() {
      const { context, sources } = this;
      const source = context.createBufferSource();
      source.buffer = buffers(context)[this.next.stress];
      source.connect(this.output);
      source.onended = () => sources.delete(source);
      sources.add(source);
      source.start(Math.round(this.at * context.sampleRate) / context.sampleRate);
    }

    // Go on in another score: from the same click (for another tempo), or the same moment.
    to(score, sameClick) {
      const after = new Run(this.context, this.output, score, this.start);
      after.sources = this.sources;
      after.beats = this.beats;
      if (sameClick) {
        while (after.count < this.count) after.step();
        after.start = this.at - after.next.seconds;
      } else while (after.at < this.at - 1e-6) after.step();
      return after;
    }

    cancel() {
      for (const source of this.sources) source.stop();
      this.sources.clear();
    }
  }

  // ---- Keeping time: what sounds next is handed over again and again, a little ahead ----

  const AHEAD = 0.2, AHEAD_HIDDEN = 2.5, LEAD = 0.1; // seconds
  const EVERY = 25; // milliseconds; about 1000 in a hidden tab

  // `hand(until, heard)` is told up to when to hand over, and what is heard now; gives the function to stop it.
  function keepTime(context, hand) {
    const tick = () => hand(
      context.currentTime + (document.hidden ? AHEAD_HIDDEN : AHEAD),
      context.currentTime - (context.outputLatency || 0),
    );
    const timer = setInterval(tick, EVERY);
    document.addEventListener("visibilitychange", tick);
    tick();
    return () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", tick);
    };
  }

  // ---- The beat that is seen: one place a beat, and the one that sounds is filled ----

  const SHOWN_GAP = 0.35; // seconds between changes: under 3 a second. It moves, and nothing flashes.
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");

  class BeatRow {
    constructor(row) { Object.assign(this, { row, of: [] }); }

    lay(of) {
      this.shownAt = -1;
      this.side = 1;
      this.of = of;
      this.row.replaceChildren(...[...of, ...(of.length > 1 ? [] : of)].map(([, stress]) => {
        const place = document.createElement("i");
        if (stress > 1) place.className = "is-strong";
        return place;
      }));
    }

    // In fast music every second beat moves it, or each measure, from side to side.
    show({ of, beat, at }, score) {
      if (still.matches) return;
      const fastest = Math.max(...score.spans.map(({ from, to, unit }) => Math.max(from, to) * unit));
      const shortest = (60 * Math.min(...of.map(([ticks]) => ticks))) / fastest;
      const every = [1, 2].find((stride) => of.length > stride && of.length % stride === 0 && shortest * stride >= SHOWN_GAP);
      if (beat % (every || of.length) || (this.shownAt >= 0 && at - this.shownAt < SHOWN_GAP)) return;
      if (this.of.length !== of.length) this.lay(of);
      this.shownAt = at;
      this.side = 1 - this.side;
      const places = [...this.row.children];
      const shown = every ? beat : (places.length - 1) * this.side;
      places.forEach((place, index) => place.classList.toggle("is-on", index === shown));
    }
  }

  // ---- A passage: its tempo, how it is divided, and how often it went well ----

  const SLOW = 50; // beats a minute; slower ones come divided
  const ENOUGH = 3; // clean times before the next step (common practice, no source)
  const choices = { accent: true, countIn: true }; // for every passage of the page
  const number = (bpm) => String(Number(bpm.toFixed(3)));

  // `bar` is told what changes: show(), say(text), beats(of), beat(due).
  class Passage {
    constructor(data, bar) {
      Object.assign(this, { data, bar, times: 0, meter: 0, change: false, chosen: null, run: null });
      const week = data.weeks.find(([, sunday]) => sunday >= today());
      this.week = week ? week[2] : null;
      this.target = this.week || data.goal;
      this.steps = week ? [...week.slice(3), this.week] : [this.target];
      this.bpm = this.steps[0];
      this.division = this.usual();
    }

    get kind() { return "click"; }
    get title() { return this.data.name; }
    get choices() { return choices; }
    get layout() { return this.change ? this.data.change : this.data.meters[this.meter]; }
    get slower() { return this.data.marks.filter((mark) => mark < this.bpm).pop(); }
    get faster() { return this.data.marks.find((mark) => mark > this.bpm); }

    // What comes after three clean times: the next step of the week, or the next mark below them.
    get above() {
      const [first] = this.steps;
      if (this.bpm < first) return Math.min(this.faster || first, first);
      return this.steps.find((step) => step > this.bpm);
    }

    // What the reader chose is kept if this meter has it.
    usual() {
      const { divisions, first } = this.layout;
      if (this.chosen === 0 || divisions.some(([, ticks]) => ticks === this.chosen)) return this.chosen;
      return this.bpm < SLOW && divisions.length ? divisions[0][1] : first;
    }

    score(countIn) {
      const { bpm, data } = this;
      const loudest = choices.accent ? 3 : 1;
      // An even click has no tempos of its own; a change is as much slower as the chosen mark.
      const spans = this.layout.spans.map(([measures, beats, unit = data.unit, from = data.goal, to = data.goal, model]) => ({
        measures, unit, model, from: (from * bpm) / data.goal, to: (to * bpm) / data.goal,
        beats: beats.map(([ticks, stress]) => [ticks, Math.min(stress, loudest)]),
      }));
      return { spans, division: this.division, countIn, again: this.change };
    }

    // `96`, or `72 to 80` for a change, in the goal's beat.
    get text() {
      if (!this.change) return number(this.bpm);
      const { spans } = this.score(false);
      const last = spans[spans.length - 1];
      const shown = (bpm, { unit }) => String(Math.round((bpm * unit) / this.data.unit));
      return gettext("%(start)s to %(end)s", { start: shown(spans[0].from, spans[0]), end: shown(last.to, last) });
    }

    get spoken() { return besides(this.text, this.data.beat); }
    get stopped() { return gettext("Stopped"); }
    get beatsShown() { return this.layout.spans[0][1]; }

    // How often it was played clean, for who cannot see the dots.
    get cleanly() { return gettext("Played it clean: %(times)s of %(enough)s", { times: this.times, enough: ENOUGH }); }

    get aim() {
      if (this.week && this.bpm !== this.week) return gettext("this week %(bpm)s", { bpm: number(this.week) });
      if (this.bpm === this.data.goal) return gettext("the goal");
      return this.week ? gettext("this week’s tempo") : gettext("goal %(bpm)s", { bpm: number(this.data.goal) });
    }

    // Whether a key means something to it.
    key(key) {
      if (key === "+" || key === "=") this.setBpm(this.faster);
      else if (key === "-") this.setBpm(this.slower);
      else return false;
      return true;
    }

    sayPlaying() { this.bar.say(gettext("Playing %(what)s", { what: this.text })); }

    setBpm(bpm, silent) {
      if (!bpm) return;
      this.times = 0;
      this.bpm = bpm;
      this.division = this.usual();
      this.bar.show();
      if (!this.run) {
        if (!silent) this.bar.say(this.text);
        return;
      }
      const before = this.run.score;
      const score = this.score(before.countIn);
      this.run = this.run.to({ ...score, division: before.division }, true).to(score);
      if (!this.counting && !silent) this.sayPlaying();
    }

    // Three clean times lead one step up, as far as this week's tempo.
    clean() {
      const { above } = this;
      const times = (this.times % ENOUGH) + 1;
      this.times = times;
      const count = { times, enough: ENOUGH };
      if (times < ENOUGH) this.bar.say(gettext("%(times)s of %(enough)s clean", count));
      else if (above) {
        this.setBpm(above, true);
        this.bar.say(gettext("%(times)s of %(enough)s clean: up to %(tempo)s", { ...count, tempo: this.text }));
      } else this.bar.say(gettext("%(times)s of %(enough)s clean. Well done!", count));
      this.bar.show();
    }

    begin({ context, output }) {
      const { countIn } = choices;
      this.run = new Run(context, output, this.score(countIn), context.currentTime + LEAD);
      this.counting = countIn;
      if (countIn) this.bar.say(gettext("Count-in")); else this.sayPlaying();
      this.halt = keepTime(context, (until, heard) => this.tick(until, heard));
    }

    tick(until, heard) {
      this.run.ahead(until);
      const due = this.run.due(heard);
      if (!due) return;
      if (this.counting && !due.counting) {
        this.counting = false;
        this.sayPlaying();
      }
      this.bar.beat(due);
    }

    end() {
      if (this.halt) this.halt();
      if (this.run) this.run.cancel();
      this.run = null;
    }

    divide(ticks) {
      this.chosen = this.division = ticks;
      this.renew();
    }

    // Divisions and accents keep the beat; another meter begins anew.
    renew() {
      if (this.run) this.run = this.run.to(this.score(this.run.score.countIn));
    }

    restart(layout) {
      Object.assign(this, layout);
      this.division = this.usual();
      this.bar.show();
      this.bar.beats(this.beatsShown);
      const { run } = this;
      if (!run) return;
      const score = this.score(this.change && choices.countIn);
      this.run = Object.assign(new Run(run.context, run.output, score, run.at), { sources: run.sources });
      this.sayPlaying();
    }
  }

  window.handbookClick = { LEAD, grid, Run, keepTime, BeatRow, Passage };
})();

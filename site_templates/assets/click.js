"use strict";
// The click of a passage. Each click has its own place on a grid, in seconds from the first;
// a coarse timer hands the next few to the audio clock. What a sleeping tab has missed is left out.
(() => {
  const AHEAD = 0.2, AHEAD_HIDDEN = 2.5, LEAD = 0.1; // seconds
  const EVERY = 25; // milliseconds; about 1000 in a hidden tab
  const LENGTH = 0.03; // seconds of one click
  const SOUNDS = [[880, 0.25], [1175, 0.55], [1397, 0.75], [1760, 1]]; // hertz and loudness by stress
  const SHOWN_GAP = 0.35; // seconds between changes of the beat that is shown: under 3 a second
  const SLOW = 50; // beats a minute; slower ones come divided

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

  // ---- The controls of one passage ----

  const sound = window.handbookSound;
  const masthead = document.querySelector(".masthead");
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const number = (bpm) => String(Number(bpm.toFixed(3)));
  let playing = null;

  // The school's day, not the reader's; Swedish dates are written 2026-09-22.
  function today() {
    const now = new Date();
    try { return now.toLocaleDateString("sv", { timeZone: masthead.dataset.zone }); } catch { return now.toISOString().slice(0, 10); }
  }

  class Player {
    constructor(data, words, parts) {
      Object.assign(this, parts, { data, words });
      this.group.setAttribute("aria-label", `${words.label} ${data.name}`);
      this.sign.textContent = data.sign;
      const week = data.weeks.find(([, sunday]) => sunday >= today());
      this.weekBpm = week && week[2];
      this.bpm = this.weekBpm || data.goal;
      for (const name of ["stop", "tick", "renew", "restart"]) this[name] = this[name].bind(this);
      this.fill();
      this.listen();
      this.show();
      this.drawBeats();
    }

    fill() {
      const { change, meters } = this.data;
      this.week.hidden = !this.weekBpm;
      this.change.parentNode.hidden = !change;
      this.meter.append(...meters.map(({ name }, value) => new Option(name || this.words.written, value)));
      this.meter.parentNode.hidden = meters.length < 2;
      this.fillDivisions();
    }

    // What the reader chose is kept if this meter has it.
    fillDivisions() {
      const { divisions, first } = this.layout();
      const choices = [[this.words.off, 0], ...divisions];
      this.divide.replaceChildren(...choices.map(([name, ticks]) => new Option(name, ticks)));
      const usual = this.bpm < SLOW && divisions.length ? divisions[0][1] : first;
      this.divide.value = choices.some(([, ticks]) => ticks === this.chosen) ? this.chosen : usual;
    }

    layout() {
      return this.change.checked ? this.data.change : this.data.meters[this.meter.value || 0];
    }

    listen() {
      const on = (control, act, kind = "change") => control.addEventListener(kind, act);
      on(this.play, () => (playing === this ? this.stop() : this.start()), "click");
      on(this.slower, () => this.setBpm(this.data.marks.filter((mark) => mark < this.bpm).pop()), "click");
      on(this.faster, () => this.setBpm(this.data.marks.find((mark) => mark > this.bpm)), "click");
      on(this.week, () => this.setBpm(this.weekBpm), "click");
      on(this.goal, () => this.setBpm(this.data.goal), "click");
      on(this.divide, () => { this.chosen = Number(this.divide.value); this.renew(); });
      on(this.accent, this.renew);
      on(this.meter, this.restart);
      on(this.change, this.restart);
    }

    setBpm(bpm) {
      if (!bpm) return;
      this.bpm = bpm;
      this.fillDivisions();
      this.show();
      if (playing !== this) this.say(this.text());
      if (!this.run) return;
      const before = this.run.score;
      const score = this.score(before.countIn);
      this.run = this.run.to({ ...score, division: before.division }, true).to(score);
      if (!this.counting) this.sayPlaying();
    }

    score(countIn) {
      const { bpm, data } = this;
      const loudest = this.accent.checked ? 3 : 1;
      // An even click has no tempos of its own; a change is as much slower as the chosen mark.
      const spans = this.layout().spans.map(([measures, beats, unit = data.unit, from = data.goal, to = data.goal, model]) => ({
        measures, unit, model, from: (from * bpm) / data.goal, to: (to * bpm) / data.goal,
        beats: beats.map(([ticks, stress]) => [ticks, Math.min(stress, loudest)]),
      }));
      return { spans, division: Number(this.divide.value), countIn, again: this.change.checked };
    }

    // `96`, or `72 to 80` for a change, in the goal's beat.
    text() {
      if (!this.change.checked) return number(this.bpm);
      const { spans } = this.score(false);
      const last = spans[spans.length - 1];
      const shown = (bpm, { unit }) => String(Math.round((bpm * unit) / this.data.unit));
      return `${shown(spans[0].from, spans[0])} ${this.words.to} ${shown(last.to, last)}`;
    }

    show() {
      const { data, words } = this;
      const on = playing === this;
      this.mark.textContent = this.text();
      this.name.textContent = `${on ? words.stop : words.play} ${this.text()}, ${data.beat} ${words.note}`;
      this.play.classList.toggle("is-on", on);
      this.slower.setAttribute("aria-disabled", String(this.bpm <= data.marks[0]));
      this.faster.setAttribute("aria-disabled", String(this.bpm >= data.marks[data.marks.length - 1]));
      this.week.setAttribute("aria-pressed", String(this.bpm === this.weekBpm));
      this.goal.setAttribute("aria-pressed", String(this.bpm === data.goal));
    }

    say(text) { this.state.textContent = text; }

    sayPlaying() { this.say(`${this.words.playing} ${this.text()}`); }

    async start() {
      if (playing) playing.stop();
      playing = this;
      this.show();
      const tap = this.tap = {};
      const opened = await sound.open();
      if (playing !== this || tap !== this.tap) return;
      if (!opened) {
        playing = null;
        this.show();
        this.say(this.words.refused);
        return;
      }
      sound.add(this.stop);
      const countIn = this.countIn.checked;
      this.run = new Run(opened.context, opened.output, this.score(countIn), opened.context.currentTime + LEAD);
      this.counting = countIn;
      if (countIn) this.say(this.words.countIn); else this.sayPlaying();
      this.timer = setInterval(this.tick, EVERY);
      document.addEventListener("visibilitychange", this.tick);
      this.tick();
    }

    tick() {
      const { context } = this.run;
      this.run.ahead(context.currentTime + (document.hidden ? AHEAD_HIDDEN : AHEAD));
      const heard = context.currentTime - (context.outputLatency || 0);
      const { beats } = this.run;
      let due = null;
      while (beats.length && beats[0].at <= heard) due = beats.shift();
      if (!due) return;
      if (this.counting && !due.counting) {
        this.counting = false;
        this.sayPlaying();
      }
      this.showBeat(due);
    }

    stop() {
      if (playing !== this) return;
      playing = null;
      clearInterval(this.timer);
      document.removeEventListener("visibilitychange", this.tick);
      if (this.run) this.run.cancel();
      this.run = null;
      sound.remove(this.stop);
      this.show();
      this.say(this.words.stopped);
      this.drawBeats();
    }

    // Divisions and accents keep the beat; another meter begins anew.
    renew() {
      if (this.run) this.run = this.run.to(this.score(this.run.score.countIn));
    }

    restart() {
      const { run, change } = this;
      this.meter.disabled = change.checked;
      this.fillDivisions();
      this.show();
      this.drawBeats();
      if (!run) return;
      const score = this.score(change.checked && this.countIn.checked);
      this.run = Object.assign(new Run(run.context, run.output, score, run.at), { sources: run.sources });
      this.sayPlaying();
    }

    // One place a beat; the one that sounds is filled. It moves, and nothing flashes.
    drawBeats(of = this.layout().spans[0][1]) {
      this.shownAt = -1;
      this.side = 1;
      this.drawn = of;
      this.beats.replaceChildren(...[...of, ...(of.length > 1 ? [] : of)].map(([, stress]) => {
        const place = document.createElement("i");
        if (stress > 1) place.className = "is-strong";
        return place;
      }));
    }

    // In fast music every second beat moves it, or each measure, from side to side.
    showBeat({ of, beat, at }) {
      if (still.matches) return;
      const fastest = Math.max(...this.run.score.spans.map(({ from, to, unit }) => Math.max(from, to) * unit));
      const shortest = (60 * Math.min(...of.map(([ticks]) => ticks))) / fastest;
      const every = [1, 2].find((stride) => of.length > stride && of.length % stride === 0 && shortest * stride >= SHOWN_GAP);
      if (beat % (every || of.length) || (this.shownAt >= 0 && at - this.shownAt < SHOWN_GAP)) return;
      if (this.drawn.length !== of.length) this.drawBeats(of);
      this.shownAt = at;
      this.side = 1 - this.side;
      const places = [...this.beats.children];
      const shown = every ? beat : (places.length - 1) * this.side;
      places.forEach((place, index) => place.classList.toggle("is-on", index === shown));
    }
  }

  sound.mount("click", Player);
  window.handbookClick = { grid, Run };
})();

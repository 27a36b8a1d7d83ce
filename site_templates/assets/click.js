"use strict";
// The click of a passage. Every click has its place in seconds from the first one, reckoned
// whole and never added up from rounded beats; a coarse timer hands the next few to the audio
// clock ahead of time. A beat that a sleeping tab has missed is left out, and the grid goes on.
(() => {
  const AHEAD = 0.2, AHEAD_HIDDEN = 2.5, LEAD = 0.1; // seconds
  const EVERY = 25; // milliseconds; a hidden tab is held to about 1000
  const LENGTH = 0.03; // seconds of one click
  const SOUNDS = [[880, 0.25], [1175, 0.55], [1397, 0.75], [1760, 1]]; // hertz and loudness by stress
  const SHOWN_GAP = 0.35; // seconds between changes of the beat that is shown: under three a second
  const SLOW = 50; // beats a minute below which a beat is easier to hold divided

  // ---- The grid ----------------------------------------------------------------------

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
    const { from, to, unit, measures, model } = span;
    const beat = ticks / unit;
    if (from === to) return (60 * beat) / from;
    return ONSETS[model](beat, (measures * ticksOf(span)) / unit, from, to);
  }

  function* measuresOf(span, division, base, counting) {
    const length = ticksOf(span);
    for (let measure = 0; measure < span.measures; measure += 1) {
      let start = measure * length;
      for (const [beat, [ticks, stress]] of span.beats.entries()) {
        const parts = division && ticks % division === 0 ? ticks / division : 1;
        for (let part = 0; part < parts; part += 1) {
          const seconds = base + onset(span, start + (part * ticks) / parts);
          yield { seconds, beat, division: part, stress: part ? 0 : stress, of: span.beats, counting };
        }
        start += ticks;
      }
    }
  }

  // A score is { spans, division, countIn, again }: spans are { measures, beats: [[ticks, stress]],
  // unit, from, to, model }, played over and over; `again` counts in before every turn.
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

  // ---- Sounding it, on any audio context ------------------------------------------------

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

    // Hand every click before `until` to the audio clock; what is past already is left out.
    ahead(until) {
      const now = this.context.currentTime;
      for (; this.at < until; this.step()) {
        if (this.at < now) continue;
        this.strike();
        if (!this.next.division) this.beats.push({ ...this.next, at: this.at });
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

    // Go on in another score from the same click (another tempo) or the same moment.
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

  // ---- The controls of one passage --------------------------------------------------------

  const sound = window.handbookSound;
  const masthead = document.querySelector(".masthead");
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const number = (bpm) => String(Number(bpm.toFixed(3)));
  let playing = null;

  function today() {
    try {
      return new Intl.DateTimeFormat("en-CA", { timeZone: masthead.dataset.zone, year: "numeric", month: "2-digit", day: "2-digit" }).format(new Date());
    } catch { return new Date().toISOString().slice(0, 10); }
  }

  class Player {
    constructor(place, parts) {
      this.data = JSON.parse(place.dataset.click);
      this.words = parts.words;
      const facts = [...place.children];
      place.append(parts.clone());
      const find = (name) => place.querySelector(`[data-${name}]`);
      for (const name of ["play", "mark", "name", "slower", "faster", "week", "goal", "beats", "state", "meter", "divide", "accent", "count-in", "change"]) {
        this[name] = find(name);
      }
      find("group").setAttribute("aria-label", `${this.words.label} ${this.data.name}`);
      find("facts").append(...facts);
      find("sign").textContent = this.data.sign;
      const week = this.data.weeks.find(([, sunday]) => sunday >= today());
      this.weekBpm = week ? week[2] : null;
      this.bpm = this.weekBpm || this.data.goal;
      this.fill();
      this.listen(find);
      sound.bindVolume(find("volume"));
      this.stop = this.stop.bind(this);
      this.tick = this.tick.bind(this);
      this.show();
      this.drawBeats();
    }

    fill() {
      const { data, words } = this;
      this.week.hidden = this.weekBpm === null;
      this.change.closest("label").hidden = !data.change;
      this.meter.append(...data.meters.map(({ name }, value) => new Option(name || words.written, value)));
      this.meter.closest("label").hidden = data.meters.length < 2;
      this.fillDivisions();
    }

    // The choice of divisions depends on the meter; a reader's own choice is kept if it is there.
    fillDivisions() {
      const { divisions, first } = this.layout();
      this.divide.replaceChildren(new Option(this.words.off, 0), ...divisions.map(([name, ticks]) => new Option(name, ticks)));
      const slow = this.bpm < SLOW && divisions.length ? divisions[0][1] : first;
      this.divide.value = String(divisions.some(([, ticks]) => ticks === this.chosen) || this.chosen === 0 ? this.chosen : slow);
    }

    layout() {
      return this.change.checked ? this.data.change : this.data.meters[this.meter.value || 0];
    }

    listen(find) {
      this.play.addEventListener("click", () => (playing === this ? this.stop() : this.start()));
      this.slower.addEventListener("click", () => this.stepBy(-1));
      this.faster.addEventListener("click", () => this.stepBy(1));
      this.week.addEventListener("click", () => this.setBpm(this.weekBpm));
      this.goal.addEventListener("click", () => this.setBpm(this.data.goal));
      this.divide.addEventListener("change", () => { this.chosen = Number(this.divide.value); this.renew(); });
      this.accent.addEventListener("change", () => this.renew());
      for (const name of ["meter", "change"]) {
        find(name).addEventListener("change", () => {
          this.meter.disabled = this.change.checked;
          this.fillDivisions();
          this.show();
          this.drawBeats();
          this.restart();
        });
      }
    }

    stepBy(way) {
      const { marks } = this.data;
      const next = way > 0 ? marks.find((mark) => mark > this.bpm) : marks.filter((mark) => mark < this.bpm).pop();
      if (next) this.setBpm(next);
    }

    setBpm(bpm) {
      this.bpm = bpm;
      this.fillDivisions();
      this.show();
      if (playing !== this) this.say(this.text());
      else if (this.run) {
        const score = this.score(this.run.score.countIn);
        this.run = this.run.to({ ...score, division: this.run.score.division }, true).to(score, false);
        if (!this.counting) this.say(`${this.words.playing} ${this.text()}`);
      }
    }

    score(countIn) {
      const { bpm, data } = this;
      const accented = (beats) => (this.accent.checked ? beats : beats.map(([ticks, stress]) => [ticks, Math.min(stress, 1)]));
      const spans = this.layout().spans.map(([measures, beats, unit, from, to, model]) => (
        this.change.checked
          ? { measures, beats: accented(beats), unit, from: (from * bpm) / data.goal, to: (to * bpm) / data.goal, model }
          : { measures, beats: accented(beats), unit: data.unit, from: bpm, to: bpm }));
      return { spans, division: Number(this.divide.value), countIn, again: this.change.checked };
    }

    // The tempo in figures: `96`, or `72 to 80` for a change, in the beat of the goal's mark.
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
      const countIn = this["count-in"].checked;
      this.run = new Run(opened.context, opened.output, this.score(countIn), opened.context.currentTime + LEAD);
      this.counting = countIn;
      this.say(countIn ? this.words.countIn : `${this.words.playing} ${this.text()}`);
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
        this.say(`${this.words.playing} ${this.text()}`);
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

    // Divisions and accents keep the beat; another meter or a change of tempo begins anew.
    renew() {
      if (playing === this && this.run) this.run = this.run.to(this.score(this.run.score.countIn), false);
    }

    restart() {
      if (playing !== this || !this.run) return;
      const start = this.run.at;
      const again = this.score(this.change.checked && this["count-in"].checked);
      this.run = Object.assign(new Run(this.run.context, this.run.output, again, start), { sources: this.run.sources });
      this.say(`${this.words.playing} ${this.text()}`);
    }

    // One place a beat; the one that sounds is filled. A place moves, and never flashes.
    drawBeats(of = this.layout().spans[0][1]) {
      this.shownAt = -1;
      this.drawn = of.length;
      this.beats.replaceChildren(...of.map(([, stress]) => {
        const place = document.createElement("i");
        if (stress > 1) place.className = "is-strong";
        return place;
      }));
    }

    // In fast music every second beat moves, or the first of each measure, so that nothing
    // changes more than three times a second.
    showBeat({ of, beat, at }) {
      if (still.matches) return;
      const { spans } = this.run.score;
      const fastest = Math.max(...spans.map((span) => Math.max(span.from, span.to) * span.unit));
      const shortest = (60 * Math.min(...of.map(([ticks]) => ticks))) / fastest;
      const every = [1, 2].find((stride) => of.length % stride === 0 && shortest * stride >= SHOWN_GAP) || of.length;
      if (beat % every || (this.shownAt >= 0 && at - this.shownAt < SHOWN_GAP)) return;
      if (this.drawn !== of.length) this.drawBeats(of);
      this.shownAt = at;
      for (const [place, item] of [...this.beats.children].entries()) item.classList.toggle("is-on", place === beat);
    }
  }

  const parts = sound && sound.controls("click-parts");
  if (parts) for (const place of document.querySelectorAll("[data-click]")) new Player(place, parts);
  window.handbookClick = { grid, Run };
})();

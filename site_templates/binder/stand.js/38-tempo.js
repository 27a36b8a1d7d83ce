// ---- A tempo with its click, and what was reached of it -----------------------------------------

const SLOWEST = 10, FASTEST = 400; // beats a minute, as content takes them (handbook/domain/values/tempo.py)
const typedTempos = new Map();

// A number that was typed, in halves: a pulse is not counted finer; null if it is no tempo.
function bpmOf(text) {
  const written = text.trim().replace(",", ".");
  const bpm = /^\d+(\.\d*)?$/.test(written) ? Math.round(Number(written) * 2) / 2 : 0;
  return bpm >= SLOWEST && bpm <= FASTEST ? bpm : null;
}

// A passage or an exercise of the block: its click at the tempo of the day, and what was reached.
class Goer {
  constructor(rehearsal, key, { name, click, tempo, logged }) {
    Object.assign(this, { rehearsal, key, name, click, tempo, logged });
    const [, number] = tempo;
    this.id = `${rehearsal.band} ${rehearsal.at} ${key}`;
    this.track = click && sound.able ? sound.clickOf(this.id, click) : null;
    if (this.track && this.track.atDay !== number) {
      this.track.atDay = number;
      this.track.setBpm(Number(this.begins()), true);
    }
  }

  // The number to begin with: what was kept of it, else that of the plan.
  begins() {
    const [, number] = this.tempo;
    const kept = this.logged && this.rehearsal === shown.rehearsal ? shown.went.reached[this.logged.key] : "";
    const [beat, bpm] = (kept || "").split(" = ");
    return bpm && beat === this.logged.beat ? bpm : number;
  }

  // Where nothing can sound, a tempo that was typed stays by itself.
  get mark() {
    const [sign, number, beat] = this.tempo;
    return [sign, this.track ? String(Number(this.track.bpm.toFixed(3))) : typedTempos.get(this.id) || this.begins(), beat];
  }

  step(bpm, isDrawn = true) {
    if (this.track) this.track.setBpm(bpm); else typedTempos.set(this.id, String(bpm));
    if (isDrawn) redraw();
  }

  // A tempo whose number may be written over, since a band does not always play at a mark of the
  // metronome; arrows go by one.
  field(where) {
    const [sign, number, beat] = this.mark;
    const made = element("input", "bpm");
    Object.assign(made, { value: number, inputMode: "decimal", autocomplete: "off" });
    made.style.width = `${number.length + 0.1}ch`;
    made.dataset.key = `${where} tempo ${this.key}`;
    made.setAttribute("aria-label", gettext("Tempo of %(passage)s, %(beat)s", { passage: this.name, beat }));
    made.addEventListener("input", () => { made.isTyped = true; });
    made.take = () => {
      if (!made.isTyped) return;
      made.isTyped = false;
      const bpm = bpmOf(made.value);
      if (!bpm) say(gettext("A tempo is a number from %(least)s to %(most)s.", { least: SLOWEST, most: FASTEST }));
      if (bpm && String(bpm) !== this.mark[1]) this.step(bpm); else made.value = this.mark[1];
    };
    made.addEventListener("focus", () => made.select());
    made.addEventListener("blur", made.take);
    made.addEventListener("keydown", (event) => {
      if (event.key === "Enter") made.take();
      const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
      if (!by) return;
      event.preventDefault();
      made.isTyped = false;
      const bpm = bpmOf(String((bpmOf(made.value) || Number(number)) + by));
      if (bpm) this.step(bpm);
    });
    const shownSign = element("span", "", element("span", "note", sign), " = ");
    shownSign.setAttribute("aria-hidden", "true");
    const mark = element("span", "mark", shownSign, made);
    mark.translate = false;
    return mark;
  }

  player(where) {
    const { track } = this;
    if (!track) return [];
    const on = sound.isOn(track);
    const play = button(`${where} play ${this.key}`, "sounds", on ? "■" : "▶", () => sound.toggle(track));
    play.setAttribute("aria-label", on ? pgettext("sound", "Stop %(what)s", { what: track.spoken }) : pgettext("sound", "Play %(what)s", { what: track.spoken }));
    play.setAttribute("aria-pressed", String(on));
    const slower = button(`${where} slower ${this.key}`, "step", "−", () => this.step(track.slower));
    slower.setAttribute("aria-label", gettext("Slower by one mark"));
    slower.disabled = !track.slower;
    const faster = button(`${where} faster ${this.key}`, "step", "+", () => this.step(track.faster));
    faster.setAttribute("aria-label", gettext("Faster by one mark"));
    faster.disabled = !track.faster;
    return [play, slower, faster];
  }

  // One tap keeps the tempo that stands there; another takes it back.
  keeper(where) {
    const { went } = shown;
    const { key } = this.logged;
    const { mark } = this;
    const [, bpm] = mark;
    const logged = () => `${this.logged.beat} = ${this.mark[1]}`; // as a log has it
    const tempo = logged();
    const mine = went.reached[key];
    const words = gettext("Reached %(bpm)s", { bpm });
    const reach = button(`${where} reached ${key}`, "keep reached", mine === tempo ? `✓ ${words}` : words, () => {
      const { activeElement } = document;
      if (activeElement.take) activeElement.take(); // some devices leave a field open
      const now = logged(); // which may have been typed since this was drawn
      shown.note((before) => {
        const { [key]: kept, ...reached } = before.reached;
        if (kept !== now) reached[key] = now;
        return { reached, notDone: before.notDone.filter((one) => one !== key) };
      });
    });
    reach.setAttribute("aria-pressed", String(mine === tempo));
    reach.setAttribute("aria-label", gettext("Keep %(tempo)s as reached in %(passage)s", { tempo: spokenOf(mark), passage: this.name }));
    const other = mine && mine !== tempo ? element("span", "kept", gettext("Kept: %(tempo)s", { tempo: mine.split(" = ")[1] })) : "";
    return [reach, notPlayedButton(this.rehearsal, where, key, this.name), other];
  }

  draw() {
    const row = this.drawTempo("", this.logged ? this.keeper("card") : []);
    if (this.logged) row.append(...this.before());
    return row;
  }

  // The tempo by itself, with its click.
  drawTempo(name, more = []) {
    const isOpen = this.logged && (name || more.length);
    const mark = element("p", "tempo", isOpen ? this.field("card") : markOf(this.mark), this.track && sound.isOn(this.track) ? element("span", "beat") : "");
    const made = element("div", "goer", mark, element("div", "tools", ...this.player("card"), ...more));
    if (name) made.append(element("b", "goer-name", name));
    return made;
  }

  // Of several passages at one tempo: one narrow row for what was reached.
  keptLine() {
    return element("li", "log-line", element("span", "", element("b", "", this.name), " ", markOf(this.mark)), element("div", "tools", ...this.keeper("card")));
  }

  // In the log, small: what was reached in the passage.
  line() {
    const facts = element("span", "", element("b", "", this.name), " ", this.field("log"));
    return element("li", "log-line", facts, element("div", "tools", ...this.player("log"), ...this.keeper("log")));
  }

  // What class reached last, beside what was planned for today, and the goal.
  before() {
    const { goal, reached = [] } = this.logged;
    const last = reached.filter(([day]) => day < this.rehearsal.day).pop();
    const lines = [gettext("Planned today: %(tempo)s; goal %(goal)s", { tempo: this.tempo[1], goal: goal[1] })];
    if (last) {
      const day = writtenDay(last[0], "monthDay");
      lines.push(last[1] ? gettext("Reached on %(day)s: %(tempo)s", { day, tempo: last[1][1] }) : gettext("Not played on %(day)s", { day }));
    }
    return lines.map((text) => element("p", "goer-facts", text));
  }
}

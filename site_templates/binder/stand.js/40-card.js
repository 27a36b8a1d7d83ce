// ---- The block that is on, large enough to be read from two meters ------------------------------

// A passage or an exercise of the block: its click at the tempo of the day, and what was reached.
class Goer {
  constructor(rehearsal, key, { name, click, tempo, logged }) {
    Object.assign(this, { rehearsal, key, name, click, tempo, logged });
    const [, number] = tempo;
    this.track = click && sound.able ? sound.clickOf(`${rehearsal.band} ${rehearsal.at} ${key}`, click) : null;
    if (this.track && this.track.atDay !== number) {
      this.track.atDay = number;
      this.track.setBpm(Number(number), true);
    }
  }

  get mark() {
    const [sign, number, beat] = this.tempo;
    return [sign, this.track ? String(Number(this.track.bpm.toFixed(3))) : number, beat];
  }

  step(bpm) {
    this.track.setBpm(bpm);
    redraw();
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
    const tempo = `${this.logged.beat} = ${bpm}`; // as a log has it
    const mine = went.reached[key];
    const words = gettext("Reached %(bpm)s", { bpm });
    const reach = button(`${where} reached ${key}`, "keep reached", mine === tempo ? `✓ ${words}` : words, () => {
      shown.note((before) => {
        const { [key]: kept, ...reached } = before.reached;
        if (kept !== tempo) reached[key] = tempo;
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
    const mark = element("p", "tempo", markOf(this.mark), this.track && sound.isOn(this.track) ? element("span", "beat") : "");
    const made = element("div", "goer", mark, element("div", "tools", ...this.player("card"), ...more));
    if (name) made.append(element("b", "goer-name", name));
    return made;
  }

  // Of several passages: one narrow row for what was reached, behind the notes.
  keptLine() {
    return element("li", "log-line", element("span", "", element("b", "", this.name), " ", markOf(this.mark)), element("div", "tools", ...this.keeper("card")));
  }

  // In the log, small: what was reached in the passage.
  line() {
    const facts = element("span", "", element("b", "", this.name), " ", markOf(this.mark));
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

// One tap says that a passage was not played, another that it was after all.
function notPlayedButton(rehearsal, where, key, name) {
  const isNot = notPlayed(rehearsal, shown.went, moment()).includes(key);
  const words = gettext("Not played");
  const made = button(`${where} not ${key}`, "keep", isNot ? `✓ ${words}` : words, () => turnNotPlayed(key));
  made.setAttribute("aria-pressed", String(isNot));
  made.setAttribute("aria-label", gettext("Not played: %(passage)s", { passage: name }));
  return made;
}

function goersOf(rehearsal, block, place) {
  if (block.passages) {
    return block.passages.map(([at, ...tempo]) => {
      const passage = data.passages[at];
      return new Goer(rehearsal, passage.key, { name: passage.name, click: passage.free ? null : passage.click, tempo, logged: passage.free ? null : passage });
    });
  }
  if (!block.tempo) return [];
  const exercise = data.exercises[block.exercise] || {};
  return [new Goer(rehearsal, `block ${place}`, { name: block.detail, click: exercise.click, tempo: block.tempo })];
}

function dronesOf(rehearsal, block) {
  if (!sound.able) return [];
  const ofPiece = (block.passages || []).flatMap(([at]) => data.passages[at].drones || []);
  const notes = new Map([...bandOf(rehearsal).drones, ...ofPiece].map((note) => [note.title, note]));
  return [...notes.values()].map((note) => {
    const track = sound.droneOf(`${rehearsal.band} ${note.title}`, note);
    const on = sound.isOn(track);
    const made = button(`drone ${note.title}`, "drone", `${on ? "■" : "▶"} ${note.label.join("")}`, () => sound.toggle(track));
    made.setAttribute("aria-pressed", String(on));
    made.setAttribute("aria-label", on ? pgettext("sound", "Stop %(what)s", { what: note.spoken }) : pgettext("sound", "Play %(what)s", { what: note.spoken }));
    return made;
  });
}

// What to watch in a block, and how it is done.
function notesOf(block) {
  const found = (block.passages || []).map(([at]) => [data.passages[at].name, data.passages[at].notes]);
  if (block.exercise !== undefined) found.push(["", data.exercises[block.exercise].notes]);
  return found.filter(([, html]) => html).map(([name, html], _, { length }) => (
    element("div", "notes", length > 1 ? element("h3", "", name) : "", htmlElement("div", "", html))));
}

// The steps of the warm-up, each with when it begins, and the way to the screen that plays it.
function drawWarmUp({ warmUp }) {
  const { steps } = data.warmUps[warmUp];
  const lines = steps.map(({ title, start }) => element("li", "", element("span", "step-time", `${Math.floor(start / MINUTE)}:${String(start % MINUTE).padStart(2, "0")}`), element("span", "", title)));
  const play = views.known.has("class") ? button("to class screen", "wide", gettext("Play the warm-up on the class screen"), () => views.show("class")) : "";
  return [element("ol", "steps", ...lines), play];
}

function titleOf(block) { return block.passages && block.passages.length === 1 && block.how === "passage" ? data.passages[block.passages[0][0]].name : block.title; }

// Below the name: of a passage its piece and measures, of all else what it is.
function underTitle(block) {
  if (titleOf(block) === block.title) return block.detail;
  const passage = data.passages[block.passages[0][0]];
  return besides(block.title, passage.where);
}

// A tempo that all passages of a block have stands once.
function drawTempos(goers) {
  if (goers.length < 2) return goers.map((one) => one.draw());
  const [first] = goers;
  const isSame = goers.every((one) => String(one.mark) === String(first.mark));
  return isSame ? [first.drawTempo("")] : goers.map((one) => one.drawTempo(one.name));
}

function drawBlock(rehearsal, place) {
  const block = rehearsal.blocks[place];
  const goers = goersOf(rehearsal, block, place);
  const made = element("div", "block", element("h2", "block-name", titleOf(block)));
  if (underTitle(block)) made.append(element("p", "block-detail", underTitle(block)));
  made.append(...drawTempos(goers));
  const drones = dronesOf(rehearsal, block);
  if (block.kind === "warm_up" && rehearsal.warmUp) made.append(...drawWarmUp(rehearsal));
  if (block.kind === "notices") made.append(...drawNotices(rehearsal));
  const tuning = element("div", "tools", ...drones);
  const kept = goers.length > 1 ? goers.filter((one) => one.logged).map((one) => one.keptLine()) : [];
  if (block.passages) made.append(...notesOf(block), kept.length ? element("ul", "log-lines", ...kept) : "", tuning); else if (["warm_up", "fundamentals"].includes(block.kind)) made.append(tuning, ...notesOf(block));
  return made;
}

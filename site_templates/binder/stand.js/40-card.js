// ---- The block that is on, large enough to be read from two meters ------------------------------

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
  const play = views.known.has("class") ? button("to class screen", "wide", gettext("Play the warm-up on the class screen"), () => classWindows.play()) : "";
  return [element("ol", "steps", ...lines), play];
}

function titleOf(block) { return block.passages && block.passages.length === 1 && block.how === "passage" ? data.passages[block.passages[0][0]].name : block.title; }

// Measures such as mm. 25–40 stay on one line.
const unparted = (text) => text.replace(/(\d)–(?=\d)/g, "$1\u2060–\u2060").replace(/\. (?=\d)/g, ".\u00a0");

// Below the name: of a passage its piece and measures, of all else what it is.
function underTitle(block) {
  if (titleOf(block) === block.title) return block.detail && unparted(block.detail);
  const passage = data.passages[block.passages[0][0]];
  return unparted(besides(block.title, passage.where));
}

// A tempo that all passages of a block have stands once.
function drawTempos(goers) {
  if (goers.length < 2) return goers.map((one) => one.draw());
  const [first] = goers;
  const isSame = goers.every((one) => String(one.mark) === String(first.mark));
  const logged = goers.filter((one) => one.logged);
  const asPlanned = logged.length > 1 ? [element("div", "tools", allAsPlanned(logged))] : [];
  if (!isSame) return [...goers.map((one) => one.drawTempo(one.name, one.logged ? one.keeper("card") : [])), ...asPlanned];
  const kept = element("ul", "log-lines", ...logged.map((one) => one.keptLine()));
  return [first.drawTempo(""), ...(logged.length ? [kept] : []), ...asPlanned];
}

// One tap keeps all passages of a block at the tempos of the plan; another takes that back.
function allAsPlanned(goers) {
  const planned = Object.fromEntries(goers.map(({ logged, tempo }) => [logged.key, `${logged.beat} = ${tempo[1]}`]));
  const keys = Object.keys(planned);
  const isKept = keys.every((key) => shown.went.reached[key] === planned[key]);
  const words = gettext("All as planned");
  const made = button("all as planned", "keep", isKept ? `✓ ${words}` : words, () => {
    for (const one of goers) one.step(Number(one.tempo[1]), false);
    shown.note((before) => {
      const others = Object.entries(before.reached).filter(([key]) => !keys.includes(key));
      return { reached: Object.fromEntries([...others, ...(isKept ? [] : Object.entries(planned))]), notDone: before.notDone.filter((one) => !keys.includes(one)) };
    });
  });
  made.setAttribute("aria-pressed", String(isKept));
  return made;
}

function drawBlock(rehearsal, place, first = []) {
  const block = rehearsal.blocks[place];
  const goers = goersOf(rehearsal, block, place);
  const made = element("div", "block", element("h2", "block-name", titleOf(block)));
  if (underTitle(block)) made.append(element("p", "block-detail", underTitle(block)));
  made.append(...first, ...drawTempos(goers));
  const drones = dronesOf(rehearsal, block);
  if (block.kind === "warm_up" && rehearsal.warmUp) made.append(...drawWarmUp(rehearsal));
  if (block.kind === "notices") made.append(...drawNotices(rehearsal));
  const tuning = element("div", "tools", ...drones);
  if (block.passages) made.append(...notesOf(block), tuning); else if (["warm_up", "fundamentals"].includes(block.kind)) made.append(tuning, ...notesOf(block));
  return made;
}

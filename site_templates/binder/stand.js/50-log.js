// ---- The log: what the rehearsal reached, as a file for the content folder ----------------------

const MOST_LETTERS = 4000; // of a note; the content takes 5000
const WEEKDAYS = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"]; // as content files have them

// The lines of a note as they were written, without spaces around them, nor what no YAML file may hold.
function noteLines(note) {
  const lines = note.split(/\r\n|[\n\r\x85\u2028\u2029]/).map((line) => line.replace(/[\s\p{Cc}\uFEFF]+/gu, " ").trim());
  return lines.join("\n").trim().split("\n").filter((line, _, { length }) => line || length > 1);
}

// In exactly the form of cycles/<id>/log/*.yaml (handbook/schema/log.py).
function logText(rehearsal, { reached, notDone, over, note, thanked }) {
  const { ensemble, group } = bandOf(rehearsal);
  const weekday = WEEKDAYS[new Date(`${rehearsal.day}T00:00:00Z`).getUTCDay()];
  const lines = [`date: ${weekday} ${rehearsal.day}`, `ensemble: ${ensemble}`];
  if (group) lines.push(`group: ${group}`);
  if (rehearsal.log.start) lines.push(`start: ${rehearsal.log.start}`);
  const names = Object.keys(reached);
  if (names.length) lines.push("reached:", ...names.map((name) => `  - {passage: ${name}, tempo: ${reached[name]}}`));
  if (notDone.length) lines.push(`not_done: [${notDone.join(", ")}]`);
  if (over) lines.push(`over: ${over}`);
  if (thanked.length) lines.push(`thanked: [${thanked.join(", ")}]`);
  const own = noteLines(note);
  if (own.length > 1) lines.push("note: |", ...own.map((line) => (line ? `  ${line}` : "")));
  else if (own.length) lines.push(`note: ${JSON.stringify(own[0])}`);
  return `${lines.join("\n")}\n`;
}

// The log as the file has it: what was said by hand, and what the course says by itself.
function logOf(rehearsal, went) {
  const now = moment();
  return logText(rehearsal, { ...went, notDone: notPlayed(rehearsal, went, now), over: minutesOver(rehearsal, went, now) });
}

const NOTHING = { reached: {}, notDone: [], over: 0, note: "", thanked: [] };
const hasLog = (rehearsal, went) => logOf(rehearsal, went) !== logText(rehearsal, NOTHING);

function writeFile(name, text) {
  const link = element("a", "");
  link.href = URL.createObjectURL(new Blob([text], { type: "text/yaml" }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

const savedAs = (files) => gettext("Saved as %(file)s.", { file: inARow(files) });

function saveLog(rehearsal) {
  const text = logOf(rehearsal, shown.went);
  writeFile(rehearsal.log.file, text);
  shown.note({ saved: text });
  say(savedAs([rehearsal.log.file]));
}

const folderOfLogs = () => element("b", "", `cycles/${data.cycle}/log/`);

// Whether the log is saved, and where to put it.
function savingWords(rehearsal, went) {
  const file = element("b", "", rehearsal.log.file), folder = folderOfLogs();
  if (went.saved === logOf(rehearsal, went)) return gettext("✓ Saved as %(file)s in the downloads of this device. Now put it into the folder %(folder)s of your content.", { file, folder });
  if (went.saved) return gettext("Changed since it was saved as %(file)s: save it again.", { file });
  return gettext("Put the file %(file)s into the folder %(folder)s of your content. The plan then goes on from what was reached.", { file, folder });
}

// A passage that is in no line by its tempo, or was left out by the course.
function leftOutLine(rehearsal, key) {
  const { name } = data.passages.find((one) => one.key === key);
  return element("li", "log-line", element("b", "", name), element("div", "tools", notPlayedButton(rehearsal, "log", key, name)));
}

// Every passage of the day, once, with one tap for what it reached.
function drawReached(rehearsal) {
  const found = new Map();
  for (const [place, block] of rehearsal.blocks.entries()) {
    for (const one of goersOf(rehearsal, block, place)) if (one.logged && !found.has(one.key)) found.set(one.key, one);
  }
  const gone = leftOut(rehearsal, shown.went, moment());
  const others = gone.filter((key) => !found.has(key));
  if (!found.size && !others.length) return [];
  return [
    element("p", "", gettext("What you say nothing of went as planned.")),
    gone.length ? element("p", "log-left-out", gettext("What was dropped or skipped stands as not played. Tap it if you played it after all.")) : "",
    element("ul", "log-lines", ...[...found.values()].map((one) => one.line()), ...others.map((key) => leftOutLine(rehearsal, key))),
  ].filter(Boolean);
}

// What of the log changes while a hand is in a field, or the clock goes on.
const logView = {
  drawn: "", // what was left out when it was drawn

  draw(rehearsal) {
    const fields = [this.minutes(), this.note()];
    this.drawn = this.keyOf(rehearsal);
    const text = element("pre", "log-text");
    text.tabIndex = 0;
    const made = element("section", "log",
      element("h2", "", gettext("Log of this rehearsal")),
      ...this.thanked(rehearsal),
      ...drawReached(rehearsal),
      ...fields,
      element("div", "tools log-save", button("save log", "wide primary", gettext("Save the log file"), () => saveLog(rehearsal))),
      element("p", "log-saving"));
    if (rehearsal.log.there) made.append(element("p", "own", gettext("A log of this rehearsal lies there already: %(file)s. Put both together, or take its place.", { file: rehearsal.log.there })));
    made.append(element("details", "", element("summary", "", gettext("The file as text, to copy")), text));
    this.write(rehearsal, made);
    return made;
  },

  thanked({ thanks: { whom, ids = [] } = {} }) {
    const keep = keepThanked("log thanked", ids);
    return keep.length && whom ? [element("div", "log-thanked", element("span", "", gettext("Thank today: %(whom)s", { whom })), ...keep)] : keep;
  },

  keyOf: (rehearsal) => leftOut(rehearsal, shown.went, moment()).join(" "),

  label: (id, text) => Object.assign(element("label", "", text), { htmlFor: id }),

  // A field is kept at each letter and draws nothing anew, so that the next tap finds its button.
  keep(change) {
    shown.note(change, false);
    this.write(shown.rehearsal, document.querySelector(".log"));
  },

  minutes() {
    const field = element("input", "");
    Object.assign(field, { type: "number", min: 0, max: 120, inputMode: "numeric", id: "log-over" });
    field.dataset.key = "over";
    field.setAttribute("aria-describedby", "log-by-clock");
    field.addEventListener("input", () => this.keep({ over: field.value === "" ? null : Math.min(120, Math.max(0, Math.round(Number(field.value)) || 0)) }));
    const hint = element("p", "log-by-clock", gettext("By the clock of this view. Change it if it was otherwise."));
    hint.id = "log-by-clock";
    return element("div", "log-field", this.label("log-over", gettext("Minutes over the end")), field, hint);
  },

  note() {
    const field = element("textarea", "");
    Object.assign(field, { rows: 3, maxLength: MOST_LETTERS, value: shown.went.note, id: "log-note" });
    field.dataset.key = "note";
    field.addEventListener("input", () => this.keep({ note: field.value }));
    return element("div", "log-field", this.label("log-note", gettext("A note for yourself, without names of students")), field);
  },

  write(rehearsal, made) {
    const { went } = shown;
    const over = minutesOver(rehearsal, went, moment());
    const field = made.querySelector("#log-over");
    if (field !== document.activeElement) field.value = over;
    made.querySelector("#log-by-clock").hidden = went.over !== null || !over;
    const text = logOf(rehearsal, went);
    const shownText = made.querySelector(".log-text");
    const isSame = shownText.textContent === text && shownText.dataset.saved === went.saved;
    if (isSame) return;
    shownText.textContent = text;
    shownText.dataset.saved = went.saved;
    const saving = made.querySelector(".log-saving");
    saving.replaceChildren(savingWords(rehearsal, went));
    saving.classList.toggle("is-saved", went.saved === text);
  },

  tick(rehearsal) {
    const made = document.querySelector(".log");
    if (!made) return;
    if (this.drawn !== this.keyOf(rehearsal)) redraw(); else this.write(rehearsal, made);
  },
};

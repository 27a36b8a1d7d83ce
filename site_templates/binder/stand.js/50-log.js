// ---- The log: what the rehearsal reached, as a file for the content folder ----------------------

const WEEKDAYS = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"]; // as content files have them

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
  const words = note.split(/\s+/).filter(Boolean).join(" ");
  if (words) lines.push(`note: ${JSON.stringify(words)}`);
  return `${lines.join("\n")}\n`;
}

function saveLog(rehearsal) {
  const link = element("a", "");
  link.href = URL.createObjectURL(new Blob([logText(rehearsal, shown.went)], { type: "text/yaml" }));
  link.download = rehearsal.log.file;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  say(gettext("Saved as %(file)s.", { file: rehearsal.log.file }));
}

// Every passage of the day, once, with one tap for what it reached.
function drawReached(rehearsal) {
  const found = new Map();
  for (const [place, block] of rehearsal.blocks.entries()) {
    for (const one of goersOf(rehearsal, block, place)) if (one.logged && !found.has(one.key)) found.set(one.key, one);
  }
  if (!found.size) return [];
  return [
    element("p", "", gettext("What you say nothing of went as planned.")),
    element("ul", "log-lines", ...[...found.values()].map((one) => one.line())),
  ];
}

function drawLog(rehearsal) {
  const { went } = shown;
  const minutes = element("input", "");
  Object.assign(minutes, { type: "number", min: 0, max: 120, value: went.over, inputMode: "numeric", id: "log-over" });
  minutes.dataset.key = "over";
  minutes.addEventListener("change", () => shown.note({ over: Math.min(120, Math.max(0, Math.round(Number(minutes.value)) || 0)) }));
  const note = element("textarea", "");
  Object.assign(note, { rows: 3, value: went.note, id: "log-note" });
  note.dataset.key = "note";
  note.addEventListener("input", () => { went.note = note.value; kept.write(rehearsal, went); drawText(); });
  const label = (id, text) => Object.assign(element("label", "", text), { htmlFor: id });
  const text = element("pre", "log-text", logText(rehearsal, went));
  text.tabIndex = 0;
  const drawText = () => { text.textContent = logText(rehearsal, went); };
  const folder = `cycles/${data.cycle}/log/`;
  const made = element("section", "log",
    element("h2", "", gettext("Log of this rehearsal")),
    ...drawReached(rehearsal),
    element("div", "log-field", label("log-over", gettext("Minutes over the end")), minutes),
    element("div", "log-field", label("log-note", gettext("A note for yourself, without names of students")), note),
    element("div", "tools", button("save log", "wide primary", gettext("Save the log file"), () => saveLog(rehearsal))),
    element("p", "", gettext("Put the file %(file)s into the folder %(folder)s of your content. The plan then goes on from what was reached.", { file: element("b", "", rehearsal.log.file), folder: element("b", "", folder) })));
  if (rehearsal.log.there) made.append(element("p", "own", gettext("A log of this rehearsal lies there already: %(file)s. Put both together, or take its place.", { file: rehearsal.log.there })));
  const fold = element("details", "", element("summary", "", gettext("The file as text, to copy")), text);
  made.append(fold);
  return made;
}

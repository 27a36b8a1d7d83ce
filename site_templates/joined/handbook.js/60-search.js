// ---- Search ------------------------------------------------------------------------

// What one letter is written as by many hands: without accents and tones; Arabic without vowel
// signs, with one alif, one ya, one ha (common practice of Arabic search, no source).
const fold = (text) => text.normalize("NFD").replace(/[\u0300-\u036f\u064b-\u065f\u0670\u0640]/g, "").toLowerCase()
  .replace(/\u0111/g, "d").replace(/[\u0622\u0623\u0625\u0671]/g, "\u0627").replace(/\u0649/g, "\u064a").replace(/\u0629/g, "\u0647")
  .replace(/[\u0660-\u0669\u06f0-\u06f9]/g, (digit) => digit.charCodeAt(0) & 15)
  .replace(/([a-g])\u266d/g, "$1b").replace(/([a-g])\u266f/g, "$1#").replace(/[\u2018\u2019']/g, "").replace(/[\u2010-\u2013]/g, "-");

// A word keeps `:` `/` `.` between digits (5:45, 6/8) and a sharp sign; all else divides.
// Measures and notes become one word however they are typed: `m14` for m. 14, measure 14
// and bar 14; `bb` for B flat, B-flat and Bflat; `f#` for F sharp. Digits are read as 0 to 9.
const MEASURES = /(?<![\p{L}\d])(?:mm?|meas|measures?|bars?|compas(?:es)?|cc?|o(?: nhip)?|mezi|\u0645\u0627\u0632\u0648\u0631\u0647|\u0627\u0644\u0645\u0627\u0632\u0648\u0631\u0647|\u0645|\u7b2c)\.?\s*(\d+)(?:\s*(?:-|to|a|den|rive|\u0627\u0644\u064a)\s*(\d+))?(?:\s*\u5c0f\u8282)?(?![\d:/])/gu;
const NOTES = /(?<![\p{L}\d])([a-g])[\s-]?(flat|sharp)(?![\p{L}\d])/gu;
// Names of notes with their sign, said do, re, mi (in Vietnamese, Arabic and Haitian Creole as well) or, in Chinese, sign first.
const SYLLABLES = { do: "c", re: "d", mi: "e", fa: "f", sol: "g", la: "a", si: "b",
  "\u062f\u0648": "c", "\u0631\u064a": "d", "\u0645\u064a": "e", "\u0641\u0627": "f", "\u0635\u0648\u0644": "g", "\u0644\u0627": "a", "\u0633\u064a": "b" };
const SUNG = new RegExp(`(?<![\\p{L}\\d])(${Object.keys(SYLLABLES).join("|")})\\s*(?:(\u266d|bemol|giang|\u0628\u064a\u0645\u0648\u0644)|\u266f|#|sostenido|thang|dyez|\u062f\u064a\u064a\u0632)(?![\\p{L}\\d])`, "gu");
const SIGN_FIRST = /([\u964d\u5347])([a-g])(?![\p{L}\d])/gu;

// In Chinese, which has no spaces, each two neighbors are a word; Arabic words go without their
// article and what is written together with it.
const HAN = /\p{Script=Han}/u;
const pairs = (run) => (run.length < 3 ? [run] : Array.from({ length: run.length - 1 }, (_, at) => run.slice(at, at + 2)));
const plainWords = (word) => (HAN.test(word)
  ? word.split(/(\p{Script=Han}+)/u).filter(Boolean).flatMap((run) => (HAN.test(run) ? pairs(run) : [run]))
  : [word.replace(/^(?:[\u0648\u0641\u0628\u0643]?\u0627\u0644|\u0644\u0644)(?=\p{L}{3})/u, "")]);

const words = (text) => (fold(text)
  .replace(MEASURES, (all, first, last) => (last ? ` m${first} m${last} ` : ` m${first} `))
  .replace(NOTES, (all, letter, sign) => letter + (sign === "flat" ? "b" : "#"))
  .replace(SUNG, (all, name, flat) => SYLLABLES[name] + (flat ? "b" : "#"))
  .replace(SIGN_FIRST, (all, sign, letter) => ` ${letter}${sign === "\u964d" ? "b" : "#"} `)
  .replace(/(\d)([ap]m)\b/g, "$1 $2")
  .match(/\d+(?:[:/.]\d+)*|\p{L}+\d+|\p{L}+#?/gu) || []).flatMap(plainWords);

// Words that any question has, in the languages that have a catalogue; folded like all else.
const SMALL = new Set([
  "a an and are at be can do does for have how i in is it me my need next of on our should the there to we what when where which who with you your",
  "el la los las de del que un una y en con por para mi mis su sus se hay es son donde cuando cual como quien a hora",
  "la gi o dau khi nao cua cho va cac nhung con toi em duoc phai co ai luc vao gio",
  "\u0641\u064a \u0645\u0646 \u0627\u0644\u064a \u0639\u0644\u064a \u0645\u0627 \u0645\u0627\u0630\u0627 \u0645\u062a\u064a \u0627\u064a\u0646 \u0643\u064a\u0641 \u0647\u0644 \u0648 \u0647\u0648 \u0647\u064a \u0639\u0646 \u0645\u0639 \u0633\u0627\u0639\u0647",
  "ki kisa kote kile kijan pou nan ak yo mwen pitit se gen sou le m l w a an la ap al dat si",
  "\u4ec0\u4e48 \u54ea\u91cc \u5728\u54ea \u600e\u4e48 \u65f6\u5019 \u51e0\u70b9 \u4e48\u65f6",
].join(" ").split(" "));

function queryWords(text) {
  const found = words(text);
  const telling = found.filter((word) => !SMALL.has(word));
  return telling.length ? telling : found;
}

function loadScript(source) {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = source;
    script.onload = resolve;
    script.onerror = reject;
    document.head.append(script);
  });
}

let engine = null;

function loadEngine() {
  if (!engine) {
    engine = Promise.all([
      loadScript(siteTop + masthead.dataset.indexLibrary),
      loadScript(root + masthead.dataset.index), // a script, since fetch reads no files from disk
    ]).then(() => {
      const index = new MiniSearch({
        idField: "id", fields: ["t", "k", "x", "p"], tokenize: words, processTerm: (term) => term,
        searchOptions: { boost: { t: 6, k: 3, x: 2, p: 1 }, tokenize: queryWords, processTerm: (term) => term },
      });
      const loaded = { index, rows: globalThis.handbookSearchRows, whole: null };
      indexFrom(loaded, 0);
      return loaded;
    });
    engine.catch(() => { engine = null; });
  }
  return engine;
}

function indexFrom({ index, rows }, first) {
  index.addAll(rows.slice(first).map((row, place) => ({ id: first + place, ...row })));
}

// Once something is typed, the rows of all cycles are loaded: first of the one that is on.
function loadWhole(loaded, told) {
  if (!loaded.whole) {
    const parts = [...globalThis.handbookSearchParts];
    const day = today();
    const on = parts.findLastIndex((part) => part.e >= day);
    const [first] = parts.splice(Math.max(0, on), 1);
    const add = async (part) => {
      await loadScript(root + part.u);
      indexFrom(loaded, loaded.index.documentCount);
    };
    loaded.whole = (first ? add(first) : Promise.resolve())
      .then(() => { told(); return Promise.all(parts.map(add)); });
    loaded.whole.catch(() => { engine = null; });
  }
  return loaded.whole;
}

// The cycles that are neither on nor the next one: what is asked for is seldom of them.
function laterCycles(day) {
  const cycles = JSON.parse(masthead.dataset.cycles || "[]");
  const shown = cyclesOf(cycles, day);
  return cycles.filter((cycle) => cycle.first > day && !shown.includes(cycle)).map((cycle) => `${cycle.id}/`);
}

// What is over stands behind what is to come; of what is to come, the nearest stands first.
function timely(row, day, later) {
  if (row.e && row.e < day) return 0.3;
  if (row.e && later.some((cycle) => row.u.startsWith(cycle))) return 0.6;
  if (!row.d) return 1;
  return row.d < day ? 0.3 : 1 + 7 / (7 + dayNumber(row.d) - dayNumber(day));
}

function find({ index, rows }, query) {
  const typed = queryWords(query);
  if (!typed.length) return [];
  const last = typed[typed.length - 1];
  const options = {
    prefix: (term) => !/^m\d/.test(term) && ((term === last && term.length > 1) || term.length > 3),
    fuzzy: (term) => (/\d/.test(term) || term.length < 5 ? false : term.length < 8 ? 1 : 2),
    weights: { fuzzy: 0.2, prefix: 0.5 },
  };
  const hits = index.search(query, { ...options, combineWith: "OR" });
  const phrase = words(query).join(" ");
  const day = today();
  const own = ownPlaces();
  const later = laterCycles(day);
  const score = (hit) => {
    const row = rows[hit.id];
    const title = words(row.t).join(" ");
    // Who types three words means all three; an answer to two of them stands far behind.
    const share = new Set(hit.queryTerms).size / new Set(typed).size;
    const near = own.some((place) => row.u.includes(place)) ? 1.3 : 1;
    return hit.score * share ** 4 * timely(row, day, later) * near * (row.w || 1) * (title === phrase ? 8 : title.startsWith(`${phrase} `) ? 2 : 1);
  };
  return hits.map((hit) => ({ row: rows[hit.id], score: score(hit) })).sort((a, b) => b.score - a.score).slice(0, 20);
}

// The pages of the reader's own band and part come a little before those of others.
function ownPlaces() {
  const band = kept.get("ensemble");
  const part = band && kept.get(`instrument-${band}`);
  return [band && `/${band}/`, part && `/${band}/part/${part}/`].filter(Boolean);
}

// What a question comes down to: what is nearest of the best rows that have an answer to it.
// They are not over, all that was typed is what they are about, and of players' parts they
// are of the reader's own. What a word means is the answer if nothing else is.
function answersIn(found, query) {
  const typed = queryWords(query);
  const day = today();
  const own = ownPlaces();
  const about = (row) => {
    const title = words(row.t);
    if (row.u.startsWith("words/")) return title.join(" ") === typed.join(" ");
    if (row.u.includes("/part/") && !own.some((place) => row.u.includes(`${place}#`))) return false;
    const told = [...title, ...words(`${row.k.split("|")[0]} ${row.a}`)];
    return typed.every((one) => told.some((word) => word === one || (one.length > 3 && word.startsWith(one))));
  };
  const fit = found.slice(0, 6).filter(({ row }) => row.a && !(row.d < day) && !(row.e < day) && about(row));
  const dated = fit.filter(({ row }) => row.d);
  const best = (dated.length ? dated : fit).filter((hit, _, [first]) => hit.score > first.score * 0.7);
  const next = best.reduce((sooner, hit) => (hit.row.d < sooner.row.d ? hit : sooner), best[0]);
  const page = ({ row }) => row.u.split("#")[0];
  const others = best.filter((hit) => hit.row.d && hit.row.d === next.row.d && page(hit) !== page(next));
  return next ? [next, ...others].map((hit) => hit.row) : []; // other bands have theirs on the same day
}

// On a page from right to left a part in Latin letters stays from left to right as a whole, and a
// name in Latin letters does not draw what follows its comma to its own side.
const RIGHT_TO_LEFT = /[\u0590-\u08ff]/;
function sided(text) {
  if (document.documentElement.dir !== "rtl") return text;
  return text.split(" \u00b7 ").map((part) => (RIGHT_TO_LEFT.test(part) || !/\p{L}/u.test(part)
    ? part.replace(/[\u060c\u061b,;:](?=\s)/g, "$&\u200f")
    : `\u2066${part}\u2069`)).join(" \u00b7\u200f ");
}

// Without spaces a stretch is counted in letters, and what is marked is what stands together.
function hanExcerpt(text, typed) {
  const line = document.createDocumentFragment();
  const at = Math.max(0, text.search(new RegExp(typed.join("|"), "u")) - 20);
  const shown = text.slice(at, at + 120);
  if (at > 0) line.append("\u2026");
  for (const part of shown.split(new RegExp(`((?:${typed.join("|")})+)`, "u"))) {
    const isHit = typed.some((one) => part.startsWith(one));
    line.append(isHit ? element("mark", "", part) : part);
  }
  if (at + 120 < text.length) line.append("\u2026");
  return line;
}

// Show the stretch of text that holds what was typed, with the words marked.
function excerpt(text, typed) {
  if (typed.some((one) => HAN.test(one))) return hanExcerpt(text, typed);
  const parts = sided(text).split(/(\s+)/);
  // A short word is what was typed only if it stands alone: `up` is not what `Warm-up` is about.
  const hit = (part) => words(part).some((word, _, own) => typed.some((one) => (one.length > 2
    ? word.startsWith(one) : word === one && own.every((other) => typed.includes(other)))));
  const at = Math.max(0, parts.findIndex(hit) - 10);
  const shown = parts.slice(at, at + 50);
  const line = document.createDocumentFragment();
  if (at > 0) line.append("… ");
  for (const part of shown) {
    if (!hit(part)) { line.append(part); continue; }
    const [, before, word, after] = part.match(/^([^\p{L}\p{N}]*)(.*?)([^\p{L}\p{N}\u266d-\u266f]*)$/u);
    const mark = document.createElement("mark");
    mark.textContent = word;
    line.append(before, mark, after);
  }
  if (at + 50 < parts.length) line.append(" …");
  return line;
}

// Of what is said of several bands, only what is the reader's own; all of it if nothing is.
function ownWords(text) {
  const band = kept.get("ensemble");
  if (!band) return text;
  const names = JSON.parse(masthead.dataset.cycles || "[]").flatMap((cycle) => cycle.ensembles);
  const isOwn = ([, path]) => path.endsWith(`/${band}/`);
  const own = names.filter(isOwn).map(([name]) => name);
  const others = names.filter((one) => !isOwn(one)).map(([name]) => name);
  const parts = text.split(" · ");
  const fit = parts.filter((part) => own.some((name) => part.includes(name)) || !others.some((name) => part.includes(name)));
  return fit.length ? fit.join(" · ") : text;
}

function resultLine(row, typed, isAnswer) {
  const item = document.createElement("li");
  const link = document.createElement("a");
  link.href = address(root + row.u);
  const add = (tag, content, isOfTitle) => {
    const line = document.createElement(tag);
    if (tag === "span") line.className = "small";
    if (isOfTitle) line.translate = false;
    line.append(content);
    link.append(line);
  };
  if (isAnswer) {
    item.className = "answer";
    add("b", sided(ownWords(row.a)), false);
    add("span", sided(row.d ? `${row.t} · ${writtenDay(row.d, "monthDay")}` : row.t), true);
  } else {
    add("b", excerpt(row.t, typed), true);
    if (row.p) add("span", sided(row.p), true);
    if (row.x) add("span", excerpt(ownWords(row.x), typed), false);
  }
  item.append(link);
  return item;
}

function show(found, query, list, state, help) {
  const typed = queryWords(query);
  const answers = answersIn(found, query);
  const others = found.map((hit) => hit.row).filter((row) => !answers.includes(row));
  list.replaceChildren(
    ...answers.map((row) => resultLine(row, typed, true)),
    ...others.map((row) => resultLine(row, typed, false)),
  );
  // How many there are is seen; who cannot see it is told.
  state.classList.toggle("vh", found.length > 0);
  state.textContent = !query.trim()
    ? gettext("Type a piece, a measure, a tempo, a date, a word.")
    : found.length
      ? ngettext("%(num)s found", "%(num)s found", found.length)
      : gettext("Nothing found.");
  help.hidden = !query.trim() || found.length > 0;
}

// The key `/` opens search, but where one writes, and for who has it off: a key alone is in
// the way of who speaks to the device (WCAG 2.2, 2.1.4).
function slashOpens(dialog, open) {
  const label = document.createElement("label");
  label.className = "search-key small";
  const choice = document.createElement("input");
  choice.type = "checkbox";
  choice.checked = kept.get("slash") !== "off";
  choice.addEventListener("change", () => kept.set("slash", choice.checked ? "on" : "off"));
  const key = document.createElement("kbd");
  key.append("/");
  label.append(choice, " ", gettext("The %(key)s key opens search", { key }));
  dialog.append(label);
  document.addEventListener("keydown", (event) => {
    if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || !choice.checked) return;
    if (document.querySelector("dialog[open]") || event.target.closest("input, textarea, select, [contenteditable]")) return;
    event.preventDefault();
    open();
  });
}

function search() {
  const dialog = document.querySelector("[data-search]");
  if (!dialog || !dialog.showModal) return;
  const input = dialog.querySelector("input");
  const list = dialog.querySelector("[data-search-results]");
  const state = dialog.querySelector("[data-search-state]");
  const help = dialog.querySelector("[data-search-help]");
  const run = async () => {
    const query = input.value;
    try {
      const loaded = await loadEngine();
      const tell = () => {
        if (list.contains(document.activeElement)) return; // nothing moves under who is choosing
        show(find(loaded, input.value), input.value, list, state, help);
      };
      if (query !== input.value) return;
      tell();
      if (query.trim()) { await loadWhole(loaded, tell); if (query === input.value) tell(); }
      if (query === input.value) dialog.dataset.answered = query;
    } catch {
      state.textContent = gettext("Search could not be loaded. The menu leads everywhere.");
      help.hidden = false;
    }
  };
  const open = () => { dialog.showModal(); input.select(); run(); };
  for (const button of all("[data-open-search]")) {
    button.hidden = false;
    button.addEventListener("click", open);
  }
  slashOpens(dialog, open);
  input.addEventListener("input", run);
  input.addEventListener("keydown", (event) => {
    const first = list.querySelector("a");
    if (event.key === "Enter") { event.preventDefault(); if (first) first.click(); }
    if (event.key === "ArrowDown" && first) { event.preventDefault(); first.focus(); }
  });
  list.addEventListener("keydown", (event) => {
    const item = event.target.closest("li");
    const next = event.key === "ArrowDown" ? item.nextElementSibling : event.key === "ArrowUp" ? item.previousElementSibling : null;
    if (next) { event.preventDefault(); next.querySelector("a").focus(); }
    else if (event.key === "ArrowUp") { event.preventDefault(); input.focus(); }
  });
  dialog.addEventListener("click", (event) => { if (event.target.closest("a")) dialog.close(); });
}


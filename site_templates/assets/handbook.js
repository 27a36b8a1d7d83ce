"use strict";
// What only the reader's own device knows: which day it is, which ensemble is theirs,
// light or dark, and what they search for. Without this script every fact still stands
// on the page. The script only adds classes, text and `hidden`, so that pages
// translated by the browser keep working.

const masthead = document.querySelector(".masthead");
const root = masthead ? masthead.dataset.root : "./";
const wide = window.matchMedia("(min-width: 62rem)");
const all = (selector, within = document) => [...within.querySelectorAll(selector)];

// ---- The day, in the program's own time zone -------------------------------------

function today() {
  const zone = masthead ? masthead.dataset.zone : undefined;
  try {
    return new Intl.DateTimeFormat("en-CA", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" }).format(new Date());
  } catch {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  }
}

const dayNumber = (iso) => Math.round(Date.parse(`${iso}T00:00:00Z`) / 86400000);

function markDays(now) {
  for (const item of all("[data-day]")) {
    item.classList.toggle("is-past", item.dataset.day < now);
    item.classList.toggle("is-today", item.dataset.day === now);
  }
  for (const item of all("[data-from][data-to]")) {
    item.classList.toggle("is-now", item.dataset.from <= now && now <= item.dataset.to);
  }
  for (const chart of all("svg .rungs")) {
    const next = all(".rung", chart).find((rung) => rung.dataset.day >= now);
    if (next) next.classList.add("is-next");
  }
  for (const item of all("[data-days-to]")) {
    const days = dayNumber(item.dataset.daysTo) - dayNumber(now);
    item.textContent = days < 0 ? "" : days === 0 ? "today" : days === 1 ? "tomorrow" : `in ${days} days`;
  }
  for (const item of all("[data-cycle-ends]")) {
    const state = item.querySelector("[data-state]");
    if (state) state.textContent = item.dataset.cycleEnds < now ? "(finished)" : "(not finished yet)";
  }
}

// Of several stretches of time, show the one that is on, or else the next one.
function pick(container, now) {
  const choices = [...container.children].filter((child) => child.dataset.to);
  const over = [...container.children].find((child) => "over" in child.dataset);
  const isOver = container.dataset.until && container.dataset.until < now;
  const chosen = isOver ? undefined : choices.find((child) => child.dataset.to >= now);
  const name = chosen && chosen.dataset.from <= now && chosen.querySelector("[data-week-name]");
  if (name) name.textContent = "this week";
  for (const child of choices) {
    child.hidden = child !== chosen;
    if (child.tagName === "DETAILS") child.open = child === chosen;
  }
  if (over) over.hidden = Boolean(chosen);
  container.dataset.picked = "";
}

function drawToday(now) {
  for (const strip of all("svg.strip")) {
    const offset = dayNumber(now) - dayNumber(strip.dataset.first);
    if (offset < 0 || offset >= Number(strip.dataset.days)) continue;
    const x = Number(strip.dataset.left) + ((offset + 0.5) / Number(strip.dataset.days)) * Number(strip.dataset.width);
    const height = strip.viewBox.baseVal.height;
    const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
    line.setAttribute("class", "today-line");
    line.setAttribute("d", `M${x} 14V${height - 6}`);
    strip.append(line);
  }
}

function showAllWeeks() {
  for (const button of all("[data-show-all]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      for (const week of all(".week", button.closest("section"))) week.hidden = false;
      button.hidden = true;
    });
  }
}

function foldPastDates(now) {
  const button = document.querySelector("[data-show-past]");
  const past = all(".event.is-past");
  if (!button || !past.length || !all(".event").some((event) => event.dataset.day >= now)) return;
  const months = all(".cal-month").filter((month) => month.dataset.to < now);
  const set = (hidden) => [...past, ...months].forEach((item) => { item.hidden = hidden; });
  set(true);
  button.hidden = false;
  button.addEventListener("click", () => { set(false); button.hidden = true; });
}

// Of the events on the first page only the next few are shown, of one band if it is chosen.
function nextEvents(now, id) {
  for (const fold of all("[data-next]")) {
    const events = all(".event", fold);
    const next = events
      .filter((event) => event.dataset.day >= now && (!id || event.dataset.who.split(" ").includes(id)))
      .slice(0, Number(fold.dataset.next));
    for (const event of events) event.hidden = !next.includes(event);
    fold.hidden = !next.length;
    fold.open = true;
  }
}

// What changed: a note at the top of a page is gone after two weeks, a line once it is over.
function foldOldNews(now) {
  for (const note of all("[data-news]")) {
    const lines = all("[data-until]", note);
    for (const line of lines) line.hidden = line.dataset.until < now;
    const over = lines.length === all(".news-line", note).length && lines.every((line) => line.hidden);
    note.hidden = note.dataset.until < now || over;
  }
}

// What changed since this reader last looked; only the number of the publication is kept.
function sinceLastLook(now, id) {
  const block = document.querySelector("[data-since]");
  if (!block) return;
  const name = `seen-${new URL(root, location.href).pathname}`;
  const seen = Number(kept.get(name));
  if (!seen) kept.set(name, block.dataset.since);
  const fold = block.querySelector("details");
  if (!fold) return;
  const number = Math.max(seen, Number(block.dataset.oldest));
  const isNew = ({ first, last, until, who }) => seen && Number(first) <= number && number <= Number(last)
    && !(until < now) && (!id || !who || who.split(" ").includes(id));
  const lines = all("li", fold);
  const shown = lines.filter((line) => isNew(line.dataset)).slice(0, 6);
  for (const line of lines) line.hidden = !shown.includes(line);
  fold.hidden = !shown.length;
  fold.open = true;
  fold.querySelector("[data-since-name]").textContent = "New since you last looked";
  const button = fold.querySelector("[data-got-it]");
  button.hidden = false;
  button.onclick = () => {
    kept.set(name, block.dataset.since);
    fold.hidden = true;
    document.getElementById("main").focus();
  };
}

// On the page of changes the band that was chosen before is chosen again.
function keepFilter() {
  const radios = all("[data-filter-kept] input");
  const before = kept.get("ensemble");
  for (const radio of radios) {
    if (radio.value === before) radio.checked = true;
    radio.addEventListener("change", () => kept.set("ensemble", radio.value));
  }
}

// A tab on a phone stays open for weeks: begin anew when it is looked at on another day.
function followTheDay(now) {
  const look = () => { if (!document.hidden && today() !== now) location.reload(); };
  document.addEventListener("visibilitychange", look);
  window.addEventListener("pageshow", look);
}

// ---- Opened from a folder or a zip, without a server ------------------------------

const fromDisk = location.protocol === "file:";
const address = (path) => (fromDisk ? path.replace(/(^|\/)(?=#|$)/, "$1index.html") : path);

function linkFiles() {
  if (!fromDisk) return;
  for (const link of all("a[href]")) {
    const href = link.getAttribute("href");
    if (!/^([a-z]+:|#)/i.test(href)) link.setAttribute("href", address(href));
  }
}

// ---- Preferences, kept on this device only ----------------------------------------

const kept = {
  get(key) { try { return localStorage.getItem(`handbook-${key}`); } catch { return null; } },
  set(key, value) { try { localStorage.setItem(`handbook-${key}`, value); } catch { /* not kept, then */ } },
};

function chooser() {
  const group = document.querySelector("[data-chooser]");
  if (!group) return;
  const buttons = all("[data-choose]", group);
  if (buttons.length < 3) return;
  const choose = (id) => {
    for (const button of buttons) button.setAttribute("aria-pressed", String(button.dataset.choose === id));
    for (const card of all("[data-ensemble]")) {
      card.hidden = Boolean(id) && card.dataset.ensemble !== id;
      // All bands on a phone: a line each, so that one screen shows them.
      for (const week of all(".week:not([hidden])", card)) week.open = Boolean(id) || wide.matches;
    }
    nextEvents(now, id);
    sinceLastLook(now, id);
    kept.set("ensemble", id);
  };
  group.hidden = false;
  for (const button of buttons) button.addEventListener("click", () => choose(button.dataset.choose));
  const before = kept.get("ensemble");
  choose(buttons.some((button) => button.dataset.choose === before) ? before : "");
}

function themeChoice() {
  const choice = document.querySelector("[data-theme-choice]");
  if (!choice) return;
  choice.hidden = false;
  const set = document.documentElement.dataset.theme || "system";
  for (const radio of all("input", choice)) {
    radio.checked = radio.value === set;
    radio.addEventListener("change", () => {
      if (radio.value === "system") delete document.documentElement.dataset.theme;
      else document.documentElement.dataset.theme = radio.value;
      kept.set("theme", radio.value);
    });
  }
}

// On paper nothing can be unfolded: the weeks that show are printed whole.
function unfoldForPaper() {
  window.addEventListener("beforeprint", () => {
    for (const week of all(".week:not([hidden])")) week.open = true;
  });
}

function openTarget() {
  const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const details = target && target.closest("details");
  if (details) { details.hidden = false; details.open = true; target.scrollIntoView(); }
}

function menu() {
  const details = document.querySelector("details.menu");
  if (!details) return;
  document.addEventListener("click", (event) => { if (!details.contains(event.target)) details.open = false; });
  details.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && details.open) { details.open = false; details.querySelector("summary").focus(); }
  });
}

// ---- Search ------------------------------------------------------------------------

const fold = (text) => text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
  .replace(/([a-g])\u266d/g, "$1b").replace(/([a-g])\u266f/g, "$1#").replace(/[\u2018\u2019']/g, "").replace(/[\u2010-\u2013]/g, "-");

// A word keeps `:` `/` `.` between digits (5:45, 6/8) and a sharp sign; all else divides.
// Measures and notes become one word however they are typed: `m14` for m. 14, measure 14
// and bar 14; `bb` for B flat, B-flat and Bflat; `f#` for F sharp.
const MEASURES = /\b(?:mm?|meas|measures?|bars?|compas(?:es)?)\.?\s*(\d+)(?:\s*(?:-|to|a)\s*(\d+))?(?![\d:/])/g;
const NOTES = /(?<![\p{L}\d])([a-g])[\s-]?(flat|sharp)(?![\p{L}\d])/gu;

const words = (text) => fold(text)
  .replace(MEASURES, (all, first, last) => (last ? ` m${first} m${last} ` : ` m${first} `))
  .replace(NOTES, (all, letter, sign) => letter + (sign === "flat" ? "b" : "#"))
  .replace(/(\d)([ap]m)\b/g, "$1 $2")
  .match(/\d+(?:[:/.]\d+)*|\p{L}+\d+|\p{L}+#?/gu) || [];

const SMALL = new Set(["a", "an", "and", "are", "at", "be", "can", "do", "does", "for", "have", "how", "i", "in", "is", "it", "me", "my", "need", "next", "of", "on", "our", "should", "the", "there", "to", "we", "what", "when", "where", "which", "who", "with", "you", "your", "el", "la", "los", "las", "de", "del", "que", "un", "una", "y"]);

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
      loadScript(root + masthead.dataset.indexLibrary),
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

// What is over stands behind what is to come; of what is to come, the nearest stands first.
function timely(row, day) {
  if (row.e && row.e < day) return 0.3;
  if (!row.d) return 1;
  return row.d < day ? 0.5 : 1 + 7 / (7 + dayNumber(row.d) - dayNumber(day));
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
  const score = (hit) => {
    const row = rows[hit.id];
    const title = words(row.t).join(" ");
    // Who types three words means all three; an answer to two of them stands far behind.
    const share = new Set(hit.queryTerms).size / new Set(typed).size;
    return hit.score * share ** 4 * timely(row, day) * (row.w || 1) * (title === phrase ? 8 : title.startsWith(`${phrase} `) ? 2 : 1);
  };
  return hits.map((hit) => ({ row: rows[hit.id], score: score(hit) })).sort((a, b) => b.score - a.score).slice(0, 20).map((hit) => hit.row);
}

// Show the stretch of text that holds what was typed, with the words marked.
function excerpt(text, typed) {
  const parts = text.split(/(\s+)/);
  const hit = (part) => words(part).some((word) => typed.some((one) => word === one || (one.length > 2 && word.startsWith(one))));
  const at = Math.max(0, parts.findIndex(hit) - 10);
  const shown = parts.slice(at, at + 50);
  const line = document.createDocumentFragment();
  if (at > 0) line.append("… ");
  for (const part of shown) {
    if (hit(part)) { const mark = document.createElement("mark"); mark.textContent = part; line.append(mark); } else line.append(part);
  }
  if (at + 50 < parts.length) line.append(" …");
  return line;
}

function show(found, query, list, state, help) {
  const typed = queryWords(query);
  list.replaceChildren(...found.map((row) => {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = address(root + row.u);
    const title = document.createElement("b");
    title.translate = false;
    title.append(excerpt(row.t, typed));
    link.append(title);
    if (row.p) { const place = document.createElement("span"); place.className = "small"; place.textContent = row.p; link.append(place); }
    if (row.x) { const text = document.createElement("span"); text.className = "small"; text.append(excerpt(row.x, typed)); link.append(text); }
    item.append(link);
    return item;
  }));
  state.textContent = !query.trim()
    ? "Type a piece, a measure, a tempo, a date, a word."
    : found.length
      ? `${found.length === 20 ? "The best 20" : found.length} ${found.length === 1 ? "answer" : "answers"}`
      : "Nothing found.";
  help.hidden = !query.trim() || found.length > 0;
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
      state.textContent = "Search could not be loaded. The menu leads everywhere.";
      help.hidden = false;
    }
  };
  for (const button of all("[data-open-search]")) {
    button.hidden = false;
    button.addEventListener("click", () => { dialog.showModal(); input.select(); run(); });
  }
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

const now = today();
followTheDay(now);
linkFiles();
markDays(now);
for (const container of all("[data-pick]")) pick(container, now);
drawToday(now);
showAllWeeks();
foldPastDates(now);
nextEvents(now, "");
foldOldNews(now);
sinceLastLook(now, "");
chooser();
keepFilter();
themeChoice();
menu();
search();
openTarget();
unfoldForPaper();
window.addEventListener("hashchange", openTarget);

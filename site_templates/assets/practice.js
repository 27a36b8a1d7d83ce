"use strict";
// A part's page: tonight's list, what is ticked (kept on this device only, never sent), and
// the rows that open. Without this script the same lists stand there, with all weeks in them.

(() => {
  // ---- Ticks of the lists -----------------------------------------------------------

  kept.set("can-keep", "yes");
  const canKeep = kept.get("can-keep") === "yes";

  // A box before a row: it is ticked if it was done within the days; ticked now, it is done today.
  function tickBox(list, row, first, last) {
    const { practice: part, tickWord } = list.dataset;
    const label = document.createElement("label");
    label.className = "tick";
    const box = document.createElement("input");
    box.type = "checkbox";
    const name = document.createElement("span");
    name.className = "vh";
    name.textContent = `${tickWord} ${row.dataset.tickName}`;
    label.append(box, name);
    row.prepend(label);
    const look = () => { box.checked = practiced.within(part, row.dataset.tick, first, last); };
    box.addEventListener("change", () => {
      practiced.tick(part, row.dataset.tick, box.checked, today(), first);
      document.dispatchEvent(new Event("practiced"));
    });
    document.addEventListener("practiced", look);
    look();
  }

  function ticksOfTheWeek(list) {
    const line = all("p[data-week]", list).find((one) => !one.hidden);
    if (!line || !canKeep) return;
    const first = today() < line.dataset.from ? today() : line.dataset.from;
    for (const row of all("[data-tick]", list)) tickBox(list, row, first, line.dataset.to);
    list.classList.add("has-ticks");
    for (const note of all("[data-practice-kept]", list)) note.hidden = false;
  }

  // ---- Tonight ----------------------------------------------------------------------

  // The elements of a copied template by their names in `data-`.
  function fill(copy, texts) {
    for (const [name, text] of Object.entries(texts)) copy.querySelector(`[data-${name}]`).textContent = text;
  }

  function tonightRow(section, row, day) {
    const copy = section.querySelector("template").content.firstElementChild.cloneNode(true);
    const find = (name) => copy.querySelector(`[data-${name}]`);
    const { target, goal } = row, place = row.id.replace("/", "-");
    Object.assign(copy.dataset, { tick: row.id, tickName: row.name });
    fill(copy, { name: row.name, number: row.minutes });
    find("name").href = `#${place}`;
    find("left").hidden = !row.left;
    if (row.piece) fill(copy, { piece: row.piece, measures: row.measures }); else find("where").remove();
    if (target && target.sign) {
      fill(copy, { sign: target.sign, words: target.words, bpm: target.bpm });
      const [start] = row.steps;
      find("start").hidden = !start || start === target.bpm;
      if (start) fill(copy, { "start-bpm": start });
      if (target.bpm === goal.bpm) find("goal").textContent = section.dataset.atGoal;
      else fill(copy, { "goal-bpm": goal.bpm });
    } else find("tempo").remove();
    const play = window.handbookPlayer && window.handbookPlayer.button(place);
    if (play) find("play-place").append(play);
    if (canKeep) tickBox(section, copy, day, day);
    return copy;
  }

  async function tonightsList(section) {
    const find = (name) => section.querySelector(`[data-${name}]`);
    const { tonight: cycle, band, part } = section.dataset;
    const day = today();
    const evening = section.hidden ? null : await tonightFor(cycle, band, part, day);
    section.querySelector(".tonight-room").hidden = true;
    find("nothing").hidden = Boolean(evening);
    if (!evening) return;
    fill(section, { number: evening.minutes });
    find("minutes").hidden = false;
    find("resting").hidden = !evening.rest;
    find("rows").append(...evening.rows.map((row) => tonightRow(section, row, day)));
    section.classList.toggle("has-ticks", canKeep);
    const boxes = all(".tick input", section);
    document.addEventListener("practiced", () => {
      find("all-done").textContent = boxes.every((box) => box.checked) ? section.dataset.allDoneWord : "";
    });
  }

  // ---- On paper ---------------------------------------------------------------------

  // The evenings of the week that the list is for, to tick by pen.
  async function eveningsOnPaper(table) {
    const { tonight: cycle, band, part } = table.dataset;
    const line = all("p[data-week]").find((one) => !one.hidden);
    const evenings = line ? await weekFor(cycle, band, part, line.dataset.week) : [];
    const words = { weekday: "short", month: "short", day: "numeric", timeZone: "UTC" };
    for (const { day, minutes, rows } of evenings) {
      const copy = table.querySelector("template").content.firstElementChild.cloneNode(true);
      fill(copy, { date: new Date(`${day}T00:00Z`).toLocaleDateString("en-US", words), number: minutes });
      const item = copy.querySelector("[data-item]");
      const items = rows.map((row) => {
        const one = item.cloneNode(true);
        fill(one, { name: row.name, each: row.minutes });
        return one;
      });
      item.replaceWith(...items);
      table.append(copy);
    }
    table.hidden = !evenings.length;
  }

  // ---- Rows and folds ---------------------------------------------------------------

  // Of the cycle's exercises those of the week that shows; a button brings the others.
  function exercisesOfTheWeek(list) {
    const line = all("p[data-week]").find((one) => !one.hidden);
    const others = all("[data-weeks]", list).filter((row) => !line || !row.dataset.weeks.split(" ").includes(line.dataset.week));
    const button = document.querySelector("[data-all-exercises]");
    const count = list.children.length - others.length;
    if (count) document.querySelector("[data-exercise-count]").textContent = `${count} this week`;
    if (!others.length || !button) return;
    const show = (shown) => { for (const row of others) row.hidden = !shown; button.hidden = shown; };
    show(false);
    button.addEventListener("click", () => { show(true); others[0].querySelector("summary").focus(); });
  }

  // Whatever an address names is opened with all that it lies in.
  function openNamed() {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!target || !target.closest("main")) return;
    for (let item = target; item.tagName !== "MAIN"; item = item.parentElement) {
      item.hidden = false;
      if (item.tagName === "DETAILS") item.open = true;
    }
    target.scrollIntoView();
  }

  // Folded on the screen, it is part of the sheet.
  function openForPaper(fold) {
    let before;
    window.addEventListener("beforeprint", () => { before = fold.open; fold.open = true; });
    window.addEventListener("afterprint", () => { fold.open = before; });
  }

  for (const list of all("[data-practice]:not([data-tonight])")) ticksOfTheWeek(list);
  for (const list of all("[data-exercises]")) exercisesOfTheWeek(list);
  for (const section of all("section[data-tonight]")) tonightsList(section);
  for (const table of all(".on-paper[data-tonight]")) eveningsOnPaper(table);
  for (const fold of all(".exercises")) openForPaper(fold);
  openNamed();
  window.addEventListener("hashchange", openNamed);
})();

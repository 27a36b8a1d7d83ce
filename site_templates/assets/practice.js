"use strict";
// A part's page: tonight's list, what is ticked (kept on this device only, never sent), and
// the rows that open. Without this script the same lists stand there, with all weeks in them.

(() => {
  // ---- Ticks of the lists -----------------------------------------------------------

  kept.set("can-keep", "yes");
  const canKeep = kept.get("can-keep") === "yes";

  // A box before a row: it is ticked if it was done within the days; ticked now, it is done today.
  function tickBox(list, row, first, last) {
    const { practice: part } = list.dataset;
    const { tickName } = row.dataset;
    const label = document.createElement("label");
    label.className = "tick";
    const box = document.createElement("input");
    box.type = "checkbox";
    const name = document.createElement("span");
    name.className = "vh";
    name.textContent = "tonight" in list.dataset ? gettext("Practiced tonight: %(name)s", { name: tickName }) : gettext("Practiced: %(name)s", { name: tickName });
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
    for (const [name, text] of Object.entries(texts)) copy.querySelector(`[data-${name}]`).replaceChildren(...[text].flat().flatMap(nodesOf));
  }

  function tonightRow(section, row, day) {
    const copy = section.querySelector("template").content.firstElementChild.cloneNode(true);
    const find = (name) => copy.querySelector(`[data-${name}]`);
    const place = row.id.replace("/", "-");
    Object.assign(copy.dataset, { tick: row.id, tickName: unmarked(row.name) });
    fill(copy, { name: row.name, facts: tonightFacts(row) });
    find("name").href = `#${place}`;
    if (row.target && row.target.sign) fill(copy, { tempo: tonightTempo(row) }); else find("tempo").remove();
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
    fill(section, { minutes: tonightMinutes(evening) });
    find("resting").hidden = !evening.rest;
    find("rows").append(...evening.rows.map((row) => tonightRow(section, row, day)));
    section.classList.toggle("has-ticks", canKeep);
    const boxes = all(".tick input", section);
    document.addEventListener("practiced", () => {
      find("all-done").textContent = boxes.every((box) => box.checked) ? gettext("All done for tonight.") : "";
    });
  }

  // ---- On the concert's day ---------------------------------------------------------

  // What this band does next, by the steps of its day; others of it who are called by themselves.
  async function nextStep(line) {
    const { concertToday: path, cycle, band } = line.dataset;
    if (line.hidden) return;
    let told;
    globalThis.handbookToday = (_, data) => { told = data; };
    await loadScript(`${root}${cycle}/today.js`).catch(() => {});
    const day = told && told.concerts[path] && told.concerts[path][band];
    if (!day || !day.steps.length) return;
    const show = () => {
      const now = schoolStamp();
      const next = day.steps.findIndex(([moment]) => moment > now);
      const words = next < 0 ? [gettext("It is over. Thank you!")] : [day.steps[next].slice(1, 3).join(" ")];
      const others = next === 0 ? day.meet.slice(1).filter(([, , time]) => time) : [];
      const called = {
        bus: (told) => gettext("%(who)s: %(time)s Be at the bus", told),
        room: (told) => gettext("%(who)s: %(time)s Ready in the room", told),
        crew: (told) => gettext("%(who)s: %(time)s Be ready", told),
      };
      words.push(...others.map(([who, at, time]) => called[at]({ who, time })));
      line.querySelector("[data-next-step]").replaceChildren(...nodesOf(inARow(words)));
    };
    show();
    setInterval(show, 30000);
  }

  // ---- On paper ---------------------------------------------------------------------

  // The evenings of the week that the list is for, to tick by pen.
  async function eveningsOnPaper(table) {
    const { tonight: cycle, band, part } = table.dataset;
    const line = all("p[data-week]").find((one) => !one.hidden);
    const evenings = line ? await weekFor(cycle, band, part, line.dataset.week) : [];
    const cell = (tag, evening, ...inside) => {
      const made = document.createElement(tag);
      if (evening) made.classList.toggle("is-past", evening.day < today());
      if (evening) made.classList.toggle("is-tonight", evening.day === today());
      made.append(...inside);
      return made;
    };
    const header = (scope, evening, ...inside) => Object.assign(cell("th", evening, ...inside), { scope });
    const find = (name) => table.querySelector(`[data-${name}]`);
    find("days").append(...evenings.map((one) => (
      header("col", one, writtenDay(one.day, "EEE"), document.createElement("br"), writtenDay(one.day, "d")))));
    const names = new Map(evenings.flatMap(({ rows }) => rows.map((row) => [row.id, row.name])));
    for (const [id, name] of names) {
      const made = document.createElement("tr");
      made.append(header("row", null, ...nodesOf(name)), ...evenings.map((one) => {
        const row = one.rows.find((other) => other.id === id);
        if (!row) return cell("td", one);
        const box = cell("span", null, String(row.minutes));
        box.className = "pen";
        return cell("td", one, box);
      }));
      table.tBodies[0].append(made);
    }
    // Exercises of an evening are on the sheet, though no rehearsal of this week has them.
    for (const row of all("[data-exercises] > [data-tick]")) row.classList.toggle("of-an-evening", names.has(row.dataset.tick));
    const minutes = evenings.map((one) => one.minutes);
    const areAlike = new Set(minutes).size === 1;
    if (areAlike) fill(table, { number: minutes[0] });
    find("alike").hidden = !areAlike;
    find("minutes").append(...evenings.map((one) => cell("td", one, String(one.minutes))));
    table.tFoot.hidden = areAlike;
    table.hidden = !evenings.length;
  }

  // ---- Rows and folds ---------------------------------------------------------------

  // Of the cycle's exercises those of the week that shows; a button brings the others.
  function exercisesOfTheWeek(list) {
    const line = all("p[data-week]").find((one) => !one.hidden);
    const others = all("[data-weeks]", list).filter((row) => !line || !row.dataset.weeks.split(" ").includes(line.dataset.week));
    const button = document.querySelector("[data-all-exercises]");
    const count = list.children.length - others.length;
    if (count) document.querySelector("[data-exercise-count]").textContent = ngettext("%(num)s this week", "%(num)s this week", count);
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
  for (const line of all("[data-concert-today]")) nextStep(line);
  for (const table of all(".on-paper[data-tonight]")) eveningsOnPaper(table);
  for (const fold of all(".exercises")) openForPaper(fold);
  openNamed();
  window.addEventListener("hashchange", openNamed);
})();

"use strict";
// Today: what the reader's day, band and instrument make of the lines on the page. What a day
// needs of a cycle is in a script of its own, loaded when that cycle is on or comes next.

(() => {
  const page = document.querySelector("[data-today]");
  if (!page) return;
  const cycles = JSON.parse(page.dataset.cycles);
  const bands = all("[data-band]", page);
  const find = (name) => document.querySelector(`[data-${name}]`);
  const element = (tag, className, ...content) => {
    const made = document.createElement(tag);
    if (className) made.className = className;
    made.append(...content.filter(Boolean));
    return made;
  };
  const link = (path, ...content) => {
    const made = element("a", "", ...content);
    made.href = address(root + path);
    return made;
  };
  const dot = () => { const made = element("span", "dot", "·"); made.setAttribute("aria-hidden", "true"); return made; };
  const dayName = (iso, options = { weekday: "short", month: "short", day: "numeric" }) =>
    new Intl.DateTimeFormat("en-US", { ...options, timeZone: "UTC" }).format(new Date(`${iso}T12:00:00Z`));
  const later = (iso, days) => new Date(Date.parse(`${iso}T12:00:00Z`) + days * 86400000).toISOString().slice(0, 10);
  const inDays = (iso, day) => {
    const days = dayNumber(iso) - dayNumber(day);
    return days === 0 ? "today" : days === 1 ? "tomorrow" : `in ${days} days`;
  };
  const nameOf = (line) => line.querySelector("[data-band-name]").textContent;
  const lineOf = (id) => bands.find((line) => line.dataset.band === id);
  const partsOf = (line) => Object.entries(JSON.parse(line.dataset.partsOf));

  // ---- The scripts of the cycles ------------------------------------------------------

  const told = {};
  globalThis.handbookToday = (id, data) => { told[id] = data; };
  const waiting = {};
  function load(cycle) {
    waiting[cycle.id] ||= loadScript(root + cycle.script).catch(() => { delete waiting[cycle.id]; });
    return waiting[cycle.id];
  }

  // Those that are on, and the next one to begin.
  function cyclesOf(day) {
    const next = cycles.find((cycle) => cycle.first > day);
    return cycles.filter((cycle) => cycle.last >= day && (cycle.first <= day || cycle === next));
  }

  const AT = { day: 0, ends: 1, hours: 2, n: 3, stage: 4, purpose: 5, room: 6, what: 7, anchor: 8 };

  // The rehearsals of a band that are not over, in all cycles that are on or come next.
  function ahead(id, { day, minutes }) {
    const found = [];
    for (const cycle of cyclesOf(day)) {
      const data = told[cycle.id];
      const band = data && data.bands[id];
      if (!band) continue;
      for (const row of band.days) {
        if (row[AT.day] < day || (row[AT.day] === day && row[AT.ends] <= minutes)) continue;
        found.push({
          cycle, band, day: row[AT.day], hours: row[AT.hours], n: row[AT.n], stage: band.stages[row[AT.stage]],
          purpose: data.texts[row[AT.purpose]], room: data.texts[row[AT.room]], what: row[AT.what],
          path: `${cycle.id}/${id}/#${row[AT.anchor]}`,
        });
      }
    }
    return found.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
  }

  // ---- Which band, which instrument ---------------------------------------------------

  const group = find("chooser");
  const hasParts = bands.some((line) => partsOf(line).length);
  let asking = "";

  // Whose answers are shown: a band by its line, or null for all of them.
  function chosen() {
    if (bands.length === 1) return bands[0];
    return lineOf(choice.band()) || null;
  }

  function partOf(line) {
    const id = line && choice.part(line.dataset.band);
    return id && partsOf(line).find(([own]) => own === id) ? id : "";
  }

  function drawChooser() {
    const line = chosen();
    const wasAsked = bands.length === 1 || choice.band() === "" || Boolean(line);
    const parts = line ? partsOf(line) : [];
    const part = partOf(line);
    const askBand = bands.length > 1 && (asking === "band" || !wasAsked);
    const askPart = !askBand && parts.length && (asking === "part" || choice.part(line.dataset.band) === null);
    group.hidden = bands.length === 1 && !parts.length;
    find("choose-band").hidden = !askBand;
    find("choose-part").hidden = !askPart;
    find("chosen").hidden = Boolean(askBand || askPart);
    const own = part && parts.find(([id]) => id === part)[1];
    find("chosen-name").textContent = [line ? nameOf(line) : "All bands", own].filter(Boolean).join(", ");
    for (const button of all("[data-choose]", group)) {
      button.setAttribute("aria-pressed", String(wasAsked && button.dataset.choose === (line ? line.dataset.band : "")));
    }
    if (askPart) {
      find("parts").replaceChildren(...[...parts, ["", `No instrument, just ${nameOf(line)}`]].map(([id, name]) => {
        const button = element("button", "", name);
        button.type = "button";
        button.setAttribute("aria-pressed", String(choice.part(line.dataset.band) === id));
        button.addEventListener("click", () => { asking = ""; choice.keep(line.dataset.band, id); find("choose-again").focus(); });
        return button;
      }));
    }
    const welcome = find("welcome");
    if (welcome) welcome.hidden = wasAsked && !askBand && !askPart;
  }

  for (const button of all("[data-choose]", group)) {
    button.addEventListener("click", () => {
      const line = lineOf(button.dataset.choose);
      asking = line && partsOf(line).length ? "part" : "";
      choice.keep(button.dataset.choose);
      (asking ? find("parts").querySelector("button") : find("choose-again")).focus();
    });
  }
  find("choose-again").addEventListener("click", () => {
    asking = bands.length > 1 ? "band" : "part";
    drawChooser();
    (asking === "band" ? group.querySelector("[data-choose]") : find("parts").querySelector("button")).focus();
  });

  // ---- The next rehearsal -------------------------------------------------------------

  function mark([name, width, filled, open]) {
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    svg.setAttribute("class", "stage-mark");
    svg.setAttribute("viewBox", `0 0 ${width} 20`);
    svg.setAttribute("aria-hidden", "true");
    for (const [d, className] of [[filled, ""], [open, "open"]]) {
      if (!d) continue;
      const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
      path.setAttribute("d", d);
      if (className) path.setAttribute("class", className);
      svg.append(path);
    }
    return element("span", "stage", svg, element("span", "", name));
  }

  const when = (next, day) => `${next.day === day ? "Today" : dayName(next.day)}, ${next.hours}`;

  function drawRehearsal(line, time) {
    const section = find("rehearsal");
    const [next, ...others] = line ? ahead(line.dataset.band, time) : [];
    section.hidden = !next;
    if (!next) return;
    section.querySelector("h2").textContent = next.day === time.day ? "Rehearsal today" : "Next rehearsal";
    const soon = next.day === time.day ? "" : inDays(next.day, time.day);
    const what = element("p", "purpose");
    if (next.what) what.append(element("b", "", `${next.what}.`), " ");
    what.append(next.purpose);
    const facts = element("p", "small next-facts", mark(next.stage), " ", dot(), ` rehearsal ${next.n} of ${next.band.of}`);
    if (next.room) facts.append(" ", dot(), ` ${next.room}`);
    const links = element("p", "after", link(next.path, "What we rehearse"));
    if (others.length) links.append(" ", element("span", "small", `Then ${others.slice(0, 2).map((one) => dayName(one.day)).join(" and ")}`));
    const head = element("p", "next-when", element("b", "", when(next, time.day)));
    if (soon) head.append(" ", element("span", "small soon", soon));
    section.querySelector("[data-rehearsal-words]").replaceChildren(head, what, facts, links);
    section.classList.toggle("is-now", next.day === time.day);
  }

  // One line a band: where it stands and when it rehearses next.
  function drawBands(line, time) {
    const section = find("bands");
    section.hidden = Boolean(line);
    for (const one of bands) {
      const [next] = ahead(one.dataset.band, time);
      const own = all("[data-of-cycle]", one);
      const shown = one.querySelector(".band-now");
      if (shown) shown.remove();
      for (const cycle of own) cycle.hidden = Boolean(next);
      if (!next) {
        // Not loaded, or over: the lines of the cycles that are not over, as they were sent.
        for (const cycle of own) cycle.hidden = (cycles.find((known) => known.id === cycle.dataset.ofCycle) || { last: "" }).last < time.day;
        continue;
      }
      const words = link(`${next.cycle.id}/${one.dataset.band}/`, mark(next.stage), " ", element("span", "small", `rehearsal ${next.n} of ${next.band.of}`));
      words.className = "band-next";
      const soon = when(next, time.day);
      words.append(element("span", "", "next: ", element("b", "", soon.replace(/^Today/, "today"))));
      one.append(element("div", "band-now now-only", words));
    }
  }

  // ---- Tonight ------------------------------------------------------------------------

  // The evening of a player, where the band has minutes at home; null where there is none.
  async function eveningOf(line, time) {
    const part = partOf(line);
    const next = part && ahead(line.dataset.band, time)[0];
    if (!next || !next.band.home) return null;
    try { return await tonightFor(next.cycle.id, line.dataset.band, part, time.day); } catch { return null; }
  }

  function tempo({ sign, words, bpm }) {
    if (!bpm) return element("span", "mark", words);
    const note = element("span", "note", sign);
    note.setAttribute("aria-hidden", "true");
    const made = element("span", "mark", note, element("span", "vh", `${words} note`), " = ", element("b", "", bpm));
    made.translate = false;
    return made;
  }

  function tonightRow(row, player, day) {
    const box = element("input", "");
    box.type = "checkbox";
    box.checked = practiced.within(player, row.id, day, day);
    box.addEventListener("change", () => practiced.tick(player, row.id, box.checked, day));
    const piece = row.piece && element("span", "", row.piece);
    if (piece) piece.translate = false;
    const minutes = element("span", "one-piece", `${row.minutes} min`);
    const facts = element("span", "small", piece, piece ? `, ${row.measures}, ` : "", minutes, row.left ? ", left from last time" : "");
    const name = element("a", "", element("span", "target-name", element("b", "", row.name), " ", facts));
    name.href = row.href;
    if (row.target) {
      const goal = row.goal.bpm && row.goal.bpm !== row.target.bpm ? element("span", "small", `goal ${row.goal.bpm}`) : null;
      name.append(element("span", "target-tempo", tempo(row.target), goal));
    }
    return element("li", "", element("label", "tick", box, element("span", "vh", `Practiced: ${row.name}`)), name);
  }

  function drawTonight(line, time, evening) {
    const section = find("tonight");
    const part = partOf(line);
    const next = part && ahead(line.dataset.band, time)[0];
    section.hidden = !next;
    if (!next) return;
    const minutes = evening && element("span", "small", element("b", "", String(evening.minutes)), " minutes");
    section.querySelector("h2").replaceChildren(...(evening ? ["Tonight ", minutes] : ["Your part"]));
    section.classList.toggle("is-now-line", Boolean(evening));
    const own = partsOf(line).find(([id]) => id === part)[1];
    const shown = [];
    if (evening) {
      const player = `${next.cycle.id}-${line.dataset.band}-${part}`;
      if (evening.rest) shown.push(element("p", "", "A little in the break keeps hands and lips awake."));
      shown.push(element("ul", "plain targets has-ticks", ...evening.rows.map((row) => tonightRow(row, player, time.day))));
    }
    const whole = link(`${next.cycle.id}/${line.dataset.band}/part/${part}/`, element("span", "", "Your part: ", element("b", "", own)), element("span", "", "→"));
    shown.push(element("p", "own-part", whole));
    section.querySelector("[data-tonight-list]").replaceChildren(...shown);
  }

  // ---- Concerts -----------------------------------------------------------------------

  const text = (line, name) => { const found = line.querySelector(`[data-concert-${name}]`); return found ? found.textContent : ""; };

  function concertsOf(line) {
    return all("[data-concert]").filter((one) => !line || one.dataset.who.split(" ").includes(line.dataset.band));
  }

  // What is told of a concert day, for one band or for all that play.
  function dayOf(concert, line) {
    const data = told[concert.dataset.ofCycle];
    const of = data && data.concerts[concert.dataset.concert];
    if (!of) return [];
    const own = line && data.bands[line.dataset.band];
    return own ? [of[own.band]].filter(Boolean) : Object.values(of);
  }

  function isOver(concert, line, time) {
    if (concert.dataset.day !== time.day) return concert.dataset.day < time.day;
    const days = dayOf(concert, line).filter((one) => one.steps.length);
    return days.length > 0 && days.every((one) => stepsAt(one.steps.map(([moment]) => moment), time).state === "over");
  }

  function meetLine([name, what, at, place, collected, where], many) {
    const item = element("li", "");
    if (many) item.append(element("b", "", name), " ");
    if (at) item.append(`${many ? what.toLowerCase() : what} `, element("b", "num", at), place ? `, ${place}` : "");
    if (collected) item.append(at ? "; pick-up " : "pick-up ", element("b", "num", collected), where ? `, ${where}` : "");
    return item;
  }

  // Where and when a band meets and is collected; of one band whose steps are known, only the
  // latter, since the next step stands large and all of them in the list.
  function onTheDay(days, steps) {
    const rows = days.flatMap((one) => one.meet);
    const [first] = rows;
    if (steps.length) {
      const headline = element("p", "live-next");
      headline.dataset.liveNext = "";
      headline.hidden = true;
      const collected = rows.filter((row) => row[4]).map(([name, , , , at, place]) => (
        element("p", "collected", `Pick-up${rows.length > 1 ? `, ${name}` : ""} `, element("b", "num", at), place ? `, ${place}` : "")));
      const list = element("ol", "plain day-steps", ...steps.map(([moment, at, what]) => {
        const item = element("li", "", element("b", "num", at), " ", element("span", "", what));
        item.dataset.at = moment;
        return item;
      }));
      return [headline, ...collected, list];
    }
    if (rows.length === 1 && first[2]) {
      const figure = element("p", "figure-line", element("span", "", first[1]), element("b", "big-figure", first[2]), element("span", "", first[3]));
      return [figure, first[4] && element("p", "collected", "Pick-up ", element("b", "num", first[4]), first[5] ? `, ${first[5]}` : "")];
    }
    return rows.length ? [element("ul", "plain meet-lines", ...rows.map((row) => meetLine(row, rows.length > 1)))] : [];
  }

  function concertCard(concert, line, time) {
    const isToday = concert.dataset.day === time.day;
    const cancelled = "cancelled" in concert.dataset;
    const card = element("article", "concert-card");
    const own = dayOf(concert, line);
    const hours = line && own.length === 1 && own[0].hours;
    const heading = element("h2", "concert-name", link(concert.dataset.concert, text(concert, "name")));
    if (cancelled) {
      card.append(heading, element("p", "concert-when", element("b", "", "Cancelled")), element("p", "", text(concert, "note")), element("p", "small", `It was to be on ${text(concert, "date")}.`));
      return card;
    }
    const days = dayNumber(concert.dataset.day) - dayNumber(time.day);
    if (!isToday) {
      const left = element("p", "big-figure concert-left", String(days), " ", element("span", "small", days === 1 ? "day" : "days"));
      card.append(left);
    }
    const hour = hours || text(concert, "time");
    const head = element("p", "concert-when", element("b", "", isToday ? "Today" : text(concert, "date")), " ", element("b", "", hour));
    card.append(heading, head, element("p", "concert-where", text(concert, "place")));
    for (const name of ["note", "rain"]) if (text(concert, name)) card.append(element("p", "concert-rain", text(concert, name)));
    const steps = isToday && line && own.length === 1 ? own[0].steps : [];
    if (isToday) card.append(...onTheDay(own, steps).filter(Boolean));
    card.append(element("p", "after", link(concert.dataset.concert, "Where to be and when, what to wear, program")));
    if (steps.length) {
      card.dataset.liveSteps = "";
      liveSteps(card, time);
    }
    return card;
  }

  function drawConcerts(line, time) {
    const section = find("concerts");
    if (!section) return;
    const ahead = concertsOf(line).filter((one) => !isOver(one, line, time));
    const shown = ahead.filter((one) => one.dataset.day === (ahead[0] || one).dataset.day);
    section.querySelector("[data-concert-card]").replaceChildren(...shown.map((one) => concertCard(one, line, time)));
    const others = ahead.filter((one) => !shown.includes(one)).slice(0, 3);
    for (const one of all("[data-concert]", section)) one.hidden = !others.includes(one);
    section.hidden = !shown.length;
    section.querySelector("h2").hidden = true;
    section.classList.toggle("is-now", shown.some((one) => one.dataset.day === time.day && !("cancelled" in one.dataset)));
  }

  // ---- Days without school ------------------------------------------------------------

  const holds = (item, first, last) => (item.dataset.days
    ? item.dataset.days.split(" ").some((day) => first <= day && day <= last)
    : item.dataset.first <= last && item.dataset.last >= first);

  // Rehearsals of the next week that are cancelled or moved.
  function missedOf(line, time) {
    const shown = (line ? [line] : bands).flatMap((one) => cyclesOf(time.day).flatMap((cycle) => {
      const band = told[cycle.id] && told[cycle.id].bands[one.dataset.band];
      return band ? band.missed : [];
    }));
    return shown
      .filter(([day]) => time.day <= day && day <= later(time.day, 7))
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([day, title, why]) => {
        const item = element("li", "now-only", element("b", "", dayName(day)), " ", element("span", "", title), " ", element("span", "small", why));
        Object.assign(item.dataset, { first: day, last: day });
        return item;
      });
  }

  function drawSchool(line, time) {
    const section = find("school");
    if (!section) return;
    for (const item of all("li.now-only", section)) item.remove();
    section.querySelector("ul").prepend(...missedOf(line, time));
    const shown = all("li", section)
      .filter((item) => holds(item, time.day, later(time.day, item.className === "altered" ? 7 : 21)))
      .slice(0, 5);
    for (const item of all("li", section)) {
      item.hidden = !shown.includes(item);
      item.classList.toggle("is-now-line", shown.includes(item) && holds(item, time.day, time.day));
    }
    section.hidden = !shown.length;
  }

  // ---- A word about the day -----------------------------------------------------------

  const NOTHING = "Nothing is planned right now. The next dates will stand here.";

  // What is over and what begins, a school break, and that nothing is planned; each in a sentence.
  function* words(line, time) {
    const [next] = (line ? [line] : bands).flatMap((one) => ahead(one.dataset.band, time)).sort((a, b) => (a.day < b.day ? -1 : 1));
    const mine = concertsOf(line).filter((one) => !("cancelled" in one.dataset));
    const over = mine.filter((one) => isOver(one, line, time) && one.dataset.day >= later(time.day, -7)).pop();
    if (over && !(next && next.cycle.first <= time.day)) yield `${text(over, "name")} is over. Thank you!`;
    const closed = all("[data-school] li.closed").find((item) => holds(item, time.day, time.day));
    if (closed) {
      const name = closed.querySelector("span").textContent;
      yield closed.dataset.last > time.day && !closed.dataset.days ? `${name}, through ${dayName(closed.dataset.last)}.` : `${name}.`;
    }
    if (next && next.cycle.first > time.day) yield `${next.cycle.name} begins ${dayName(next.cycle.first)}.`;
    if (next || mine.some((one) => !isOver(one, line, time))) return;
    const year = cycles.map((cycle) => cycle.year).find((day) => day > time.day);
    const more = all("[data-school], [data-next]").some((section) => !section.hidden);
    yield year ? `School begins ${dayName(year)}.` : more ? "The next music will stand here when it is handed out." : NOTHING;
  }

  function drawWords(line, time) {
    const said = find("today-word");
    const sentences = [...words(line, time)];
    if (said.textContent !== sentences.join("")) said.replaceChildren(...sentences.map((one) => element("span", "", one)));
    said.hidden = !sentences.length;
    find("nothing").hidden = !sentences.includes(NOTHING);
  }

  // ---- All of it ----------------------------------------------------------------------

  let drawn = 0;

  async function draw() {
    const turn = (drawn += 1);
    const time = schoolTime();
    const line = chosen();
    drawChooser();
    await Promise.all(cyclesOf(time.day).map(load));
    const evening = await eveningOf(line, time);
    if (turn !== drawn) return;
    drawTonight(line, time, evening);
    drawRehearsal(line, time);
    drawBands(line, time);
    drawConcerts(line, time);
    drawSchool(line, time);
    nextEvents(time.day, line && bands.length > 1 ? line.dataset.band : "");
    drawWords(line, time);
    sinceLastLook(time.day, line ? line.dataset.band : "");
    const music = page.querySelector(".today-music");
    const concert = find("concerts");
    const concertLeads = concert && !concert.hidden && (concert.classList.contains("is-now") || !partOf(line));
    page.prepend(concertLeads ? concert : music);
    page.classList.toggle("concert-leads", Boolean(concertLeads));
    page.classList.toggle("no-music", [...music.children].every((child) => child.hidden));
    page.dataset.ready = "";
  }

  find("today-name").textContent = dayName(today(), { weekday: "long", month: "long", day: "numeric" });
  draw();
  document.addEventListener("handbook:choice", draw);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) draw(); });
  window.addEventListener("pageshow", (event) => { if (event.persisted) draw(); });
})();

"use strict";
// Today: what the reader's day, band and instrument make of the lines on the page. What a day
// needs of a cycle is in a script of its own, loaded when that cycle is on or comes next.

(() => {
  const page = document.querySelector("[data-today]");
  if (!page) return;
  const cycles = JSON.parse(page.dataset.cycles);
  const bands = all("[data-band]", page);
  const find = (name) => document.querySelector(`[data-${name}]`);
  const link = (path, ...content) => {
    const made = element("a", "", ...content);
    made.href = address(root + path);
    return made;
  };
  const dayName = (iso) => writtenDay(iso, "shortDay");
  const later = (iso, days) => new Date(Date.parse(`${iso}T12:00:00Z`) + days * 86400000).toISOString().slice(0, 10);
  const nameOf = (line) => copyOf(line.querySelector("[data-band-name]"));
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

  const AT = { day: 0, ends: 1, hours: 2, n: 3, stage: 4, purpose: 5, room: 6, what: 7, anchor: 8, rooms: 9, away: 10 };

  // The rehearsals of a band that are not over, in all cycles that are on or come next.
  function ahead(id, { day, minutes }) {
    const found = [];
    for (const cycle of cyclesOf(day)) {
      const data = told[cycle.id];
      const band = data && data.bands[id];
      if (!band) continue;
      for (const row of band.days) {
        if (row[AT.day] < day || (row[AT.day] === day && row[AT.ends] <= minutes)) continue;
        // Where sections are apart, the reader's own room, or all of them.
        const rooms = row[AT.rooms] || [];
        const own = rooms.find(([, , parts]) => parts.includes(choice.part(id)));
        found.push({
          rooms: own ? [] : rooms.map(([words]) => words), worksOn: own ? own[1] : "", away: row[AT.away] || [],
          cycle, band, day: row[AT.day], hours: row[AT.hours], n: row[AT.n], stage: band.stages[row[AT.stage]],
          purpose: data.texts[row[AT.purpose]], room: own ? own[0] : data.texts[row[AT.room]], what: row[AT.what],
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
    const askPart = !askBand && parts.length > 0 && asking === "part";
    find("choose-instrument").hidden = !parts.length || choice.part(line.dataset.band) !== null;
    group.hidden = bands.length === 1 && !parts.length;
    find("choose-band").hidden = !askBand;
    find("choose-part").hidden = !askPart;
    find("chosen").hidden = Boolean(askBand || askPart);
    const own = part && parts.find(([id]) => id === part)[1];
    find("chosen-name").replaceChildren(besides(line ? nameOf(line) : gettext("All bands"), own));
    for (const button of all("[data-choose]", group)) {
      button.setAttribute("aria-pressed", String(wasAsked && button.dataset.choose === (line ? line.dataset.band : "")));
    }
    page.classList.toggle("is-asking", Boolean(askBand));
    find("paper-name").replaceChildren(copyOf(find("chosen-name")));
    if (askPart) {
      const asked = bands.length > 1 ? gettext("%(band)s: which instrument?", { band: nameOf(line) }) : gettext("Which instrument?");
      document.getElementById("which-part").replaceChildren(asked);
      find("other-band").hidden = bands.length === 1;
      find("parts").replaceChildren(...[["", gettext("No instrument, just %(band)s", { band: nameOf(line) })], ...parts].map(([id, name]) => {
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
      // On a concert's day, and when nothing is ahead, an instrument changes no answer.
      const time = schoolTime();
      const matters = line && ahead(line.dataset.band, time).length && !concertsOf(line).some((one) => one.dataset.day === time.day);
      asking = matters && partsOf(line).length ? "part" : "";
      choice.keep(button.dataset.choose);
      (asking ? find("parts").querySelector("button") : find("choose-again")).focus();
    });
  }
  function askAgain() {
    asking = bands.length > 1 ? "band" : "part";
    drawChooser();
    (asking === "band" ? group.querySelector("[data-choose]") : find("parts").querySelector("button")).focus();
  }
  find("choose-again").addEventListener("click", askAgain);
  find("other-band").addEventListener("click", askAgain);
  find("choose-instrument").addEventListener("click", () => {
    asking = "part";
    drawChooser();
    find("parts").querySelector("button").focus();
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

  // The day and the hours, as a line begins with them and as they stand within one.
  const when = ({ day, hours }, now) => (day === now ? gettext("Today, %(hours)s", { hours }) : besides(dayName(day), hours));
  const whenWithin = ({ day, hours }, now) => (day === now ? gettext("today, %(hours)s", { hours }) : besides(dayName(day), hours));

  const rehearsalNumber = ({ n, band }) => gettext("rehearsal %(number)s of %(total)s", { number: n, total: band.of });

  // A rehearsal away from school: the address with a map, the ride and the pick-up.
  function awayFrom({ away: [address, map, ...words] }) {
    if (!address && !words.length) return [];
    const onMap = map && element("a", "map-link", gettext("Map"));
    if (onMap) {
      onMap.href = map;
      onMap.rel = "external noreferrer";
      onMap.setAttribute("aria-label", gettext("Map of %(address)s", { address: unmarked(address) }));
    }
    const street = address && element("span", "", address);
    if (street) street.translate = false;
    return [street && element("p", "small", street, " ", onMap), ...words.map((one) => element("p", "ride", one))];
  }

  function drawRehearsal(line, time) {
    const section = find("rehearsal");
    const [next, ...others] = line ? ahead(line.dataset.band, time) : [];
    section.hidden = !next;
    section.classList.toggle("is-now", Boolean(next) && next.day === time.day);
    if (!next) return;
    section.querySelector("h2").textContent = next.day === time.day ? gettext("Rehearsal today") : gettext("Next rehearsal");
    const soon = next.day === time.day ? "" : inDays(dayNumber(next.day) - dayNumber(time.day));
    // What is not like any other rehearsal is told with its place, also days ahead.
    const where = element("p", "next-where", besides(next.what && element("b", "", next.what), next.room));
    const rooms = next.rooms.length > 0 && element("ul", "plain section-rooms", ...next.rooms.map((words) => element("li", "", words)));
    const worksOn = next.worksOn && element("p", "", next.worksOn);
    const what = element("p", "purpose", next.purpose);
    const facts = element("p", "small next-facts", mark(next.stage), " ", dot(), " ", rehearsalNumber(next));
    const links = element("p", "after", link(next.path, gettext("What we rehearse")));
    const soonest = others.filter((one, place) => place < 2 || (one.what && one.day <= later(time.day, 7)));
    const then = soonest.length > 0 && element("ul", "plain then small", ...soonest.map((one) => {
      const at = whenWithin(one, time.day);
      const words = one.what
        ? gettext("Then %(when)s: %(what)s", { when: element("b", "", at), what: besides(one.what, one.room) })
        : gettext("Then %(when)s", { when: at });
      return element("li", "", words);
    }));
    const head = element("p", "next-when", element("b", "", next.day === time.day ? next.hours : when(next, time.day)));
    if (soon) head.append(" ", element("span", "small soon", soon));
    section.querySelector("[data-rehearsal-words]").replaceChildren(...[head, where, ...awayFrom(next), rooms, what, worksOn, facts, then, links].filter(Boolean));
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
      const words = link(`${next.cycle.id}/${one.dataset.band}/`, mark(next.stage), " ", element("span", "small", rehearsalNumber(next)));
      words.className = "band-next";
      const soon = besides(whenWithin(next, time.day), ...(next.what ? [next.what, next.room] : []));
      words.append(element("span", "", gettext("next: %(when)s", { when: element("b", "", soon) })));
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

  function tonightRow(row, player, day) {
    const box = element("input", "");
    box.type = "checkbox";
    box.checked = practiced.within(player, row.id, day, day);
    box.addEventListener("change", () => {
      practiced.tick(player, row.id, box.checked, day);
      const boxes = all("[data-tonight] input");
      find("all-done").textContent = boxes.every((one) => one.checked) ? gettext("All done for tonight.") : "";
    });
    const name = element("a", "", row.name);
    name.href = row.href;
    const item = element("li", "", element("label", "tick", box, element("span", "vh", gettext("Practiced tonight: %(name)s", { name: row.name }))), element("span", "target-name", name, " ", element("span", "small", ...tonightFacts(row))));
    if (row.target) item.append(element("span", "target-tempo", ...tonightTempo(row)));
    return item;
  }

  function drawTonight(line, time, evening) {
    const section = find("tonight");
    const part = partOf(line);
    const next = part && ahead(line.dataset.band, time)[0];
    const cycle = next ? next.cycle.id : line && line.dataset.in.split(" ").pop();
    section.hidden = !part;
    if (!part) return;
    section.querySelector("h2").replaceChildren(...(evening ? [gettext("Tonight"), " ", element("span", "small", tonightMinutes(evening))] : [gettext("Your part")]));
    section.classList.toggle("is-now-line", Boolean(evening));
    const own = partsOf(line).find(([id]) => id === part)[1];
    const shown = [];
    if (evening) {
      const player = `${cycle}-${line.dataset.band}-${part}`;
      if (evening.rest) shown.push(element("p", "", gettext("A break from school: a little practice keeps you ready.")));
      shown.push(element("ol", "targets rows tonight-rows has-ticks", ...evening.rows.map((row) => tonightRow(row, player, time.day))));
    }
    const whole = link(`${cycle}/${line.dataset.band}/part/${part}/`, element("span", "", gettext("Your part: %(instrument)s", { instrument: element("b", "", own) })), element("span", "", "→"));
    shown.push(element("p", "own-part", whole));
    section.querySelector("[data-tonight-list]").replaceChildren(...shown);
  }

  // ---- Concerts -----------------------------------------------------------------------

  const text = (line, name) => { const found = line.querySelector(`[data-concert-${name}]`); return found && copyOf(found); };

  function concertsOf(line) {
    return all("[data-concert]").filter((one) => !line || one.dataset.who.split(" ").includes(line.dataset.band));
  }

  // What only some players bring is left out for the others, once the reader's part is known.
  function carriedBy(things, line) {
    const part = partOf(line);
    const mine = part && `${line.dataset.band}/${part}`;
    return things.filter(([, ...players]) => !players.length || !mine || players.includes(mine)).map(([words]) => words);
  }

  // What is told of a concert day, for one band or for all that play.
  function dayOf(concert, line) {
    const data = told[concert.dataset.ofCycle];
    const of = data && data.concerts[concert.dataset.concert];
    if (!of) return [];
    const own = line && data.bands[line.dataset.band];
    return (own ? [of[own.band]].filter(Boolean) : Object.values(of)).map((one) => ({ ...one, bring: carriedBy(one.bring, line) }));
  }

  function isOver(concert, line, time) {
    if (concert.dataset.day !== time.day) return concert.dataset.day < time.day;
    const days = dayOf(concert, line).filter((one) => one.steps.length);
    return days.length > 0 && days.every((one) => stepsAt(one.steps.map(([moment]) => moment), time).state === "over");
  }

  // Where those meet who are called: at the bus, in the room, or as the crew.
  const beThere = (at) => ({ bus: gettext("Be at the bus"), room: gettext("Ready in the room"), crew: gettext("Be ready") })[at];
  const firstThere = (band, at) => ({
    bus: gettext("First: %(band)s, be at the bus", { band }),
    room: gettext("First: %(band)s, ready in the room", { band }),
    crew: gettext("First: %(band)s, be ready", { band }),
  })[at];
  const nextThere = (band, at) => ({
    bus: gettext("Next: %(band)s, be at the bus", { band }),
    room: gettext("Next: %(band)s, ready in the room", { band }),
    crew: gettext("Next: %(band)s, be ready", { band }),
  })[at];

  function pickUp(time, place) {
    const at = element("b", "num", time);
    return place ? gettext("Pick-up %(time)s, %(place)s", { time: at, place }) : gettext("Pick-up %(time)s", { time: at });
  }

  function pickUpOf(who, time, place) {
    const at = element("b", "num", time);
    return place ? gettext("Pick-up, %(who)s %(time)s, %(place)s", { who, time: at, place }) : gettext("Pick-up, %(who)s %(time)s", { who, time: at });
  }
  const same = (rows, ...places) => new Set(rows.map((row) => places.map((at) => row[at]).join())).size === 1;

  // All who play, in a table: when to be there, the first note, the pick-up; what is the same for
  // all once. The hour of the players who are called first stands large, not that of a crew. When
  // all are there, it is what is left for families: the pick-up.
  function everyonesDay(days) {
    const rows = days.flatMap((one) => one.meet);
    const called = rows.filter((row) => row[2]).sort((one, other) => one[6] - other[6]);
    const now = schoolTime().minutes;
    const players = called.filter((row) => row[1] !== "crew");
    const asked = players.length ? players : called;
    const [first] = asked.filter((row) => row[6] >= now);
    const together = rows[0][4] && same(rows, 4, 5);
    const columns = [
      [first, same(rows, 1) ? beThere(rows[0][1]) : gettext("Be there"), (row) => [row[2], !same(rows, 3) && row[3]]],
      [rows.some((row) => row[7]), gettext("First note"), (row) => [row[7]]],
      [rows.some((row) => row[4]) && !same(rows, 4, 5), gettext("Pick-up"), (row) => [row[4], !same(rows, 5) && row[5]]],
    ].filter(([has]) => has);
    const cell = ([at, place]) => element("td", "", element("b", "num", at || ""), place && element("span", "small", place));
    const head = (words, scope) => { const made = element("th", "", words); made.scope = scope; return made; };
    const table = element("table", "meet-table",
      element("thead", "", element("tr", "", head(gettext("Band"), "col"), ...columns.map(([, name]) => head(name, "col")))),
      element("tbody", "", ...rows.map((row) => element("tr", "", head(row[0], "row"), ...columns.map(([, , of]) => cell(of(row)))))));
    return [
      first && rows.length > 1 && element("p", "figure-line", element("span", "", (first === asked[0] ? firstThere : nextThere)(first[0], first[1])), element("b", "big-figure", first[2]), same(rows, 3) && first[3] ? element("span", "", first[3]) : null),
      !first && together && element("p", "figure-line", element("span", "", gettext("Pick-up")), element("b", "big-figure", rows[0][4]), element("span", "", rows[0][5])),
      table,
      first && together && element("p", "collected", pickUp(rows[0][4], rows[0][5])),
    ];
  }

  const things = (label, list) => list.length > 0 && element("p", "small things", element("b", "", label), " ", inARow(list.map((one) => one.replace(/\.(?=\ue002?$)/, ""))));

  // Where and when a band meets and is collected; of one band whose steps are known, only the
  // latter, since the next step stands large and all of them in the list.
  function onTheDay(days, steps) {
    const rows = days.flatMap((one) => one.meet);
    const [first] = rows;
    if (days.length > 1) return everyonesDay(days);
    if (!days.length) return [];
    const carried = [element("details", "fold carried", element("summary", "", gettext("What to wear and bring")), things(gettext("Wear:"), days[0].wear), things(gettext("Bring:"), days[0].bring))].filter(() => days[0].wear.length + days[0].bring.length);
    if (steps.length) {
      const headline = element("p", "live-next");
      headline.dataset.liveNext = "";
      headline.hidden = true;
      const once = same(rows, 4, 5);
      const collected = rows.filter((row, place) => row[4] && !(once && place)).map(([name, , , , at, place]) => (
        element("p", "collected", once ? pickUp(at, place) : pickUpOf(name, at, place))));
      const list = element("ol", "plain day-steps", ...steps.map(([moment, at, what, kind]) => {
        const item = element("li", "", element("b", "num", at), " ", element("span", kind, what));
        item.dataset.at = moment;
        return item;
      }));
      const earlier = element("button", "quiet", gettext("Earlier today"));
      earlier.type = "button";
      earlier.addEventListener("click", () => { list.classList.add("shows-past"); });
      list.prepend(element("li", "earlier", earlier));
      return [headline, ...collected, ...carried, list];
    }
    if (rows.length === 1 && first[2]) {
      const figure = element("p", "figure-line", element("span", "", beThere(first[1])), element("b", "big-figure", first[2]), element("span", "", first[3]));
      return [figure, first[4] && element("p", "collected", pickUp(first[4], first[5])), ...carried];
    }
    return [...everyonesDay(days), ...carried];
  }

  function concertCard(concert, line, time) {
    const isToday = concert.dataset.day === time.day;
    const cancelled = "cancelled" in concert.dataset;
    const card = element("article", "concert-card");
    const own = dayOf(concert, line);
    const hours = line && own.length === 1 && own[0].hours;
    const heading = element("h2", "concert-name", link(concert.dataset.concert, text(concert, "name")));
    if (cancelled) {
      card.append(heading, element("p", "concert-when", element("b", "", gettext("Cancelled"))), element("p", "", text(concert, "note")), element("p", "small", gettext("It was to be on %(day)s.", { day: text(concert, "date") })));
      return card;
    }
    const days = dayNumber(concert.dataset.day) - dayNumber(time.day);
    if (!isToday) {
      const left = ngettext("%(num)s day", "%(num)s days", days, { num: element("span", "", String(days)) });
      card.append(dressWords(element("p", "big-figure concert-left", left), "small"));
    }
    const hour = hours || text(concert, "time");
    const head = element("p", "concert-when", element("b", "", isToday ? gettext("Today") : text(concert, "date")), " ", element("b", "", hour));
    card.append(heading, head, element("p", "concert-where", text(concert, "place")));
    for (const name of ["note", "rain"]) if (text(concert, name)) card.append(element("p", "concert-rain", text(concert, name)));
    const whole = isToday && line && own.length === 1 ? own[0].steps : [];
    const theirs = whole.filter(([, , , kind]) => kind); // of all steps those that concern families
    const steps = partOf(line) || theirs.length < 2 ? whole : theirs;
    // A band that does not play, and is the crew: when to be ready, and the way to its page.
    const { crew, ready = [] } = (line && own.length === 1 && own[0]) || {};
    if (isToday) card.append(...onTheDay(own, steps).filter(Boolean));
    else card.append(...ready.map((words) => element("p", "", words)));
    if (isToday && text(concert, "call")) card.append(element("p", "concert-call", text(concert, "call")));
    const toPage = crew ? link(crew, gettext("What the crew does")) : link(concert.dataset.concert, gettext("Where to be and when, what to wear, program"));
    // The sheet of the one band, else the list of all.
    const sheets = own.filter((one) => one.sheet);
    const sheet = sheets.length && link(sheets.length === 1 ? sheets[0].sheet : `${concert.dataset.concert}#print`, gettext("Print (PDF)"));
    const dot = element("span", "dot", "·");
    dot.setAttribute("aria-hidden", "true");
    card.append(element("p", "after", ...(sheet ? [element("span", "with-dot", toPage, " ", dot), " ", sheet] : [toPage])));
    if (steps.length) {
      card.dataset.liveSteps = "";
      liveSteps(card, time);
      const isNext = card.querySelector("[data-live-next] .pick-up");
      for (const one of all(".collected", card)) one.hidden = Boolean(isNext); // said once
    }
    return card;
  }

  function drawConcerts(line, time) {
    const section = find("concerts");
    if (!section) return;
    const ahead = concertsOf(line).filter((one) => !isOver(one, line, time));
    const shown = ahead.filter((one) => one.dataset.day === (ahead[0] || one).dataset.day);
    section.querySelector("[data-concert-card]").replaceChildren(...shown.map((one) => concertCard(one, line, time)));
    const others = ahead.filter((one) => !shown.includes(one) && one.dataset.ofCycle === shown[0].dataset.ofCycle).slice(0, 3);
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
      .filter((item) => holds(item, time.day, later(time.day, 21)))
      .filter((item) => item.className !== "closed" || !holds(item, time.day, time.day)) // said above
      .slice(0, 5);
    for (const item of all("li", section)) {
      item.hidden = !shown.includes(item);
      item.classList.toggle("is-now-line", shown.includes(item) && holds(item, time.day, time.day));
    }
    section.hidden = !shown.length;
  }

  // ---- Events of the day ---------------------------------------------------------------

  function drawEvents(line, time) {
    const list = document.querySelector("[data-there]");
    if (!list) return;
    const there = JSON.parse(list.dataset.there);
    const shown = all(".event", list).filter((one) => one.dataset.day === time.day && (!line || one.dataset.who.split(" ").includes(line.dataset.band)));
    find("events-today").replaceChildren(...shown.map((one) => {
      const own = one.querySelector("a");
      const path = Object.keys(there).find((key) => key.endsWith(`@${time.day}`) && own.getAttribute("href").includes(key.split("@")[0]));
      const copy = element("a", "", ...[...one.querySelector(".event-what").childNodes].map((node) => node.cloneNode(true)));
      copy.href = own.getAttribute("href");
      return element("section", "event-today is-now-line", element("p", "", element("span", "now-word", gettext("Today:")), " ", copy), path && !one.classList.contains("cancelled") ? element("p", "there", there[path]) : null);
    }));
  }

  // ---- A word about the day -----------------------------------------------------------

  // What is over and what begins, a school break, and that nothing is planned; each in a sentence.
  const nothing = (words) => element("span", "no-plans", words);

  function* words(line, time) {
    const [next] = (line ? [line] : bands).flatMap((one) => ahead(one.dataset.band, time)).sort((a, b) => (a.day < b.day ? -1 : 1));
    const mine = concertsOf(line).filter((one) => !("cancelled" in one.dataset));
    const over = mine.filter((one) => isOver(one, line, time) && one.dataset.day >= later(time.day, -7)).pop();
    if (over && !(next && next.cycle.first <= time.day)) yield gettext("%(concert)s is over. Thank you!", { concert: text(over, "name") });
    const closed = all("[data-school] li.closed").find((item) => holds(item, time.day, time.day));
    if (closed) {
      const title = copyOf(closed.querySelector("span"));
      yield closed.dataset.last > time.day && !closed.dataset.days
        ? gettext("%(title)s, through %(day)s.", { title, day: dayName(closed.dataset.last) })
        : gettext("%(title)s.", { title });
    }
    // On a concert's day nothing stands above it that can wait.
    const tonight = mine.some((one) => one.dataset.day === time.day && !isOver(one, line, time));
    if (next && next.cycle.first > time.day && !tonight) yield gettext("%(cycle)s begins %(day)s.", { cycle: next.cycle.name, day: dayName(next.cycle.first) });
    if (next || mine.some((one) => !isOver(one, line, time))) return;
    const year = cycles.map((cycle) => cycle.year).find((day) => day > time.day);
    const more = all("[data-school], [data-next]").some((section) => !section.hidden);
    const out = cycles.every((cycle) => cycle.out < time.day);
    if (year) yield gettext("School begins %(day)s.", { day: dayName(year) });
    else if (out) yield nothing(gettext("School is out. Next year’s dates will be posted here."));
    else yield more ? gettext("We’ll post the next music here.") : nothing(gettext("Nothing is planned right now. We’ll post the next dates here."));
  }

  function drawWords(line, time) {
    const said = find("today-word");
    const sentences = [...words(line, time)].map((one) => element("span", "", one));
    // What is said already is not said anew.
    if (said.textContent !== sentences.map((one) => one.textContent).join("")) said.replaceChildren(...sentences);
    said.hidden = !sentences.length;
    find("nothing").hidden = !sentences.some((one) => one.querySelector(".no-plans"));
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
    drawEvents(line, time);
    nextEvents(time.day, line && bands.length > 1 ? line.dataset.band : "");
    drawWords(line, time);
    sinceLastLook(time.day, line ? line.dataset.band : "");
    const music = page.querySelector(".today-music");
    const concert = find("concerts");
    const concertLeads = concert && !concert.hidden && (concert.classList.contains("is-now") || !partOf(line));
    // On a concert's day the bands' lines give way to its table, unless one still rehearses.
    const plays = concert && concert.classList.contains("is-now");
    const rehearses = (one) => ahead(one.dataset.band, time).some(({ day }) => day === time.day);
    for (const one of bands) one.hidden = Boolean(plays) && !rehearses(one);
    if (plays && !bands.some(rehearses)) find("bands").hidden = true;
    // Between school years a band has nothing to lead to.
    if (bands.every((one) => !one.querySelector(".band-now, [data-of-cycle]:not([hidden])"))) find("bands").hidden = true;
    page.prepend(concertLeads ? concert : music);
    // Who still has a rehearsal today sees it first, homework after it.
    const [first, second] = find("rehearsal").classList.contains("is-now") ? ["rehearsal", "tonight"] : ["tonight", "rehearsal"];
    music.prepend(find(first), find(second));
    page.classList.toggle("concert-leads", Boolean(concertLeads));
    // The way to the part alone needs no side of its own then.
    page.classList.toggle("no-music", [...music.children].every((child) => child.hidden || (plays && !evening && child === find("tonight"))));
    page.dataset.ready = "";
  }

  find("today-name").textContent = writtenDay(today(), "fullDay");
  draw();
  document.addEventListener("handbook:choice", draw);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) draw(); });
  window.addEventListener("pageshow", (event) => { if (event.persisted) draw(); });
})();

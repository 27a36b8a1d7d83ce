"use strict";
// What to practice tonight, reckoned as handbook/domain/evenings.py and home_days.py do it,
// with what was done on the evenings before. A band's data is a script,
// <cycle>/<band>/evenings.js, which is loaded when it is first asked for.

const tonight = (() => {
  const FEWEST = 2, MOST = 4, MINUTES_EACH = 4, SHORTEST = 2, EXERCISE = 5, TICKS_HOLD = 7, NEVER = -1;

  const number = (iso) => Math.round(Date.parse(`${iso}T00:00:00Z`) / 86400000);
  const iso = (day) => new Date(day * 86400000).toISOString().slice(0, 10);
  const within = (spans, day) => spans.some(([first, last]) => first <= day && day <= last);
  const sorted = (list, ...keys) => [...list].sort((a, b) => {
    for (const key of keys) { const apart = key(a) - key(b); if (apart) return apart; }
    return 0;
  });

  // ---- Which evenings there are, and what each may have ------------------------------

  function lack(passage, day) {
    const week = passage.weeks.findLastIndex((one) => one[0] <= day);
    return passage.weeks[Math.max(0, week)];
  }

  function eveningsOf(data, part) {
    const [passages, exercises] = data.sets[data.parts[part]];
    const own = passages.map((place) => data.passages[place]);
    const found = [];
    for (let place = 1; place < data.meets.length; place += 1) {
      const meet = data.meets[place], since = found.length;
      if (!meet.minutes) continue;
      const may = meet.exercises.filter((one) => exercises.includes(one)).map((one) => data.exercises[one].id);
      const plays = new Set(meet.plays.map((one) => data.passages[one].id));
      for (let n = number(data.meets[place - 1].day); n < number(meet.day); n += 1) {
        const day = iso(n);
        if (data.off.includes(day)) continue;
        const needs = new Map(own.filter((one) => (one.from || "") <= meet.day && day < (one.until || "~"))
          .map((one) => [one.id, lack(one, day)[1]]));
        if (!needs.size && !may.length) continue;
        const resting = within(data.rest, day);
        const minutes = resting ? Math.max(5, Math.ceil(meet.minutes / 2)) : meet.minutes;
        found.push({ day, minutes, since, needs, plays, exercises: may, resting, meet });
      }
    }
    return { evenings: found, priorities: new Map(own.map((one) => [one.id, one.priority || 2])) };
  }

  // ---- What is practiced on each ------------------------------------------------------

  const turnsOf = (passages, minutes) =>
    Math.min(passages, Math.max(FEWEST, Math.min(MOST, Math.floor(minutes / MINUTES_EACH))));

  function shared(total, weights) {
    const whole = weights.reduce((sum, one) => sum + one, 0);
    const shares = weights.map((one) => Math.floor((total * one) / whole));
    const places = sorted(weights.keys(), (place) => -((total * weights[place]) % whole));
    const left = total - shares.reduce((sum, one) => sum + one, 0);
    for (const place of places.slice(0, left)) shares[place] += 1;
    return shares;
  }

  function chosenOf(place, evening, last, ranked, left, minutes) {
    let turns = turnsOf(ranked.length, minutes);
    if (evening.resting) turns = Math.min(turns, FEWEST);
    const over = ranked.filter((id) => left.has(id));
    const oldest = sorted(ranked, last, (id) => !evening.plays.has(id));
    const others = sorted(ranked, (id) => last(id) === place - 1);
    const pressing = others.filter((id) => evening.plays.has(id) && last(id) < evening.since);
    const kept = pressing.some((id) => !left.has(id)) ? 1 : 0;
    const queue = over.length
      ? [...over.slice(0, Math.max(1, turns - kept)), ...pressing, ...oldest]
      : [...oldest.slice(0, Math.max(1, Math.floor(turns / 2))), ...pressing, ...others];
    return [...new Set(queue)].slice(0, turns);
  }

  function sharesOf(place, evening, order, last, left) {
    const rows = [];
    let first = 0;
    if (evening.exercises.length) {
      first = evening.needs.size ? Math.max(1, Math.floor(evening.minutes / EXERCISE)) : evening.minutes;
      const [id] = sorted(evening.exercises, last);
      rows.push({ kind: "exercise", id, minutes: first, next: false, left: left.has(id) });
    }
    if (!evening.needs.size) return rows;
    const minutes = evening.minutes - first;
    const rank = [(id) => -order.get(id)[0], (id) => -evening.needs.get(id), (id) => order.get(id)[1]];
    const chosen = sorted(
      chosenOf(place, evening, last, sorted(evening.needs.keys(), ...rank), left, minutes),
      (id) => !left.has(id), (id) => !evening.plays.has(id), ...rank,
    );
    const weights = chosen.map((id) => 4 + (evening.plays.has(id) ? 2 : 0) + Math.floor(evening.needs.get(id) / 10));
    const shares = shared(minutes - SHORTEST * chosen.length, weights);
    chosen.forEach((id, n) => rows.push(
      { kind: "passage", id, minutes: SHORTEST + shares[n], next: evening.plays.has(id), left: left.has(id) },
    ));
    return rows;
  }

  // `done` has the ids of what was practiced, by the day.
  function planned(data, part, done) {
    const { evenings, priorities } = eveningsOf(data, part);
    const order = new Map([...priorities].map(([id, priority], n) => [id, [priority, n]]));
    const lasts = new Map();
    const last = (id) => lasts.get(id) ?? NEVER;
    const told = evenings.map(({ day }) => (done[day] && done[day].length ? done[day] : null));
    let left = new Set();
    return evenings.map((evening, place) => {
      const rows = sharesOf(place, evening, order, last, left);
      const ids = rows.map(({ id }) => id);
      const ticks = told.slice(Math.max(0, place - TICKS_HOLD), place).some(Boolean);
      const practiced = told[place] || (ticks ? [] : ids);
      left = new Set(ids.filter((id) => !practiced.includes(id)));
      for (const id of practiced) lasts.set(id, place);
      return { ...evening, rows };
    });
  }

  // ---- The data of a band, and rows that are ready to show -----------------------------

  const waiting = new Map(), loaded = new Map();
  globalThis.handbookEvenings = (of, data) => loaded.set(of, data);

  function load(of) {
    if (!waiting.has(of)) {
      waiting.set(of, loadScript(`${root}${of}/evenings.js`).then(() => loaded.get(of), () => undefined));
    }
    return waiting.get(of);
  }

  function shown(data, of, part, evening) {
    const page = `${of}/part/${part}/`;
    const by = new Map([...data.passages, ...data.exercises].map((one) => [one.id, one]));
    const rows = evening.rows.map((row) => {
      const one = by.get(row.id);
      const href = address(`${root}${page}#${row.id.replace("/", "-")}`);
      if (row.kind === "exercise") return { ...row, name: one.name, href };
      const [sign, words, goal] = one.goal;
      const [, , bpm, steps] = lack(one, evening.day);
      return {
        ...row, href, name: one.name, piece: data.pieces[one.piece], measures: one.measures, steps,
        target: { sign, words, bpm }, goal: { sign, words, bpm: goal },
      };
    });
    const { day, minutes, resting, meet } = evening;
    return { day, minutes, rest: resting, stage: data.stages[meet.stage], next: meet.day, rows };
  }

  async function evenings(cycle, band, part, done) {
    const of = `${cycle}/${band}`;
    const data = await load(of);
    if (!data || !(part in data.parts)) return [];
    const ticks = done || (typeof practiced === "undefined" ? {} : practiced.days(`${cycle}-${band}-${part}`));
    return planned(data, part, ticks).map((evening) => shown(data, of, part, evening));
  }

  return { planned, evenings, number, iso };
})();

// An evening is {day, minutes, rest, stage, next, rows}; each row has what a list shows of it.
// On a day without one the answer is null.
async function tonightFor(cycle, band, part, day, done) {
  return (await tonight.evenings(cycle, band, part, done)).find((one) => one.day === day) || null;
}

// ---- How an evening is told, on Today and on the part's page ---------------------------

function tonightMinutes({ minutes }) {
  const num = element("b", "", String(minutes));
  num.dataset.number = "";
  return ngettext("%(num)s minute", "%(num)s minutes", minutes, { num });
}

// For how long, whether it is left from the evening before, and of what it is.
function tonightFacts(row) {
  const num = element("span", "", String(row.minutes));
  num.dataset.number = "";
  const minutes = element("b", "", filled(handbookWords.formats.minutes.replace("%s", "%(num)s"), { num }));
  const told = row.left ? gettext("%(minutes)s, left from last night", { minutes }) : minutes;
  if (!row.piece) return [told];
  const piece = element("span", "", row.piece);
  piece.translate = false;
  piece.dataset.piece = "";
  return [told, " ", dot(), " ", besides(piece, element("span", "where", row.measures))];
}

// Where the click begins, large since it is what is heard; what to reach this week, or the goal.
function tonightTempo({ target, goal, steps: [start = target.bpm] }) {
  if (!target.bpm) return [element("span", "mark", target.words)];
  const note = element("span", "note", target.sign);
  note.setAttribute("aria-hidden", "true");
  const mark = element("span", "mark", note, element("span", "vh", target.words), " = ", element("b", "", start));
  mark.translate = false;
  let words = gettext("goal %(bpm)s", { bpm: goal.bpm });
  if (start !== target.bpm && target.bpm !== goal.bpm) words = gettext("this week %(bpm)s", { bpm: target.bpm });
  else if (start === goal.bpm) words = gettext("the goal");
  return [mark, element("span", "small", words)];
}

// The evenings of the week of a day, Monday to Sunday.
async function weekFor(cycle, band, part, day, done) {
  const monday = tonight.number(day) - ((tonight.number(day) + 3) % 7);
  const from = tonight.iso(monday), to = tonight.iso(monday + 6);
  return (await tonight.evenings(cycle, band, part, done)).filter((one) => from <= one.day && one.day <= to);
}

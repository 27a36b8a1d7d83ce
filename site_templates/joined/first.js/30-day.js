// ---- What is over, on and to come ----------------------------------------------------

// What a rule hid is shown again if the main script, which has the buttons, does not arrive.
const putAway = new Set();

function putAwayIf(item, over) {
  item.hidden = over;
  if (over) putAway.add(item);
}

// Before the day of `data-start`, on it and until `data-end`, or after that; an end that is a
// day alone lasts until midnight.
function phaseOf({ start, end = start }) {
  const now = schoolStamp();
  if (now.slice(0, 10) < start.slice(0, 10)) return "before";
  return now.slice(0, end.length) > end ? "after" : "on";
}

function showPhase(item) {
  item.hidden = !item.dataset.show.split(" ").includes(phaseOf(item.dataset));
}

function inDays(days) {
  return days === 0 ? gettext("today") : days === 1 ? gettext("tomorrow") : ngettext("in %(num)s day", "in %(num)s days", days);
}

function tellDays(item, now) {
  const days = dayNumber(item.dataset.daysTo) - dayNumber(now);
  item.textContent = days < 0 ? "" : inDays(days);
}

// Whether an end has passed: a day lasts until midnight, a moment such as 2026-12-17T14:45 does not.
// The clock is asked only on the day itself.
const hasPassed = (end, now) => (end.startsWith(now) && end.length > 10 ? schoolStamp() >= end : end.slice(0, 10) < now);

// Of several stretches of time, in the order of their ends, show the one that is on, or else the
// next one, or else what says that all are over.
function pickStretch(item, now) {
  const container = item.parentElement;
  if (!container || !("pick" in container.dataset)) return;
  const isOver = container.dataset.until && container.dataset.until < now;
  const before = [...container.children].find((one) => one === item || "isPicked" in one.dataset);
  const picked = !isOver && before === item && !hasPassed(item.dataset.to, now);
  if (picked) item.dataset.isPicked = ""; else delete item.dataset.isPicked;
  item.classList.toggle("is-coming", Boolean(picked && item.dataset.from > now));
  if (item.tagName === "DETAILS") item.open = picked;
  putAwayIf(item, !picked);
  container.dataset.picked = "";
}

// Of the days or ends of rehearsals, how many are still ahead; nothing before the first and after the last.
function tellAhead(item, now) {
  const days = item.dataset.rehearsals.split(" ");
  const ahead = days.filter((day) => !hasPassed(day, now)).length;
  const told = ahead && ahead < days.length;
  item.textContent = !told ? "" : item.dataset.aheadOf === "concert"
    ? ngettext("%(num)s rehearsal to the concert", "%(num)s rehearsals to the concert", ahead)
    : ngettext("%(num)s rehearsal left", "%(num)s rehearsals left", ahead);
}

// In the list of all cycles a heading stands before those that are coming, on, and over.
function headCycles(item) {
  if (item.dataset.phase) return;
  const phase = item.dataset.phase = phaseOf(item.dataset);
  const list = item.parentElement;
  const [before] = all(":scope > [data-phase]", list).slice(-2, -1);
  for (const other of all("[data-no-phase]", list)) other.hidden = true;
  if (before && before.dataset.phase === phase) return;
  const head = document.createElement("h2");
  head.className = "now-only";
  head.textContent = phase === "before" ? pgettext("cycles", "Coming") : phase === "on" ? pgettext("cycles", "Now") : pgettext("cycles", "Past");
  item.before(head);
}

// Dates that are over give way to those ahead. Where the last day of a list is given, the list
// stands whole once that is over too.
function foldPast(item, now) {
  const last = item.closest("[data-fold-past]").dataset.foldPast;
  putAwayIf(item, hasPassed(item.dataset.to || item.dataset.day, now) && !(last && last < now));
}

// What is asked of each element with some attributes, by what stands before it on the page.
const DAY_RULES = [
  ["[data-day]", (item, now) => {
    item.classList.toggle("is-past", item.dataset.day < now);
    item.classList.toggle("is-today", item.dataset.day === now);
  }],
  ["[data-from][data-to]", (item, now) => item.classList.toggle("is-now", item.dataset.from <= now && now <= item.dataset.to)],
  ["[data-pick] > [data-to]", pickStretch],
  ["[data-pick] > [data-over]", (item) => { item.hidden = [...item.parentElement.children].some((one) => "isPicked" in one.dataset); }],
  ["[data-week-name]", (item, now) => {
    const week = item.closest("[data-from][data-to]");
    if (week && week.dataset.from <= now && now <= week.dataset.to) item.textContent = gettext("this week");
  }],
  ["[data-days-to]", tellDays],
  ["[data-show][data-start]", showPhase],
  ["[data-rehearsals]", tellAhead],
  ["[data-cycle-list] > [data-start]", headCycles],
  ["[data-fold-past] :is([data-day], [data-to])", foldPast],
  ["svg .rungs .rung", (item, now) => {
    const before = item.previousElementSibling;
    item.classList.toggle("is-next", !hasPassed(item.dataset.ends, now) && (!before || hasPassed(before.dataset.ends, now)));
  }],
];

function showDayOf(item, now) {
  for (const [selector, rule] of DAY_RULES) if (item.matches(selector)) rule(item, now);
}

// For what a script adds to the page.
function showDay(within = document, now = today()) {
  for (const [selector, rule] of DAY_RULES) for (const item of all(selector, within)) rule(item, now);
}


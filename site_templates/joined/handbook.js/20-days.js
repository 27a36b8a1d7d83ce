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

// A tab on a phone stays open for weeks: begin anew when it is looked at on another day.
function followTheDay(now) {
  const look = () => { if (!document.hidden && today() !== now) location.reload(); };
  document.addEventListener("visibilitychange", look);
  window.addEventListener("pageshow", look);
}


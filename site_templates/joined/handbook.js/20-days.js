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

// Dates that are over are folded away before the first paint; here is the way to them.
function offerPast() {
  for (const place of all("[data-fold-past]")) {
    const over = all("[data-day][hidden], [data-to][hidden]", place);
    const button = document.querySelector("[data-show-past]");
    if (!button || !over.length) continue;
    button.hidden = false;
    button.addEventListener("click", () => { for (const item of over) item.hidden = false; button.hidden = true; });
  }
}

// A tab on a phone stays open for weeks: begin anew when it is looked at on another day. What
// is told of the day's hours follows the clock.
function followTheDay(now) {
  const phases = all("[data-show][data-start]");
  const hourly = all("[data-pick] > [data-to*=T], [data-rehearsals], .rungs > .rung");
  const look = () => {
    if (document.hidden) return;
    if (today() !== now) location.reload();
    phases.forEach(showPhase);
    for (const item of hourly) showDayOf(item, now);
  };
  document.addEventListener("visibilitychange", look);
  window.addEventListener("pageshow", look);
  if (phases.length || hourly.length) setInterval(look, 30000);
}

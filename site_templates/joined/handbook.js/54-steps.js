// ---- A day step by step -------------------------------------------------------------
// Each step says when it begins, `data-at="2026-12-17T17:20"`, by the school's clock. On that
// day what is over turns grey, what is on is marked, and the next step stands above the list
// with the minutes that are left. On every other day the list stays as it was sent.

const LAST_STEP_MINUTES = 30; // how long the last step, most often the pick-up, is still on

const minutesFrom = (day, moment) =>
  (dayNumber(moment.slice(0, 10)) - dayNumber(day)) * 1440 + Number(moment.slice(11, 13)) * 60 + Number(moment.slice(14, 16));

// Of moments in order: `on` is the first and the last of those that began last, `next` is the
// first to come, `minutes` are left until then. Without `next` the day is done or nearly so.
function stepsAt(moments, time) {
  const left = moments.map((moment) => minutesFrom(time.day, moment) - time.minutes);
  const next = left.findIndex((minutes) => minutes > 0);
  const last = next < 0 ? left.length - 1 : next - 1;
  const first = last < 0 ? -1 : left.indexOf(left[last]);
  const over = next < 0 && left[last] <= -LAST_STEP_MINUTES;
  const begins = moments.length && time.day >= moments[0].slice(0, 10);
  return { state: !begins ? "before" : over ? "over" : "day", first, last, next, minutes: next < 0 ? 0 : left[next] };
}

function inMinutes(minutes) {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (minutes < 1) return gettext("now");
  if (!hours) return ngettext("in %(num)s minute", "in %(num)s minutes", rest);
  if (!rest) return ngettext("in %(num)s hour", "in %(num)s hours", hours);
  // Translators: hours and minutes come from "in %(hours)s %(minutes)s".
  const told = { hours: npgettext("in", "%(num)s hour", "%(num)s hours", hours), minutes: npgettext("in", "%(num)s minute", "%(num)s minutes", rest) };
  return gettext("in %(hours)s %(minutes)s", told);
}

function liveSteps(element, time = schoolTime()) {
  const items = all("[data-at]", element);
  const { state, first, last, next, minutes } = stepsAt(items.map((item) => item.dataset.at), time);
  const onDay = state === "day";
  items.forEach((item, place) => {
    // What is due by a time is over then, not on.
    const isDue = item.dataset.due !== undefined;
    const isOn = onDay && !isDue && first >= 0 && place >= first && place <= last;
    item.classList.toggle("is-over", state === "over" || (onDay && (place < first || (isDue && place <= last))));
    item.classList.toggle("is-on", isOn);
    if (isOn) item.setAttribute("aria-current", "step"); else item.removeAttribute("aria-current");
  });
  const headline = element.querySelector("[data-live-next]")
    || (element.id && document.querySelector(`[data-live-next="${element.id}"]`));
  if (!headline) return state;
  headline.hidden = !onDay;
  headline.dataset.state = onDay ? (first < 0 ? "first" : "later") : state;
  if (!onDay) return state;
  const shown = items[next < 0 ? first : next];
  const words = [...shown.childNodes].map((node) => node.cloneNode(true));
  const when = document.createElement("b");
  when.className = "live-in";
  // What is the end is not on: it says so itself.
  when.textContent = next < 0 && shown.dataset.end !== undefined ? "" : inMinutes(minutes);
  const what = document.createElement("span");
  what.className = "live-what";
  what.append(...words);
  headline.replaceChildren(what, " ", when);
  // Said aloud when a step begins, not with each minute that goes by.
  const began = first < 0 ? "" : gettext("Now: %(steps)s", { steps: inARow(items.slice(first, last + 1).map((item) => item.textContent.trim())) });
  if (element.dataset.began !== undefined && element.dataset.began !== began) {
    let status = element.querySelector("[role=status]");
    if (!status) {
      status = document.createElement("p");
      status.className = "vh";
      status.setAttribute("role", "status");
      element.append(status);
    }
    // A region that is new is not read: its words come a moment later.
    setTimeout(() => { status.textContent = began; }, 100);
  }
  element.dataset.began = began;
  return state;
}

function followSteps() {
  const draw = () => {
    if (document.hidden) return;
    const time = schoolTime();
    for (const element of all("[data-live-steps]")) liveSteps(element, time);
    document.dispatchEvent(new CustomEvent("handbook:steps"));
  };
  draw();
  setInterval(draw, 30000);
  document.addEventListener("visibilitychange", draw);
}

followSteps();

// ---- Where no class comes: the concert with its hours, or that the cycle is over -----------------

const HOURS_STAY = 60 * MINUTE; // after the last of them, unless class comes before

// What stands in place of a rehearsal at a moment, if anything: a concert that comes before the
// next rehearsal, or the end of all. A log may still be written for a while.
function insteadAt(now) {
  const ahead = data.rehearsals.filter((one) => endOf(one) + AFTER > now);
  const isThere = ({ over }) => now < over || (now < over + HOURS_STAY && !ahead.some(({ at }) => at < over + HOURS_STAY));
  const concert = data.concerts.find(isThere);
  if (concert) return ahead.some(({ at }) => at < concert.at) ? null : { concert };
  return ahead.length || data.alone ? null : { concert: null };
}

// Not while the director looks at a rehearsal, writes its log, or is still in class.
function insteadNow() {
  if (shown.chosen || shown.looked !== null || isHeldOver(moment())) return null;
  const { activeElement } = document;
  if (activeElement && activeElement.matches(".log :is(input, textarea)")) return null;
  if (finger.isInLog()) return null;
  return insteadAt(moment());
}

function concertSteps(steps) {
  return element("ol", "order concert-steps", ...steps.map(([at, clock, what]) => {
    const item = element("li", "line", element("span", "line-time", clock), element("span", "line-what", what));
    item.dataset.at = at;
    return item;
  }));
}

function drawConcert({ day, name, venue, facts, bands, private: own }) {
  const top = element("div", "top",
    element("h2", "band", writtenDay(day, "fullDay")),
    element("p", "top-clock", element("b", "clock")));
  const card = element("section", "card is-before is-concert",
    element("div", "card-head", element("p", "card-label", element("span", "label concert-label"))),
    element("h2", "block-name", name),
    element("p", "block-detail", venue),
    element("p", "block-detail on-stage"),
    ...facts.map((fact) => element("p", "", fact)),
    element("ol", "order concert-steps concert-next"),
    ...drawOwn(own));
  const hours = bands.map(([, band, steps]) => element("section", "concert-band", element("h3", "", band), concertSteps(steps)));
  return [top, card, element("div", "concert-hours", ...hours)];
}

function drawInstead({ concert }) {
  const others = element("p", "instead-more", gettext("To see a rehearsal or write its log, choose it above."));
  if (concert) return [...drawConcert(concert), others];
  const card = element("section", "card is-before is-done",
    element("h2", "block-name", gettext("The cycle is over")),
    element("p", "block-detail", data.name));
  return [card, others];
}

const NEXT_STEPS = 4; // of all bands, in the card

// The steps of all bands that are ahead, each once, with the bands that take it.
function stepsAhead({ bands }, now) {
  const found = new Map();
  for (const [, band, steps] of bands) {
    for (const [at, clock, what] of steps) {
      const step = found.get(`${at} ${what}`) || { at, clock, what, bands: [] };
      step.bands.push(band);
      if (at >= now) found.set(`${at} ${what}`, step);
    }
  }
  const whoOf = (step) => (step.bands.length < bands.length ? step.bands : []);
  return [...found.values()].sort((one, other) => one.at - other.at).map((step) => ({ ...step, what: besides(...whoOf(step), step.what) }));
}

const NEAR_STEP = 90; // minutes

// What the hour asks for: the next step, or how long until the concert.
function concertLabel(concert, next, now) {
  const minutes = next ? Math.ceil((next.at - now) / MINUTE) : Infinity;
  if (minutes < 1) return gettext("Now: %(step)s", { step: next.what });
  if (minutes <= NEAR_STEP) return gettext("In %(time)s: %(step)s", { time: minutesText(minutes), step: next.what });
  if (now < concert.at) return untilText(concert, now);
  return next ? gettext("Now") : gettext("This concert is over.");
}

function onStage({ bands }, now) {
  const playing = bands.filter(([, , , [first, last]]) => first <= now && now < last).map(([, band]) => band);
  return playing.length ? gettext("On stage: %(bands)s", { bands: inARow(playing) }) : "";
}

// Marks the hours that are past, and of each band the step that is on.
function markHours(list, now) {
  const items = all("[data-at]", list);
  const timesOf = items.map((item) => Number(item.dataset.at));
  const on = Math.max(...timesOf.filter((at) => at <= now));
  for (const [place, item] of items.entries()) {
    const isOn = timesOf[place] === on && on < timesOf[timesOf.length - 1];
    item.classList.toggle("is-past", timesOf[place] < now && !isOn);
    item.classList.toggle("is-now", isOn);
    if (isOn) item.setAttribute("aria-current", "step"); else item.removeAttribute("aria-current");
  }
}

// How long until the next step, what comes then in any band, who plays, and which hours are past.
function tickInstead({ concert }, place, now) {
  if (!concert) return;
  const write = (selector, text) => { const one = place.querySelector(selector); if (one.textContent !== text) one.textContent = text; };
  const ahead = stepsAhead(concert, now);
  write(".concert-label", concertLabel(concert, ahead[0], now));
  write(".clock", Math.abs(now - concert.at) < NEAR ? clockAt(concert, now) : "");
  write(".on-stage", onStage(concert, now));
  const next = ahead.slice(0, NEXT_STEPS).map(({ at, clock, what }) => [at, clock, what]);
  const list = place.querySelector(".concert-next"), drawn = concertSteps(next);
  if (list.textContent !== drawn.textContent) list.replaceChildren(...drawn.children);
  for (const one of all(".concert-hours .concert-steps", place)) markHours(one, now);
}

// Before class on the day of a concert: when it is, and what this band does first.
function drawConcertLine(rehearsal) {
  const { id } = bandOf(rehearsal);
  return data.concerts.filter(({ day, at }) => day === rehearsal.day && at > moment()).map((concert) => {
    const own = concert.bands.find(([band]) => band === id);
    const clock = clockAt(concert, concert.at);
    if (!own) return element("p", "concert-line", gettext("Concert today, %(clock)s", { clock }));
    const [, band, [[, first, what]]] = own;
    return element("p", "concert-line", gettext("Concert today, %(clock)s; for %(band)s first at %(first)s: %(step)s", { clock, band, first, step: what }));
  });
}

// On the day of a concert, beside the class: the hours of this band, or of all.
function drawConcertToday(rehearsal) {
  const { id } = bandOf(rehearsal);
  return data.concerts.filter(({ day }) => day === rehearsal.day).map((concert) => {
    const own = concert.bands.filter(([band]) => band === id);
    const hours = (own.length ? own : concert.bands).flatMap(([, band, steps]) => [element("h3", "", band), concertSteps(steps)]);
    const when = besides(concert.name, clockAt(concert, concert.at), concert.venue);
    return element("section", "fact", element("h2", "", gettext("Concert today")), element("p", "", when), ...hours);
  });
}

// ---- Where no class comes: the concert with its hours, or that the cycle is over -----------------

// What stands in place of a rehearsal at a moment, if anything: a concert that comes before the
// next rehearsal, or the end of all. A log may still be written for a while.
function insteadAt(now) {
  const ahead = data.rehearsals.filter((one) => endOf(one) + AFTER > now);
  const concert = data.concerts.find(({ over }) => now < over);
  if (concert) return ahead.some(({ at }) => at < concert.at) ? null : { concert };
  return ahead.length || data.alone ? null : { concert: null };
}

// Not while the director looks at a rehearsal, writes its log, or is still in class.
function insteadNow() {
  if (shown.chosen || shown.looked !== null || isHeldOver(moment())) return null;
  const { activeElement } = document;
  if (activeElement && activeElement.matches(".log :is(input, textarea)")) return null;
  return insteadAt(moment());
}

function concertSteps(steps) {
  return element("ol", "order concert-steps", ...steps.map(([at, clock, what]) => {
    const item = element("li", "line", element("span", "line-time", clock), element("span", "line-what", what));
    item.dataset.at = at;
    return item;
  }));
}

function drawConcert({ name, venue, facts, bands, private: own }) {
  const card = element("section", "card is-before is-concert",
    element("div", "card-head", element("p", "card-label", element("span", "label concert-label"))),
    element("h2", "block-name", name),
    element("p", "block-detail", venue),
    ...facts.map((fact) => element("p", "", fact)),
    element("ol", "order concert-steps concert-next"),
    ...drawOwn(own));
  const hours = bands.map(([, band, steps]) => element("section", "concert-band", element("h3", "", band), concertSteps(steps)));
  return [card, element("div", "concert-hours", ...hours)];
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

// How long until it, what comes next in any band, and which hours are past.
function tickInstead({ concert }, place, now) {
  if (!concert) return;
  const label = place.querySelector(".concert-label");
  const ends = Math.max(...concert.bands.flatMap(([, , steps]) => steps.map(([at]) => at)), concert.at);
  const text = now < concert.at ? untilText(concert, now) : now < ends ? gettext("Now") : gettext("This concert is over.");
  if (label.textContent !== text) label.textContent = text;
  const ahead = concert.bands.flatMap(([, band, steps]) => steps.map(([at, clock, what]) => [at, clock, besides(band, what)])).filter(([at]) => at >= now);
  const next = ahead.sort(([one], [other]) => one - other).slice(0, NEXT_STEPS);
  const list = place.querySelector(".concert-next"), drawn = concertSteps(next);
  if (list.textContent !== drawn.textContent) list.replaceChildren(...drawn.children);
  for (const item of all("[data-at]", place)) item.classList.toggle("is-past", Number(item.dataset.at) < now);
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

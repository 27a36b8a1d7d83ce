// ---- The stand view itself ----------------------------------------------------------------------

const NEAR = 6 * 60 * MINUTE;

// Minutes that are left, up to the last one, which counts its seconds.
function leftText(seconds) {
  if (Math.ceil(seconds) >= MINUTE) return minutesText(Math.ceil(seconds / MINUTE));
  return `0:${String(Math.max(0, Math.ceil(seconds)) % MINUTE).padStart(2, "0")}`;
}

function overText(seconds) {
  return `+${Math.floor(seconds / MINUTE)}:${String(Math.floor(seconds) % MINUTE).padStart(2, "0")}`;
}

// How long until something, in whole minutes, hours or days.
function untilText(rehearsal, now) {
  const days = dayNumber(rehearsal.day) - dayNumber(today());
  const minutes = Math.ceil((rehearsal.at - now) / MINUTE);
  if (days === 0 && minutes <= 90) return gettext("Begins in %(time)s", { time: minutesText(minutes) });
  const clock = clockAt(rehearsal, rehearsal.at);
  if (days === 0) return gettext("Begins today at %(clock)s", { clock });
  if (days === 1) return gettext("Begins tomorrow at %(clock)s", { clock });
  return gettext("Begins on %(day)s at %(clock)s", { day: writtenDay(rehearsal.day, "fullDay"), clock });
}

// How long class still has; past its end how long it has gone on, and which band waits.
function bellText(rehearsal, end, now) {
  if (now < end) return gettext("%(time)s to the end of class", { time: minutesText(Math.ceil((end - now) / MINUTE)) });
  if (cardOf(rehearsal, shown.on).kind !== "on") return "";
  const time = minutesText(Math.max(1, Math.floor((now - end) / MINUTE)));
  const next = data.rehearsals.find(({ at }) => end <= at && at < end + HELD_OVER);
  if (!next) return gettext("%(time)s past the end", { time });
  return gettext("%(time)s past the end; %(band)s at %(clock)s", { time, band: bandOf(next).name, clock: clockAt(next, next.at) });
}

function drawTop(rehearsal) {
  const { n, of, stage, called, rooms = [], ledBy } = rehearsal;
  const hours = gettext("%(start)s to %(end)s", { start: clockAt(rehearsal, rehearsal.at), end: clockAt(rehearsal, endOf(rehearsal)) });
  const facts = [hours, rooms.length === 1 && rooms[0], gettext("Rehearsal %(number)s of %(count)s", { number: n, count: of }), stage, called, ledBy];
  return element("div", "top",
    element("h2", "band", bandOf(rehearsal).name),
    element("p", "top-clock", element("b", "clock"), element("span", "bell")),
    element("p", "top-facts", ...facts.filter(Boolean).map((fact) => element("span", "", fact))));
}

// Which block the card shows, and what it says of it.
function cardOf(rehearsal, on) {
  const { looked } = shown;
  const { blocks } = rehearsal;
  if (looked !== null && looked !== on) return { kind: "looked", place: looked };
  if (on < 0) return { kind: "before", place: 0 };
  if (on >= blocks.length) return { kind: "after", place: null };
  return { kind: "on", place: on };
}

function drawLooked(place) {
  const { on } = shown;
  const begins = button("begin this", "wide", gettext("Begin this now"), () => shown.begin(place));
  const back = button("back", "wide", on < 0 || on >= shown.rehearsal.blocks.length ? gettext("Back to the overview") : gettext("Back to what is on"), () => shown.look(on));
  const isClass = on >= 0 && on < shown.rehearsal.blocks.length;
  const drops = isClass && droppable(shown.rehearsal).includes(place) ? button("drop this", "wide", gettext("Drop this"), () => shown.begin(nextToBegin(), place)) : "";
  return element("div", "tools", back, isClass ? begins : "", drops);
}

function drawNext(rehearsal, place) {
  const following = followingIn(shown.course, place);
  const block = rehearsal.blocks[following];
  if (!block) return "";
  const [mark] = (block.passages || []).length === 1 ? [block.passages[0].slice(1)] : [block.tempo];
  return element("div", "next",
    element("span", "label", pgettext("block of a rehearsal", "Next")),
    element("span", "next-time", shown.went.held === place ? "" : clockAt(rehearsal, shown.course[following].start)),
    element("b", "next-name", titleOf(block)),
    element("span", "next-detail", underTitle(block) || ""),
    mark ? markOf(mark) : "");
}

function drawCard(rehearsal) {
  const { kind, place } = cardOf(rehearsal, shown.on);
  const card = element("section", `card is-${kind}`);
  card.setAttribute("aria-label", kind === "looked" ? gettext("A look at") : gettext("Now"));
  const label = element("p", "card-label", element("span", "label"), element("span", "card-clock"));
  const left = element("p", "left");
  left.dataset.left = "";
  card.append(element("div", "card-head", label, left));
  if (kind === "before" || (kind === "on" && rehearsal.blocks[place].kind === "set_up")) card.append(...drawConcertLine(rehearsal));
  if (kind === "before") card.append(element("p", "block-detail begins-with", gettext("It begins with:")));
  if (place !== null) card.append(drawBlock(rehearsal, place, kind === "on" ? drawRooms(rehearsal, place) : []));
  if (kind === "looked") card.append(drawLooked(place));
  if (kind === "before") card.append(drawNext(rehearsal, place), ...drawReady(rehearsal), ...drawOwn(rehearsal.private || []));
  if (kind === "on") card.append(...drawBesides(rehearsal, place), ...drawLate(rehearsal, drawNext(rehearsal, place)));
  if (kind === "after") card.append(element("p", "block-detail", gettext("Keep what was reached, then save the log file.")), logView.draw(rehearsal));
  return card;
}

const standView = {
  instead: null, // what stands in place of a rehearsal
  heldFor: -1, // and for which minute of a block that is held
  drawn: "", // what the card was drawn for, beside what the director does

  draw(place, rehearsal) {
    this.instead = insteadNow();
    place.classList.toggle("is-instead", Boolean(this.instead));
    if (this.instead) {
      const unsafe = element("div", "unsafe-all", ...notSaved.drawLogs());
      place.replaceChildren(...drawFarDate(), ...notSaved.drawStorage(), unsafe, ...drawInstead(this.instead));
      this.drawn = this.keyOf(rehearsal);
      return;
    }
    const { kind } = cardOf(rehearsal, shown.on);
    const inCard = kind === "on" ? rehearsal.blocks[shown.on].kind : kind;
    const day = element("div", "side", drawOrder(rehearsal), ...drawDay(rehearsal, inCard));
    const log = kind === "after" ? "" : logView.draw(rehearsal);
    // While class is on, logs of other days are told at the log, not before the card.
    const unsafe = element("div", "unsafe-all", ...notSaved.drawLogs());
    const parts = kind === "on" ? [drawCard(rehearsal), day, unsafe, log] : [unsafe, drawCard(rehearsal), day, log];
    place.replaceChildren(drawTop(rehearsal), ...drawFarDate(), ...notSaved.drawStorage(), ...parts.filter(Boolean));
    this.drawn = this.keyOf(rehearsal);
    this.heldFor = this.heldMinutes(rehearsal, moment());
  },

  // The minute that a held block is in, past its time: then the hours ahead are others.
  heldMinutes: (rehearsal, now) => (courseAhead(rehearsal, now) === shown.course ? -1 : Math.floor(now / MINUTE)),

  keyOf(rehearsal) {
    const instead = insteadNow();
    if (instead) return instead.concert ? `concert ${instead.concert.at}` : "over";
    const { kind, place } = cardOf(rehearsal, shown.on);
    return `${kind} ${shown.on} ${kind === "on" ? roomsAt(rehearsal, place, moment()) : ""}`;
  },

  tick(place, rehearsal, now) {
    const key = this.keyOf(rehearsal);
    if (key !== this.drawn) {
      const turned = this.drawn !== "";
      if (shown.looked === null) this.tell(rehearsal);
      redraw();
      if (turned) this.bringCard(place);
      return;
    }
    if (this.instead) {
      tickInstead(this.instead, place, now);
      return;
    }
    if (this.heldFor !== this.heldMinutes(rehearsal, now)) redraw();
    this.time(place, rehearsal, now);
    markOrder();
    logView.tick(rehearsal);
  },

  // What has just come on comes into view, if no hand is on the page.
  bringCard(place) {
    const card = place.querySelector(".card");
    if (!card || shown.looked !== null || !finger.isResting()) return;
    const { top } = card.getBoundingClientRect();
    if (top < 0 || top > window.innerHeight / 2) card.scrollIntoView({ block: "start" });
  },

  // The time of day, and how long class still has.
  clock(place, rehearsal, now) {
    const write = (selector, text) => { const one = place.querySelector(selector); if (one.textContent !== text) one.textContent = text; };
    const isDay = Math.abs(now - rehearsal.at) < NEAR, end = endOf(rehearsal);
    write(".clock", isDay ? clockAt(rehearsal, now) : "");
    write(".bell", rehearsal.at <= now ? bellText(rehearsal, end, now) : "");
  },

  tell(rehearsal) {
    const { on } = shown;
    const block = rehearsal.blocks[on];
    if (block) say(gettext("Now: %(block)s", { block: titleOf(block) }));
  },

  time(place, rehearsal, now) {
    const card = place.querySelector(".card");
    this.clock(place, rehearsal, now);
    const { kind, place: at } = cardOf(rehearsal, shown.on);
    const write = (selector, text) => { const one = card.querySelector(selector); if (one.textContent !== text) one.textContent = text; };
    const times = at === null ? null : shown.course[at];
    const labels = { on: gettext("Now"), before: untilText(rehearsal, now), after: gettext("This rehearsal is over"), looked: gettext("A look at") };
    write(".label", labels[kind]);
    write(".card-clock", times && kind !== "before" ? gettext("%(start)s to %(end)s", { start: clockAt(rehearsal, times.start), end: clockAt(rehearsal, times.end) }) : "");
    const seconds = times ? times.end - now : 0;
    const isOver = kind === "on" && seconds <= 0;
    if (kind === "on" && card.querySelector(".behind")) write(".behind", behindText(rehearsal, now));
    write("[data-left]", kind === "on" ? (isOver ? overText(-seconds) : leftText(seconds)) : "");
    card.classList.toggle("is-last-minute", kind === "on" && !isOver && seconds <= MINUTE);
    card.classList.toggle("is-over-time", isOver);
  },
};
views.add("stand", standView);

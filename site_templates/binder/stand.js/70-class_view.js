// ---- The class screen itself --------------------------------------------------------------------

const CLASS = "#class";

const classView = {
  drawn: "",

  // The concert that is drawn in place of a rehearsal, if one is.
  get concert() {
    const found = insteadNow();
    return found && found.concert;
  },

  keyOf(rehearsal) {
    const { concert } = this, now = moment();
    if (concert) return `concert ${concert.at} ${concert.bands.flatMap((band) => hoursAhead(band, now)).length}`;
    const track = warmUps.of(rehearsal);
    if (track && track.begun) return "warm-up";
    return `${shown.on} ${isBeforeMusic(rehearsal)} ${isInSections(rehearsal, now)}`;
  },

  partsOf(rehearsal, track) {
    const { concert } = this, now = moment();
    if (concert) return drawClassConcert(concert, now);
    if (track && track.begun) return [drawClassWarmUp(track)];
    const day = isInSections(rehearsal, now) ? drawClassRooms(rehearsal) : drawClassOrder(rehearsal);
    return [drawClassNow(rehearsal, track), day, drawClassWords(rehearsal)];
  },

  draw(place, rehearsal) {
    // The address remembers it: when the page is loaded again no private note comes on the projector.
    if (window.location.hash !== CLASS) window.history.replaceState(null, "", CLASS);
    wayBack.keep();
    classWindows.tell();
    const track = warmUps.of(rehearsal);
    this.drawn = this.keyOf(rehearsal);
    warmUps.row = null;
    place.replaceChildren(drawWallClock(), ...this.partsOf(rehearsal, track).filter(Boolean));
    place.classList.toggle("is-warm-up", this.drawn === "warm-up");
    place.classList.toggle("is-playing", Boolean(track) && sound.isOn(track)); // it has a button to pause
    writeWarmUp();
    this.write(rehearsal, moment(), place); // which needs its room before the rest is fitted
    fillPlaces(place);
    this.takeFocus(place);
  },

  leave() {
    wayBack.give();
    classWindows.forget();
    window.history.replaceState(null, "", window.location.href.split("#", 1)[0]);
  },

  // From the switch to the one button that matters, so that the space bar plays.
  takeFocus(place) {
    const play = place.querySelector("[data-key='warm-up play']"), { activeElement } = document;
    if (play && play.matches(".primary") && activeElement.matches("body, [data-view=class], #main")) play.focus({ preventScroll: true });
  },

  tick(place, rehearsal, now) {
    classWindows.tell();
    if (this.drawn !== this.keyOf(rehearsal)) redraw(); else this.write(rehearsal, now, place);
  },

  write(rehearsal, now, place) {
    const { concert } = this;
    writeWallClock(place, concert || rehearsal, now);
    const label = place.querySelector(".class-label"), minutes = place.querySelector(".class-minutes");
    if (!label) return;
    if (concert) {
      const text = concertLabel(concert, stepsAhead(concert, now)[0], now);
      if (label.textContent !== text) label.textContent = text;
      return;
    }
    const { on } = shown;
    const times = shown.course[on];
    const seconds = times ? times.end - now : 0;
    const labels = on < 0 ? untilText(rehearsal, now) : times ? gettext("Now") : gettext("This rehearsal is over");
    const left = times ? (seconds > 0 ? gettext("%(time)s left", { time: leftText(seconds) }) : gettext("Time is up")) : "";
    if (label.textContent !== labels) label.textContent = labels;
    if (minutes.textContent !== left) minutes.textContent = left;
  },
};

// One key each: the space bar plays and pauses, arrows lead to the next step and back.
document.addEventListener("keydown", (event) => {
  if (views.now !== "class" || !shown.rehearsal || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target.matches("input, select, textarea")) return;
  const track = warmUps.of(shown.rehearsal);
  if (!track || classView.concert) return;
  const isButton = event.target.matches("button, summary");
  if (event.key === " " && !isButton && (track.begun || (isBeforeMusic(shown.rehearsal) && !track.over))) playWarmUp(shown.rehearsal, track);
  else if (!track.begun || !track.key(event.key)) return;
  event.preventDefault();
});

// ---- The class screen: a warm-up that plays by itself while the director takes the roll ---------

const warmUps = {
  tracks: new Map(),
  bySection: false, // else in concert pitch
  row: null, // the places of the beats

  // What a warm-up tells while it plays.
  bar: {
    show: () => { if (views.now === "class") redraw(); },
    say: (text) => say(text),
    beats: (of) => { if (warmUps.row) warmUps.row.lay(of); },
    beat: (due) => { if (warmUps.row && sound.track.run) warmUps.row.show(due, sound.track.run.score); },
    time: () => writeWarmUp(),
    stop: () => sound.stop(),
  },

  of(rehearsal) {
    const key = rehearsal.warmUp;
    if (!key || !sound.able) return null;
    const name = `${key} ${rehearsal.at}`;
    if (!this.tracks.has(name)) {
      const { steps } = data.warmUps[key];
      const recordings = new Map(steps.flatMap(({ sound: named }, place) => (named ? [[place, new Audio(data.sounds[named.name])]] : [])));
      this.tracks.set(name, new window.handbookWarmUp.WarmUp(data.warmUps[key], this.bar, [], recordings));
    }
    return this.tracks.get(name);
  },
};

// The signs that drawings point at stand in the page once.
if (data.sprite) document.body.append(htmlElement("div", "", data.sprite));

function drawWarmUpTools(track) {
  const on = sound.isOn(track);
  const play = button("warm-up play", "class-button primary", on ? gettext("Pause") : gettext("Go on"), () => sound.toggle(track));
  const back = button("warm-up back", "class-button", pgettext("a step of the warm-up", "Back"), () => track.back());
  const skip = button("warm-up skip", "class-button", pgettext("a step of the warm-up", "Skip"), () => track.skip());
  const made = element("div", "class-tools", play, back, skip);
  if (track.steps.some(({ sections }) => sections.length)) {
    const way = button("warm-up notation", "class-button", warmUps.bySection ? gettext("Concert pitch") : gettext("By section"), () => {
      warmUps.bySection = !warmUps.bySection;
      redraw();
    });
    made.append(way);
  }
  made.append(button("warm-up leave", "class-button", gettext("End the warm-up"), () => {
    sound.stop();
    track.reset();
    redraw();
  }));
  return made;
}

function drawNotation({ concert, sections }) {
  if (warmUps.bySection && sections.length) {
    return element("div", "class-sections", ...sections.map(([who, html]) => (
      element("figure", "class-figure", htmlElement("div", "", html), element("figcaption", "", who)))));
  }
  return concert ? htmlElement("div", "class-figures", concert) : "";
}

function drawClassWarmUp(track) {
  const { step, steps, place } = track;
  const next = steps[place + 1];
  const row = element("div", "class-beats");
  row.setAttribute("aria-hidden", "true");
  const made = element("section", `class-warm-up${step.concert ? "" : " is-words"}`,
    element("p", "class-where", element("b", "", track.title), " ", gettext("%(place)s of %(count)s", { place: place + 1, count: steps.length })),
    element("h2", "class-name", step.title),
    htmlElement("div", "class-words", step.words),
    drawNotation(step),
    row,
    element("div", "class-foot",
      element("p", "class-phase"),
      element("p", "class-time", element("span", "class-step-left"), element("span", "class-left")),
      element("p", "class-next", next ? gettext("Next: %(what)s", { what: next.title }) : gettext("Then the rehearsal begins."))),
    drawWarmUpTools(track));
  warmUps.row = new window.handbookClick.BeatRow(row);
  warmUps.row.lay(track.beatsShown);
  return made;
}

const PHASES = { "count-in": () => gettext("Count-in"), plays: () => gettext("Play"), rests: () => gettext("Rest") };

// Only what changes while a step goes on.
function writeWarmUp() {
  const place = views.placeOf("class");
  const { track } = sound;
  const write = (selector, text) => { const one = place.querySelector(selector); if (one && one.textContent !== text) one.textContent = text; };
  const shownTrack = warmUps.of(shown.rehearsal);
  if (!shownTrack || !place.querySelector(".class-warm-up")) return;
  write(".class-phase", sound.isOn(shownTrack) ? PHASES[shownTrack.phase]() : gettext("Paused"));
  write(".class-step-left", window.handbookWarmUp.minutesOf(shownTrack.stepLeft));
  write(".class-left", gettext("%(time)s left in all", { time: shownTrack.clock }));
}

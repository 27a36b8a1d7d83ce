// ---- The class screen: a warm-up that plays by itself while the director takes the roll ---------

// Where a warm-up is, so that a tablet that slept and loads the page again has it, paused. A while
// later, or when class is over, it is no longer what anyone waits for.
const leftOff = {
  WHILE: 20 * MINUTE,
  name: ({ at, warmUp }) => `handbook-warm-up ${data.cycle} ${at} ${warmUp}`,
  read(rehearsal) {
    try {
      const [at, when] = JSON.parse(localStorage.getItem(this.name(rehearsal))) || [];
      const now = moment();
      return when <= now && now < Math.min(when + this.WHILE, endOf(rehearsal)) ? at : 0;
    } catch { return 0; /* nothing is kept here, or something else */ }
  },
  write(rehearsal, at) {
    try {
      if (at) localStorage.setItem(this.name(rehearsal), JSON.stringify([at, moment()]));
      else localStorage.removeItem(this.name(rehearsal));
    } catch { /* until the page is closed */ }
  },
};

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
    time: () => {
      warmUps.keep();
      writeWarmUp();
    },
    stop: () => {
      sound.stop();
      warmUps.keep();
    },
  },

  of(rehearsal) {
    const key = rehearsal.warmUp;
    if (!key || !sound.able) return null;
    const name = `${key} ${rehearsal.at}`;
    if (!this.tracks.has(name)) {
      const { steps } = data.warmUps[key];
      const recordings = new Map(steps.flatMap(({ sound: named }, place) => (named ? [[place, new Audio(data.sounds[named.name])]] : [])));
      const track = new window.handbookWarmUp.WarmUp(data.warmUps[key], this.bar, [], recordings);
      const at = leftOff.read(rehearsal);
      if (at > 0 && at < track.data.seconds) track.leftAt(at);
      this.tracks.set(name, track);
    }
    return this.tracks.get(name);
  },

  keep() {
    const track = this.of(shown.rehearsal);
    if (track) leftOff.write(shown.rehearsal, track.at);
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
    warmUps.keep();
    redraw();
  }));
  return made;
}

function drawNotation({ concert, sections }) {
  if (warmUps.bySection && sections.length) {
    return element("div", "class-sections", ...sections.map(([who, html, extent]) => (
      element("figure", "class-figure", htmlElement("div", "", html), element("figcaption", "", who, extent && element("span", "class-extent", extent))))));
  }
  return concert ? htmlElement("div", "class-figures", concert) : "";
}

function drawClassWarmUp(track) {
  const { step, steps, place } = track;
  const next = steps[place + 1];
  const row = element("div", "class-beats");
  row.setAttribute("aria-hidden", "true");
  const made = element("section", `class-warm-up${step.concert ? "" : " is-words"}`,
    element("p", "class-where",
      element("b", "", track.title), " ", gettext("%(place)s of %(count)s", { place: place + 1, count: steps.length }),
      element("span", "class-next", next ? gettext("Next: %(what)s", { what: next.title }) : gettext("Then the rehearsal begins."))),
    element("div", "class-head", element("h2", "class-name", step.title), element("p", "class-step-left")),
    htmlElement("div", "class-words", step.words),
    drawNotation(step),
    row,
    element("div", "class-foot", element("p", "class-phase"), drawWarmUpTools(track), element("p", "class-left")));
  // A drawing begins where its words do.
  for (const drawing of all("svg", made)) drawing.setAttribute("preserveAspectRatio", "xMinYMid meet");
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

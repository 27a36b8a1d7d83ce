"use strict";
// The stand view of a cycle. All facts are those of the plan, which stands in the page as data
// (handbook/binder/stand_data.py); reckoned here are only the time that is left, and how it is
// shared when a rehearsal runs late. The words and the clock of the site's pages come before.

const data = JSON.parse(document.getElementById("stand-data").textContent);

// What stands once in the data is put to each block that it is about: its title, what is below
// it, its tempo, and each of its `passages` as [place, sign, number, beat].
function whole(block) {
  const { kind, exercise, passages } = block;
  if (exercise !== undefined) {
    const { title, detail, tempo } = data.exercises[exercise];
    return { ...block, title, detail, tempo };
  }
  if (!passages) return { ...data.kinds[kind], ...block };
  const played = passages.map(([place, number]) => {
    const { goal: [sign, , beat] } = data.passages[place];
    return [place, sign, number, beat];
  });
  if (block.title) return { ...block, passages: played };
  const { piece, name, where } = data.passages[passages[0][0]];
  return { ...block, how: "passage", title: piece, detail: besides(name, where), passages: played };
}

for (const rehearsal of data.rehearsals) {
  rehearsal.blocks = rehearsal.blocks.map(whole);
  if (rehearsal.habit !== undefined) rehearsal.habit = data.habits[rehearsal.habit];
}
const MINUTE = 60; // seconds
const HOURS_OF_HALF = 12, MINUTES_OF_HOUR = 60;

const all = (selector, within = document) => (within ? [...within.querySelectorAll(selector)] : []);
const moment = () => Date.now() / 1000 + schoolBell.by; // seconds since 1970, by the school's bell
const bandOf = (rehearsal) => data.bands[rehearsal.band];
const endOf = (rehearsal) => rehearsal.at + rehearsal.minutes * MINUTE;

// Minutes in short, `4 min`.
const minutesText = (minutes) => handbookWords.formats.minutes.replace("%s", minutes);

// Whole minutes between two moments as the clock shows them, so that they fit the times beside them.
function minutesBetween({ at }, start, end) {
  const shownAt = (seconds) => Math.floor((seconds - at) / MINUTE + 1e-6);
  return Math.max(0, shownAt(end) - shownAt(start));
}

// What the clock of the school shows at a moment near a rehearsal, `10:05 am`, as on every page.
function clockAt(rehearsal, seconds) {
  const { halves, twoDigits, noon } = handbookWords.formats;
  const minutes = rehearsal.clock + Math.floor((seconds - rehearsal.at) / MINUTE + 1e-6);
  const hour = Math.floor(minutes / MINUTES_OF_HOUR) % 24, minute = String(minutes % MINUTES_OF_HOUR).padStart(2, "0");
  if (noon && hour === HOURS_OF_HALF && minute === "00") return noon;
  if (!halves) return `${twoDigits ? String(hour).padStart(2, "0") : hour}:${minute}`;
  return `${hour % HOURS_OF_HALF || HOURS_OF_HALF}:${minute} ${halves[hour < HOURS_OF_HALF ? 0 : 1]}`;
}

// An element that holds words of the content as HTML, which was made for it.
function htmlElement(tag, className, html) {
  const made = element(tag, className);
  made.innerHTML = html;
  return made;
}

function button(key, className, content, act) {
  const made = element("button", className, content);
  made.type = "button";
  made.dataset.key = key;
  made.addEventListener("click", act);
  return made;
}

// How a tempo is read: `quarter note = 96`, or what is said of one that is free.
const spokenOf = ([, number, beat]) => (beat ? `${beat} = ${number}` : number);

// The sign and the number of a tempo, and how it is read.
function markOf(tempo) {
  const [sign, number, beat] = tempo;
  if (!beat) return element("span", "mark", element("b", "", number));
  const shown = element("span", "", element("span", "note", sign), " = ", element("b", "", number));
  shown.setAttribute("aria-hidden", "true");
  shown.translate = false;
  return element("span", "mark", shown, element("span", "vh", spokenOf(tempo)));
}

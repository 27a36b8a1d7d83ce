// ---- The class screen: the day, as the whole class may read it from the back row ----------------

const LONG_ORDER = 8; // lines

// The block that is on with its minutes left, or what the class waits for.
function drawClassNow(rehearsal, track) {
  const { on } = shown;
  const { blocks } = rehearsal;
  const made = element("section", "class-now");
  made.setAttribute("aria-label", gettext("Now"));
  if (on < 0) {
    made.append(element("p", "class-label"), element("h2", "class-name", bandOf(rehearsal).name));
  } else if (on >= blocks.length) {
    made.append(element("p", "class-label"), element("h2", "class-name", gettext("Thank you. See you next time.")));
  } else {
    const block = blocks[on];
    const [mark] = (block.passages || []).length === 1 ? [block.passages[0].slice(1)] : [block.tempo];
    made.append(
      element("p", "class-label"),
      element("h2", "class-name", titleOf(block)),
      element("p", "class-under", element("span", "", underTitle(block) || ""), mark ? markOf(mark) : ""));
  }
  made.append(element("p", "class-minutes"));
  if (track && isBeforeMusic(rehearsal)) {
    made.append(button("warm-up play", "class-button primary class-start", gettext("Play the warm-up"), () => sound.start(track)));
  }
  return made;
}

// Until the warm-up's own block is over, it waits with one large button.
function isBeforeMusic({ blocks }) {
  const at = blocks.findIndex(({ kind }) => kind === "warm_up");
  return shown.on <= at;
}

// What is on and what comes, down to the end. Below a name stands what it is of, if there is
// room, and wherever two in a row have one name.
function drawClassOrder(rehearsal) {
  const ahead = rehearsal.blocks.map((_, place) => place).filter((place) => place >= shown.on && !shown.course[place].dropped);
  if (!ahead.length) return "";
  const isShort = ahead.length < LONG_ORDER;
  const isAlike = (place) => ahead.some((other) => other !== place && titleOf(rehearsal.blocks[other]) === titleOf(rehearsal.blocks[place]));
  const line = (clock, ...what) => element("li", "", element("span", "class-clock", clock), element("span", "class-line", ...what));
  const list = element("ol", `class-order${isShort ? " is-short" : ""}`, ...ahead.map((place) => {
    const block = rehearsal.blocks[place];
    const detail = isShort || isAlike(place) ? underTitle(block) : "";
    const item = line(clockAt(rehearsal, shown.course[place].start), titleOf(block), " ", detail && element("span", "class-detail", detail));
    if (place === shown.on) {
      item.className = "is-now";
      item.setAttribute("aria-current", "step");
    }
    return item;
  }));
  const end = line(clockAt(rehearsal, endOf(rehearsal)), gettext("The end"));
  end.className = "class-end";
  list.append(end);
  list.style.setProperty("--lines", list.children.length);
  return element("section", "class-day", element("h2", "", gettext("Order of the day")), list);
}

function drawClassWords(rehearsal) {
  const { thanks = {}, notices = [], habit } = rehearsal;
  const made = [];
  if (thanks.sentence) made.push(element("section", "", element("h2", "", gettext("Thanks")), htmlElement("p", "", thanks.sentence)));
  else if (thanks.whom) made.push(element("section", "", element("h2", "", gettext("Thanks")), element("p", "", thanks.whom)));
  if (habit) made.push(element("section", "", element("h2", "", gettext("Habit of the day")), element("p", "", htmlElement("b", "", habit[0])), htmlElement("p", "", habit[1])));
  if (notices.length) made.push(element("section", "", element("h2", "", gettext("Notices")), element("ul", "", ...notices.map((html) => htmlElement("li", "", html)))));
  const words = element("div", "class-said", ...made);
  const letters = made.reduce((sum, { textContent }) => sum + textContent.length, 0);
  words.classList.toggle("is-short", letters < 180);
  words.classList.toggle("is-long", letters > 420);
  return words;
}

// ---- The menu: of the cycles, what leads into the one that is on ---------------------

// All that are on, or else the next one, or else the last one; cycles stand in order.
function cyclesOf(cycles, now) {
  const on = cycles.filter(({ first, last }) => first <= now && now <= last);
  if (on.length) return on;
  const next = cycles.find(({ first }) => first > now);
  return next ? [next] : cycles.slice(-1);
}

function menuEntry(masthead, title, path, state) {
  const item = document.createElement("li");
  const link = document.createElement("a");
  link.href = masthead.dataset.root + path;
  link.dataset.path = path;
  link.textContent = title;
  if (state) {
    const when = document.createElement("span");
    when.className = "small";
    when.textContent = ` ${state}`;
    link.append(when);
  }
  item.append(link);
  return item;
}

// Of the entries that lead to this page, or to one that it is below, the longest way is its own.
function markOwn(links, here) {
  const [own] = links
    .filter(({ dataset: { path } }) => path === here || (path.split("/").length > 2 && here.startsWith(path)))
    .sort((one, other) => other.dataset.path.length - one.dataset.path.length);
  if (own) own.setAttribute("aria-current", own.dataset.path === here ? "page" : "true");
}

// The entry of a cycle stands for readers without scripts: all that is in the cycle takes its
// place if it is shown.
function cycleEntry(entry) {
  const masthead = document.querySelector(".masthead");
  const now = today();
  const shown = cyclesOf(JSON.parse(masthead.dataset.cycles), now);
  const cycle = shown.find(({ id }) => id === entry.dataset.cycle);
  entry.hidden = true;
  if (!cycle || "isMade" in entry.dataset) return;
  const several = shown.flatMap((one) => one.concerts).length > 1;
  const from = cycle.first > now && gettext("from %(day)s", { day: writtenDay(cycle.first, "monthDay") });
  const state = from || (cycle.last < now ? pgettext("cycle", "over") : "");
  const items = [
    menuEntry(masthead, cycle.name, `${cycle.id}/`, state),
    ...cycle.ensembles.map(([name, path]) => menuEntry(masthead, name, path)),
    ...cycle.concerts.flatMap(([name, path, crew]) => [
      menuEntry(masthead, several ? name : gettext("Concert"), path),
      menuEntry(masthead, several ? gettext("Crew, %(concert)s", { concert: name }) : gettext("Crew"), crew),
    ]),
  ];
  markOwn(items.map((item) => item.firstChild), masthead.dataset.here);
  entry.dataset.isMade = "";
  entry.after(...items);
}


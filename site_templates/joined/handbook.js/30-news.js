// Of the events on the first page only the next few are shown, of one band if it is chosen.
function nextEvents(now, id) {
  for (const fold of all("[data-next]")) {
    const events = all(".event", fold);
    const next = events
      .filter((event) => event.dataset.day >= now && (!id || event.dataset.who.split(" ").includes(id)))
      .slice(0, Number(fold.dataset.next));
    for (const event of events) event.hidden = !next.includes(event);
    fold.hidden = !next.length;
    fold.open = true;
  }
}

// What changed: a note at the top of a page is gone after two weeks, a line once it is over.
function foldOldNews(now) {
  for (const note of all("[data-news]")) {
    const lines = all("[data-until]", note);
    for (const line of lines) line.hidden = line.dataset.until < now;
    const over = lines.length === all(".news-line", note).length && lines.every((line) => line.hidden);
    note.hidden = note.dataset.until < now || over;
  }
}

// What changed since this reader last looked; only the number of the publication is kept.
function sinceLastLook(now, id) {
  const block = document.querySelector("[data-since]");
  if (!block) return;
  const name = `seen-${new URL(siteTop, location.href).pathname}`;
  const seen = Number(kept.get(name));
  if (!seen) kept.set(name, block.dataset.since);
  const fold = block.querySelector("details");
  if (!fold) return;
  const number = Math.max(seen, Number(block.dataset.oldest));
  const isNew = ({ first, last, until, who }) => seen && Number(first) <= number && number <= Number(last)
    && !(until < now) && (!id || !who || who.split(" ").includes(id));
  const lines = all("li", fold);
  const shown = lines.filter((line) => isNew(line.dataset)).slice(0, 6);
  for (const line of lines) line.hidden = !shown.includes(line);
  fold.hidden = !shown.length;
  fold.open = true;
  fold.querySelector("[data-since-name]").textContent = gettext("New since you last looked");
  const button = fold.querySelector("[data-got-it]");
  button.hidden = false;
  button.onclick = () => {
    kept.set(name, block.dataset.since);
    fold.hidden = true;
    document.getElementById("main").focus();
  };
}

// On the page of changes the band that was chosen before is chosen again.
function keepFilter() {
  const radios = all("[data-filter-kept] input");
  const before = kept.get("ensemble");
  for (const radio of radios) {
    if (radio.value === before) radio.checked = true;
    radio.addEventListener("change", () => kept.set("ensemble", radio.value));
  }
}


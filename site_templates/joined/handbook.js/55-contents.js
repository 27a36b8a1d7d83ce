// ---- What is on the page ------------------------------------------------------------
// The line names the section that the reader is in, and opens the list of all. A section
// that is not shown, such as another band's, is not offered. Without scripts it is a fold.

function contents(bar) {
  const summary = bar.querySelector("summary");
  const label = bar.querySelector("[data-contents-now]");
  const links = all("a", bar);
  // What stands in a fold that is closed counts as being where the fold is.
  const place = (link) => {
    const target = document.getElementById(decodeURIComponent(link.hash.slice(1)));
    const folds = [];
    for (let fold = target && target.closest("details:not([open])"); fold; fold = fold.parentElement.closest("details:not([open])")) folds.push(fold);
    const shown = folds.pop() || target;
    return shown && shown.getClientRects().length ? shown.getBoundingClientRect().top : null;
  };
  let marked = null;
  const mark = () => {
    const edge = summary.getBoundingClientRect().bottom + 24;
    const places = links.map((link) => [link, place(link)]);
    for (const [link, top] of places) link.parentElement.hidden = top === null;
    const seen = places.filter(([, top]) => top !== null);
    const atEnd = innerHeight + scrollY >= document.documentElement.scrollHeight - 4 && scrollY > 0;
    const passed = seen.filter(([, top]) => top <= edge);
    const [here] = (atEnd && seen.filter(([, top]) => top < innerHeight).pop()) || passed.pop() || [null];
    if (here === marked) return;
    if (marked) marked.removeAttribute("aria-current");
    if (here) here.setAttribute("aria-current", "true");
    label.replaceChildren(copyOf(here));
    marked = here;
  };
  let waiting = false;
  const soon = () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => { waiting = false; mark(); });
  };
  document.addEventListener("scroll", soon, { passive: true });
  window.addEventListener("resize", soon);
  document.addEventListener("change", soon); // a band was chosen
  document.addEventListener("toggle", soon, true);
  const close = (toLine) => {
    bar.open = false;
    if (toLine) summary.focus();
  };
  // The list lies over the page while it is open, and never stays there.
  bar.addEventListener("click", (event) => { if (event.target.closest("a")) close(false); });
  bar.addEventListener("keydown", (event) => { if (event.key === "Escape" && bar.open) close(true); });
  bar.addEventListener("focusout", (event) => { if (event.relatedTarget && !bar.contains(event.relatedTarget)) close(false); });
  document.addEventListener("click", (event) => { if (bar.open && !bar.contains(event.target)) close(false); });
  mark();
}

for (const bar of all("[data-contents]")) contents(bar);

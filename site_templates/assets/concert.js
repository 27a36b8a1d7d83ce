"use strict";
// On paper nothing can be unfolded.
window.addEventListener("beforeprint", () => {
  for (const fold of document.querySelectorAll("[data-open-on-paper]")) fold.open = true;
});
// Once it is over a concert's page keeps what was played, and the crew's that it is over; how
// the day was planned is asked for, or linked to.
(function () {
  const planned = document.querySelector(".as-planned");
  const showPlan = () => { planned.dataset.show = "before on after"; planned.hidden = false; };
  const asked = () => {
    const target = document.getElementById(location.hash.slice(1));
    if (planned && planned.contains(target)) { showPlan(); target.scrollIntoView(); }
  };
  const button = document.querySelector("[data-as-planned]");
  if (button) button.addEventListener("click", () => { showPlan(); button.hidden = true; });
  window.addEventListener("hashchange", asked);
  asked();
})();
// Concert page: which band is the reader's own, and what is ticked off the list. Both stay
// on this device. Without this script the filter works, and ticks last as long as the page.
(function () {
  const sheet = document.querySelector(".family-sheet");
  if (!sheet) return;
  const read = (key) => { try { return localStorage.getItem(key); } catch { return null; } };
  const write = (key, value) => { try { localStorage.setItem(key, value); } catch { /* not kept, then */ } };

  const radios = [...sheet.querySelectorAll("[data-band]")];
  const before = read("handbook-ensemble");
  // Who belongs to a group of a band sees the band's day, and stays in the group.
  const groups = (radio) => (radio.dataset.groups ? radio.dataset.groups.split(" ") : []);
  for (const radio of radios) {
    if (before && [radio.dataset.band, ...groups(radio)].includes(before)) radio.checked = true;
    radio.addEventListener("change", () => {
      if (!groups(radio).includes(read("handbook-ensemble"))) write("handbook-ensemble", radio.dataset.band);
    });
  }

  // What only some players bring is left out for the others, once a reader's part is known.
  const forSome = [...sheet.querySelectorAll("[data-players]")];
  const own = () => {
    const band = read("handbook-ensemble");
    const part = band && read(`handbook-instrument-${band}`);
    const chosen = radios.find((radio) => radio.checked);
    const mine = part && (!chosen || [chosen.dataset.band, ...groups(chosen)].includes(band));
    for (const item of forSome) item.hidden = Boolean(mine) && !item.dataset.players.split(" ").includes(`${band}/${part}`);
  };
  for (const radio of radios) radio.addEventListener("change", own);
  own();

  // On the day the large time is that of the reader's next step; until the first it is the call.
  const headlines = [...sheet.querySelectorAll("[data-live-next]")];
  const next = () => {
    const chosen = radios.find((radio) => radio.checked);
    const number = chosen && chosen.dataset.filter;
    const [headline] = headlines.filter((one) => !chosen || one.classList.contains(`who-${number}`));
    sheet.dataset.now = headline ? headline.dataset.state || "" : "";
  };
  for (const radio of radios) radio.addEventListener("change", next);
  document.addEventListener("handbook:steps", next);
  next();

  const key = `handbook-ticks-${sheet.dataset.ticks}`;
  const boxes = [...sheet.querySelectorAll("[data-tick]")];
  const note = sheet.querySelector("[data-tick-note]");
  if (note) note.hidden = false;
  const ticked = new Set((read(key) || "").split(" ").filter(Boolean));
  const keep = () => write(key, boxes.filter((box) => box.checked).map((box) => box.dataset.tick).join(" "));
  for (const box of boxes) {
    box.checked = ticked.has(box.dataset.tick);
    box.addEventListener("change", keep);
  }
  const clear = sheet.querySelector("[data-tick-clear]");
  if (clear) clear.addEventListener("click", () => { for (const box of boxes) box.checked = false; keep(); });
})();

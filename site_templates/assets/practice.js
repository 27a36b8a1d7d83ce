"use strict";
// What a player has ticked: kept on this device only, never sent. Without this script the same pages and lists stand there.

(() => {
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const store = {
    get(key) { try { return localStorage.getItem(key); } catch { return null; } },
    set(key, value) { try { localStorage.setItem(key, value); return true; } catch { return false; } },
  };

  // ---- Ticks of the lists -----------------------------------------------------------

  // A row is ticked if it was done within its list's days; ticked now, it is done today.
  function ticks(list) {
    const line = all("[data-week]", list).find((one) => !one.hidden);
    if (!line || !store.set("handbook-can-keep", "yes")) return;
    const part = list.dataset.practice;
    const first = today() < line.dataset.from ? today() : line.dataset.from;
    for (const item of all("[data-tick]", list)) {
      const label = document.createElement("label");
      label.className = "tick";
      const box = document.createElement("input");
      box.type = "checkbox";
      const name = document.createElement("span");
      name.className = "vh";
      name.textContent = `${list.dataset.tickWord} ${item.dataset.tickName}`;
      label.append(box, name);
      item.prepend(label);
      const look = () => { box.checked = practiced.within(part, item.dataset.tick, first, line.dataset.to); };
      box.addEventListener("change", () => {
        practiced.tick(part, item.dataset.tick, box.checked, today(), first);
        document.dispatchEvent(new Event("practiced"));
      });
      document.addEventListener("practiced", look);
      look();
    }
    list.classList.add("has-ticks");
    for (const note of all("[data-practice-kept]", list)) note.hidden = false;
  }

  // ---- Rows and folds ---------------------------------------------------------------

  // Of the cycle's exercises those of the week that shows; a button brings the others.
  function exercisesOfTheWeek(list) {
    const line = all("[data-week]").find((one) => !one.hidden);
    const others = all("[data-weeks]", list).filter((row) => !line || !row.dataset.weeks.split(" ").includes(line.dataset.week));
    const button = document.querySelector("[data-all-exercises]");
    if (!others.length || !button) return;
    const show = (shown) => { for (const row of others) row.hidden = !shown; button.hidden = shown; };
    show(false);
    button.addEventListener("click", () => { show(true); others[0].querySelector("summary").focus(); });
  }

  // Whatever an address names is opened with all that it lies in.
  function openNamed() {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!target || !target.closest("main")) return;
    for (let item = target; item.tagName !== "MAIN"; item = item.parentElement) {
      item.hidden = false;
      if (item.tagName === "DETAILS") item.open = true;
    }
    target.scrollIntoView();
  }

  for (const list of all("[data-practice]")) ticks(list);
  for (const list of all("[data-exercises]")) exercisesOfTheWeek(list);
  openNamed();
  window.addEventListener("hashchange", openNamed);
})();

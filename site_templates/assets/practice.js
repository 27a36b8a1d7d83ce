"use strict";
// Which instrument is the reader's, and what they have ticked this week: kept on this
// device only, never sent. Without this script the same pages and lists stand there.

(() => {
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const store = {
    get(key) { try { return localStorage.getItem(key); } catch { return null; } },
    set(key, value) { try { localStorage.setItem(key, value); return true; } catch { return false; } },
  };
  const instrumentKey = (ensemble) => `handbook-instrument-${ensemble}`;

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

  // ---- The reader's own part --------------------------------------------------------

  function keepPart(button) {
    const key = instrumentKey(button.dataset.ensemble);
    const own = button.dataset.instrument;
    button.hidden = store.get(key) === own;
    button.addEventListener("click", () => {
      if (!store.set(key, own)) return;
      store.set("handbook-ensemble", button.dataset.ensemble);
      button.hidden = true;
    });
  }

  // On the first page and an ensemble's: the remembered part alone, or all to choose from.
  function choosePart(group) {
    const key = instrumentKey(group.dataset.ensembleParts);
    const links = all("[data-instrument]", group);
    const choice = group.querySelector("details");
    const own = group.querySelector("[data-own-part]");
    const show = () => {
      const chosen = links.find((link) => link.dataset.instrument === store.get(key));
      own.hidden = !chosen;
      if (chosen) {
        const link = own.querySelector("a");
        link.href = chosen.getAttribute("href");
        link.querySelector("b").textContent = chosen.textContent;
      }
      choice.open = false;
      choice.querySelector("[data-choose-word]").hidden = Boolean(chosen);
      choice.querySelector("[data-change-word]").hidden = !chosen;
    };
    for (const link of links) link.addEventListener("click", () => store.set(key, link.dataset.instrument));
    show();
    window.addEventListener("pageshow", show);
  }

  for (const list of all("[data-practice]")) ticks(list);
  for (const button of all("[data-keep-part]")) keepPart(button);
  for (const group of all("[data-ensemble-parts]")) choosePart(group);
})();

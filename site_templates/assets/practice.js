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

  // ---- Ticks of this week's list ----------------------------------------------------

  function readTicks(key, week) {
    try {
      const kept = JSON.parse(store.get(key) || "{}");
      return new Set(kept.week === week && Array.isArray(kept.done) ? kept.done : []);
    } catch { return new Set(); }
  }

  function ticks(list) {
    const line = all("[data-week]", list).find((one) => !one.hidden);
    const key = `handbook-ticks-${list.dataset.practice}`;
    if (!line || !store.set("handbook-can-keep", "yes")) return;
    const week = line.dataset.week;
    const done = readTicks(key, week);
    for (const item of all("[data-tick]", list)) {
      const label = document.createElement("label");
      label.className = "tick";
      const box = document.createElement("input");
      box.type = "checkbox";
      box.checked = done.has(item.dataset.tick);
      const name = document.createElement("span");
      name.className = "vh";
      name.textContent = `${list.dataset.tickWord} ${item.dataset.tickName}`;
      label.append(box, name);
      item.prepend(label);
      box.addEventListener("change", () => {
        done[box.checked ? "add" : "delete"](item.dataset.tick);
        store.set(key, JSON.stringify({ week, done: [...done] }));
      });
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

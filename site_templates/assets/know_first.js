"use strict";
// What to know first: what is known is ticked, on this device only; cards ask one thing at a
// time; the list of pencil marks prints by itself. Without this script each card is a fold.

(() => {
  const list = document.querySelector("[data-know-first]");
  if (!list) return;
  const key = `know-${list.dataset.knowFirst}`;
  const cards = all("[data-know]", list);
  const groups = all("[data-know-group]", list);

  // ---- What is known ----------------------------------------------------------------

  const known = (() => {
    try {
      const found = JSON.parse(kept.get(key) || "[]");
      return new Set(Array.isArray(found) ? found : []);
    } catch { return new Set(); }
  })();

  const boxes = new Map();

  function know(id, is) {
    known[is ? "add" : "delete"](id);
    kept.set(key, JSON.stringify([...known]));
    boxes.get(id).checked = is;
    if (!round.open) tell();
  }

  const left = (within) => all("[data-know]", within).filter((card) => !known.has(card.dataset.know)).length;
  const inWords = (rest, num = rest) => (rest ? ngettext("%(num)s left", "%(num)s left", rest, { num }) : gettext("all known"));
  const offered = () => (list.dataset.stage === "last" && list.querySelector("[data-know-group=tempos]")) || list;

  // After the first stage only what is not known yet is listed, until all is asked for.
  function tell() {
    for (const group of groups) {
      const rest = left(group);
      const count = group.querySelector("[data-know-count]");
      const number = document.createElement("span");
      number.textContent = rest;
      const words = document.createDocumentFragment();
      words.append(inWords(rest, number));
      count.replaceChildren(dressWords(words, "vh")); // the number is seen, the words are heard
      group.classList.toggle("is-known", !rest);
    }
    for (const card of cards) card.classList.toggle("is-known", known.has(card.dataset.know));
    list.querySelector("[data-know-left]").textContent = inWords(left(offered()));
    const everything = list.querySelector("[data-know-all]");
    everything.hidden = list.dataset.stage !== "later" || list.classList.contains("shows-all") || left(list) === cards.length;
  }

  function showAll(button) {
    button.addEventListener("click", () => {
      list.classList.add("shows-all");
      tell();
      list.querySelector(".know-group > summary").focus();
    });
  }

  function ticks() {
    for (const card of cards) {
      const label = document.createElement("label");
      label.className = "tick";
      const box = document.createElement("input");
      box.type = "checkbox";
      box.checked = known.has(card.dataset.know);
      const name = document.createElement("span");
      name.className = "vh";
      name.textContent = gettext("I know: %(what)s", { what: askedIn(card) });
      label.append(box, name);
      card.prepend(label);
      boxes.set(card.dataset.know, box);
      box.addEventListener("change", () => know(card.dataset.know, box.checked));
    }
  }

  function askedIn(card) {
    const copy = card.querySelector("summary").cloneNode(true);
    for (const seen of all("[aria-hidden], svg", copy)) seen.remove();
    return copy.textContent.trim().replace(/\s+/g, " ");
  }

  // ---- Cards: one at a time, the answer when it is asked for ------------------------

  const round = document.querySelector("[data-know-round]").content.firstElementChild.cloneNode(true);
  const part = (name) => round.querySelector(`[data-round-${name}]`);
  let waiting = [];

  function shuffled(items) {
    const mixed = [...items];
    for (let last = mixed.length - 1; last > 0; last -= 1) {
      const other = Math.floor(Math.random() * (last + 1));
      [mixed[last], mixed[other]] = [mixed[other], mixed[last]];
    }
    return mixed;
  }

  // What is not known yet, or all of it again if all is known.
  function begin(within) {
    const asked = all("[data-know]", within);
    const unknown = asked.filter((card) => !known.has(card.dataset.know));
    waiting = shuffled(unknown.length ? unknown : asked);
    round.showModal();
    ask();
  }

  function ask() {
    const card = waiting[0];
    const over = !card;
    part("done").hidden = !over;
    for (const name of ["ask", "question", "show"]) part(name).hidden = over;
    for (const name of ["answer", "judge"]) part(name).hidden = true;
    part("left").textContent = over ? "" : ngettext("%(num)s to go", "%(num)s to go", waiting.length);
    if (over) { part("stop").focus(); return; }
    part("ask").textContent = card.closest("[data-know-group]").dataset.asks;
    const [question, ...answer] = card.querySelector("details").cloneNode(true).children;
    part("question").replaceChildren(...question.childNodes);
    part("answer").replaceChildren(...answer);
    part("show").focus();
  }

  function show() {
    part("show").hidden = true;
    for (const name of ["answer", "judge"]) part(name).hidden = false;
    part("answer").focus();
  }

  // One that was missed comes again after the others of this round.
  function judge(knew) {
    const card = waiting.shift();
    if (knew) know(card.dataset.know, true); else waiting.push(card);
    ask();
  }

  function asking() {
    if (!round.showModal) return;
    list.after(round);
    part("show").addEventListener("click", show);
    part("knew").addEventListener("click", () => judge(true));
    part("again").addEventListener("click", () => judge(false));
    part("stop").addEventListener("click", () => round.close());
    round.addEventListener("close", tell);
    for (const button of all("[data-know-ask]", list)) {
      button.hidden = false;
      button.addEventListener("click", () => begin(button.closest("[data-know-group]") || offered()));
    }
  }

  // ---- The list of pencil marks on a sheet of its own -------------------------------

  function printPencil() {
    const sheet = list.querySelector("[data-pencil]");
    const page = document.createElement("div");
    page.className = "pencil-print";
    const title = document.createElement("h2");
    title.textContent = sheet.dataset.title;
    const whose = document.createElement("p");
    whose.textContent = sheet.dataset.pencil;
    page.append(title, whose, sheet.cloneNode(true));
    document.body.append(page);
    document.documentElement.classList.add("prints-pencil");
    window.addEventListener("afterprint", () => {
      page.remove();
      document.documentElement.classList.remove("prints-pencil");
    }, { once: true });
    window.print();
  }

  ticks();
  tell();
  asking();
  showAll(list.querySelector("[data-know-all]"));
  for (const button of all("[data-print-pencil]", list)) {
    button.hidden = false;
    button.addEventListener("click", printPencil);
  }
  list.classList.add("has-ticks");
})();

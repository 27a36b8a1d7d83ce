function chooser() {
  const group = document.querySelector("[data-chooser]");
  if (!group) return;
  const buttons = all("[data-choose]", group);
  if (buttons.length < 3) return;
  const choose = (id) => {
    for (const button of buttons) button.setAttribute("aria-pressed", String(button.dataset.choose === id));
    for (const card of all("[data-ensemble]")) {
      card.hidden = Boolean(id) && card.dataset.ensemble !== id;
      // All bands on a phone: a line each, so that one screen shows them.
      for (const week of all(".week:not([hidden])", card)) week.open = Boolean(id) || wide.matches;
    }
    nextEvents(now, id);
    sinceLastLook(now, id);
    kept.set("ensemble", id);
  };
  group.hidden = false;
  for (const button of buttons) button.addEventListener("click", () => choose(button.dataset.choose));
  const before = kept.get("ensemble");
  choose(buttons.some((button) => button.dataset.choose === before) ? before : "");
}


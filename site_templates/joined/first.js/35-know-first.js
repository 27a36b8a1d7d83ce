// ---- What to know first: all of it in the first stage, goal tempos alone in the last ----

// In the first stage it leads its page; later it stands behind tonight's list.

DAY_RULES.push(["[data-know-first]", (item, now) => {
  const { firstUntil, lastFrom } = item.dataset;
  item.dataset.stage = now <= firstUntil ? "first" : lastFrom && now >= lastFrom ? "last" : "later";
  item.open = item.dataset.stage === "first";
}], ["[data-know-place]", (item) => {
  const list = document.querySelector("[data-know-first]");
  if (list && list.dataset.stage !== "first") item.append(list);
}], [":is(.know-all, .know-last)", (item) => {
  const isLast = item.closest("[data-know-first]").dataset.stage === "last";
  item.hidden = isLast === item.classList.contains("know-all");
}], ["[data-know-group]", (item) => {
  if (item.closest("[data-know-first]").dataset.stage !== "first") item.open = true;
}], ["[data-know-group=tempos] .know-card", (item) => {
  if (item.closest("[data-know-first]").dataset.stage === "last") item.open = true;
}]);

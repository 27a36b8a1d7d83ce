// ---- What to know first: all of it in the first stage, goal tempos alone in the last ----

DAY_RULES.push(["[data-know-first]", (item, now) => {
  const { firstUntil, lastFrom } = item.dataset;
  item.dataset.stage = now <= firstUntil ? "first" : lastFrom && now >= lastFrom ? "last" : "later";
  item.open = item.dataset.stage === "first";
}], [":is(.know-all, .know-last)", (item) => {
  const isLast = item.closest("[data-know-first]").dataset.stage === "last";
  item.hidden = isLast === item.classList.contains("know-all");
}], ["[data-know-group=tempos], [data-know-group=tempos] .know-card", (item) => {
  if (item.closest("[data-know-first]").dataset.stage === "last") item.open = true;
}]);

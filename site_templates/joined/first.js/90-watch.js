// ---- Each element is met as it is parsed, before anything of it is painted ------------

(function () {
  const now = today();
  const meet = (item) => {
    if (item.nodeType !== Node.ELEMENT_NODE) return;
    showDayOf(item, now);
    if (item.matches("li[data-cycle]")) cycleEntry(item);
    if (item.matches("[data-filter-own] input")) chooseOwnBand(item);
  };
  const watcher = new MutationObserver((records) => { for (const { addedNodes } of records) addedNodes.forEach(meet); });
  watcher.observe(document, { childList: true, subtree: true });
  document.addEventListener("DOMContentLoaded", () => watcher.disconnect());
  // If the main script did not arrive, nothing may stay folded away.
  window.addEventListener("load", () => {
    if (typeof followTheDay === "function") return;
    document.documentElement.classList.remove("js");
    for (const item of putAway) item.hidden = false;
  });
})();

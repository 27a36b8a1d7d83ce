"use strict";
// Dates in one's own calendar: the band that was chosen on this device stands open, and an
// address is copied at a press. Without this script all of it can be opened and selected.
(function () {
  const folds = [...document.querySelectorAll("details.feed")];
  let own = null;
  try { own = localStorage.getItem("handbook-ensemble"); } catch { /* none is known, then */ }
  const fold = folds.find((one) => one.dataset.feed === own);
  if (fold && !location.hash) fold.open = true;
  if (!navigator.clipboard) return;
  for (const button of document.querySelectorAll("[data-copy]")) {
    button.hidden = false;
    button.addEventListener("click", async () => {
      try { await navigator.clipboard.writeText(button.dataset.copy); } catch { return; }
      button.textContent = gettext("Copied");
    });
  }
})();

"use strict";
// Runs before the first paint, so that a chosen theme does not flash the other one.
(function () {
  document.documentElement.classList.add("js");
  // If the main script did not arrive, nothing may stay folded away.
  window.addEventListener("load", function () {
    if (document.querySelector("[data-pick]:not([data-picked])")) document.documentElement.classList.remove("js");
  });
  try {
    const theme = localStorage.getItem("handbook-theme");
    if (theme === "light" || theme === "dark") document.documentElement.dataset.theme = theme;
  } catch { /* storage may be refused; the device's own theme stands */ }
})();

// This script runs before the first paint and does what would move the page afterwards: a chosen
// theme, the menu of the cycle that is on, what is over and what comes next by the school's day.
// It only adds classes, text and `hidden`, so that every fact stands on the page without it.

document.documentElement.classList.add("js");
try {
  const theme = localStorage.getItem("handbook-theme");
  if (theme === "light" || theme === "dark") document.documentElement.dataset.theme = theme;
  // Who has chosen a band before is not asked first.
  if (localStorage.getItem("handbook-ensemble") !== null) document.documentElement.classList.add("chosen");
} catch { /* storage may be refused; the device's own theme stands */ }

const all = (selector, within = document) => [...within.querySelectorAll(selector)];


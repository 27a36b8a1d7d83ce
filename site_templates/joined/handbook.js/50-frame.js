function themeChoice() {
  const choice = document.querySelector("[data-theme-choice]");
  if (!choice) return;
  choice.hidden = false;
  const set = document.documentElement.dataset.theme || "system";
  for (const radio of all("input", choice)) {
    radio.checked = radio.value === set;
    radio.addEventListener("change", () => {
      if (radio.value === "system") delete document.documentElement.dataset.theme;
      else document.documentElement.dataset.theme = radio.value;
      kept.set("theme", radio.value);
    });
  }
}

// On paper nothing can be unfolded: the weeks that show are printed whole.
function unfoldForPaper() {
  window.addEventListener("beforeprint", () => {
    for (const week of all(".week:not([hidden]), .week:not([hidden]) details")) week.open = true;
  });
}

// Whoever follows a link finds what it leads to open, with all that it lies folded in.
function openTarget() {
  let target;
  try { target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { return; }
  if (!target) return;
  let folded = false;
  for (let item = target; item; item = item.parentElement) {
    if (item.hidden) { item.hidden = false; folded = true; }
    if (item.tagName === "DETAILS" && !item.open) { item.open = true; folded = true; }
  }
  if (folded) target.scrollIntoView();
}

function menu() {
  const help = document.querySelector("[data-search-help]");
  const entries = document.querySelector(".wide ul");
  if (help && entries) {
    const ways = entries.cloneNode(true);
    for (const link of all("[aria-current]", ways)) link.removeAttribute("aria-current");
    help.append(ways);
  }
  const details = document.querySelector("details.menu");
  if (!details) return;
  document.addEventListener("click", (event) => { if (!details.contains(event.target)) details.open = false; });
  details.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && details.open) { details.open = false; details.querySelector("summary").focus(); }
  });
}


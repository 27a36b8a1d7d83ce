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
    for (const week of all(".week:not([hidden])")) week.open = true;
  });
}

function openTarget() {
  const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const details = target && target.closest("details");
  if (details) { details.hidden = false; details.open = true; target.scrollIntoView(); }
}

function menu() {
  const details = document.querySelector("details.menu");
  if (!details) return;
  document.addEventListener("click", (event) => { if (!details.contains(event.target)) details.open = false; });
  details.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && details.open) { details.open = false; details.querySelector("summary").focus(); }
  });
}


// ---- Running ------------------------------------------------------------------------------------

function say(text) { document.querySelector("[data-status]").textContent = text; }

const HELD_OVER = 30 * MINUTE;
let told = null; // which rehearsal the clock would show, as it was last told

// A block that is held past the end of class stays until the director goes on.
const isHeldOver = (now) => shown.went.held !== null && now < endOf(shown.rehearsal) + HELD_OVER;

function tick() {
  if (document.hidden) return;
  schoolBell.tick();
  const now = moment();
  if (!shown.chosen) {
    const usually = rehearsalAt(now, data.rehearsals, usual.band);
    // What the director is at is not taken away.
    const isBusy = document.activeElement && document.activeElement.matches("textarea, input, select");
    if (usually !== shown.rehearsal && !isBusy && !finger.isInLog() && !isHeldOver(now)) {
      shown.take(usually);
      redraw();
      window.scrollTo(0, 0);
    }
    else if (usually !== told) redraw();
    told = usually;
  }
  tickHead(now);
  const view = views.known.get(views.now);
  view.tick(views.placeOf(views.now), shown.rehearsal, now);
  awake.keep(isNear(shown.rehearsal, now));
}

const theme = {
  name: "handbook-theme",
  listen() {
    const { dataset } = document.documentElement;
    try { if (["light", "dark"].includes(localStorage.getItem(this.name))) dataset.theme = localStorage.getItem(this.name); } catch { /* as the device */ }
    document.querySelector("[data-theme-switch]").addEventListener("click", () => {
      const isDark = dataset.theme ? dataset.theme === "dark" : window.matchMedia("(prefers-color-scheme: dark)").matches;
      dataset.theme = isDark ? "light" : "dark";
      try { localStorage.setItem(this.name, dataset.theme); } catch { /* until the page is closed */ }
    });
  },
};

theme.listen();
sound.changed = () => {
  showStop();
  if (shown.rehearsal) redraw();
};
views.listen();
shown.take(rehearsalAt(moment(), data.rehearsals, usual.band));
views.show(window.location.hash === CLASS ? "class" : "stand");
setInterval(tick, 1000);
document.addEventListener("visibilitychange", () => { if (document.hidden) shown.leave(); else tick(); });
window.addEventListener("pageshow", tick);
tick();

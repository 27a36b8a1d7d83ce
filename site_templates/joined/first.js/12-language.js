
// ---- The reader's own language ---------------------------------------------------------

// Who has chosen a language is led to the same page in it when they come from outside: by a link
// in a message, by a search, by a bookmark. Within the site each link stays in its language, and
// going back or loading again leads nowhere else than it did.
const languagesOf = document.currentScript ? document.currentScript.dataset : {};
const languageFolders = new Map((languagesOf.languages || "").split(" ").filter(Boolean).map((one) => one.split("=")));

function chosenLanguage() {
  try { return localStorage.getItem("handbook-language"); } catch { return null; }
}

(function () {
  if (!languageFolders.size) return;
  const remember = (event) => {
    const link = event.target.closest && event.target.closest("a[hreflang]");
    if (!link || !languageFolders.has(link.hreflang)) return;
    try { localStorage.setItem("handbook-language", link.hreflang); } catch { /* not remembered, then */ }
    if (link.closest(".languages")) link.hash = location.hash; // the same place on the page
  };
  for (const kind of ["click", "auxclick"]) document.addEventListener(kind, remember, true);

  const { language, top, here } = languagesOf;
  const chosen = chosenLanguage();
  if (here === undefined || chosen === language || !languageFolders.has(chosen)) return;
  const site = new URL(top, location.href).href;
  const [visit] = performance.getEntriesByType("navigation");
  if (document.referrer.startsWith(site) || !visit || visit.type !== "navigate") return;
  const page = location.protocol === "file:" ? `${here}index.html` : here;
  location.replace(site + languageFolders.get(chosen) + page + location.search + location.hash);
})();

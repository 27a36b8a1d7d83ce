// ---- The reader's own band and instrument: the one place that reads and keeps them --------

const choice = {
  // The id of a band or of a group; "" for all of them, null for who was not asked yet.
  band() { return kept.get("ensemble"); },
  // The id of their instrument in a band; "" for who plays none there, null if not asked yet.
  part(band) { return kept.get(`instrument-${band}`); },
  keep(band, part) {
    kept.set("ensemble", band);
    if (band && part !== undefined) kept.set(`instrument-${band}`, part);
    document.dispatchEvent(new CustomEvent("handbook:choice"));
  },
  // An instrument that was looked for on its band's page; the band on Today stays if there is one.
  keepPart(band, part) {
    kept.set(`instrument-${band}`, part);
    this.keep(this.band() || band);
  },
};

// "This is my part", on the part's own page.
function keepPart(button) {
  const { ensemble, instrument } = button.dataset;
  const show = () => { button.hidden = choice.band() === ensemble && choice.part(ensemble) === instrument; };
  button.addEventListener("click", () => choice.keep(ensemble, instrument));
  document.addEventListener("handbook:choice", show);
  show();
}

// The parts of a band: the reader's own alone, or all of them to choose from.
function ownPart(group) {
  const band = group.dataset.ensembleParts;
  const links = all("[data-instrument]", group);
  const fold = group.querySelector("details");
  const own = group.querySelector("[data-own-part]");
  const show = () => {
    const chosen = links.find((link) => link.dataset.instrument === choice.part(band));
    own.hidden = !chosen;
    if (chosen) {
      const link = own.querySelector("a");
      link.href = chosen.getAttribute("href");
      link.querySelector("b").replaceChildren(copyOf(chosen));
    }
    fold.open = false;
    fold.querySelector("summary").className = chosen ? "quiet" : "primary";
    fold.querySelector("[data-choose-word]").hidden = Boolean(chosen);
    fold.querySelector("[data-change-word]").hidden = !chosen;
  };
  for (const link of links) link.addEventListener("click", () => choice.keepPart(band, link.dataset.instrument));
  show();
  window.addEventListener("pageshow", show);
}

// On the page of changes the band that was chosen before is chosen again.
function keepFilter() {
  const before = choice.band();
  for (const radio of all("[data-filter-kept] input")) {
    if (radio.value === before) radio.checked = true;
    radio.addEventListener("change", () => choice.keep(radio.value));
  }
}

function chooser() {
  for (const button of all("[data-keep-part]")) keepPart(button);
  for (const group of all("[data-ensemble-parts]")) ownPart(group);
}


"use strict";
// What only the reader's own device knows: which ensemble is theirs, what was opened, what they
// search for. What may not move the page once it is seen is in first.js, which ran before; its
// helpers (`all`, `today()`, `schoolTime()`, `showDay()` and others) serve here too.

const masthead = document.querySelector(".masthead");
const root = masthead ? masthead.dataset.root : "./"; // of the pages in this language
const siteTop = (masthead && masthead.dataset.top) || root; // of what is there once for all
const wide = window.matchMedia("(min-width: 62rem)");

// ---- Preferences, kept on this device only ----------------------------------------

const kept = {
  get(key) { try { return localStorage.getItem(`handbook-${key}`); } catch { return null; } },
  set(key, value) { try { localStorage.setItem(`handbook-${key}`, value); } catch { /* not kept, then */ } },
};

// ---- Opened from a folder or a zip, without a server ------------------------------

const fromDisk = location.protocol === "file:";
const address = (path) => (fromDisk ? path.replace(/(^|\/)(?=#|$)/, "$1index.html") : path);

function linkFiles() {
  if (!fromDisk) return;
  for (const link of all("a[href]")) {
    const href = link.getAttribute("href");
    if (!/^([a-z]+:|#)/i.test(href)) link.setAttribute("href", address(href));
  }
}


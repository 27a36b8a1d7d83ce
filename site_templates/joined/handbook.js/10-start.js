"use strict";
// What only the reader's own device knows: which day it is, which ensemble is theirs,
// light or dark, and what they search for. Without this script every fact still stands
// on the page. The script only adds classes, text and `hidden`, so that pages
// translated by the browser keep working.

const masthead = document.querySelector(".masthead");
const root = masthead ? masthead.dataset.root : "./";
const wide = window.matchMedia("(min-width: 62rem)");
const all = (selector, within = document) => [...within.querySelectorAll(selector)];

// ---- The day, in the program's own time zone -------------------------------------

function today() {
  const zone = masthead ? masthead.dataset.zone : undefined;
  try {
    return new Intl.DateTimeFormat("en-CA", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" }).format(new Date());
  } catch {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  }
}

// What the clock in the school's hall shows: the day, and the minutes since midnight.
function schoolTime() {
  const options = { timeZone: masthead ? masthead.dataset.zone : undefined, hourCycle: "h23", hour: "2-digit", minute: "2-digit" };
  let parts;
  try { parts = new Intl.DateTimeFormat("en-GB", options).formatToParts(new Date()); } catch {
    parts = new Intl.DateTimeFormat("en-GB", { ...options, timeZone: undefined }).formatToParts(new Date());
  }
  const of = (type) => Number(parts.find((part) => part.type === type).value);
  return { day: today(), minutes: of("hour") * 60 + of("minute") };
}

const dayNumber = (iso) => Math.round(Date.parse(`${iso}T00:00:00Z`) / 86400000);

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


// ---- The day and the hour, in the program's own time zone -------------------------

const schoolZone = document.currentScript ? document.currentScript.dataset.zone : undefined;

function today() {
  try {
    return new Intl.DateTimeFormat("en-CA", { timeZone: schoolZone, year: "numeric", month: "2-digit", day: "2-digit" }).format(new Date());
  } catch {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  }
}

// What the clock in the school's hall shows: the day, and the minutes since midnight.
function schoolTime() {
  const options = { timeZone: schoolZone, hourCycle: "h23", hour: "2-digit", minute: "2-digit" };
  let parts;
  try { parts = new Intl.DateTimeFormat("en-GB", options).formatToParts(new Date()); } catch {
    parts = new Intl.DateTimeFormat("en-GB", { ...options, timeZone: undefined }).formatToParts(new Date());
  }
  const of = (type) => Number(parts.find((part) => part.type === type).value);
  return { day: today(), minutes: of("hour") * 60 + of("minute") };
}

const dayNumber = (iso) => Math.round(Date.parse(`${iso}T00:00:00Z`) / 86400000);

// A school time as it is written in pages, `2026-12-17` or `2026-12-17T17:20`, beside which
// another may be held as text.
function schoolStamp() {
  const { day, minutes } = schoolTime();
  return `${day}T${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}


// ---- What a player has practiced, and on which day: kept on this device only --------

const practiced = {
  // Days as "2026-11-17", each with the ids of what was ticked then; three weeks are kept.
  days(part) {
    let found;
    try { found = JSON.parse(kept.get(`ticks-${part}`) || "{}"); } catch { found = null; }
    const days = found && typeof found.days === "object" && found.days ? found.days : {};
    return Object.fromEntries(Object.entries(days).filter(([, ids]) => Array.isArray(ids)));
  },
  within(part, id, first, last) {
    return Object.entries(this.days(part)).some(([day, ids]) => first <= day && day <= last && ids.includes(id));
  },
  // Tick it as done on a day; unticked, it is done on no day from `first` on.
  tick(part, id, done, day, first = day) {
    const days = this.days(part);
    for (const [one, ids] of Object.entries(days)) {
      if (one >= first) days[one] = ids.filter((other) => other !== id);
      if (!days[one].length || dayNumber(one) < dayNumber(day) - 21) delete days[one];
    }
    if (done) days[day] = [...(days[day] || []), id];
    kept.set(`ticks-${part}`, JSON.stringify({ days }));
  },
};

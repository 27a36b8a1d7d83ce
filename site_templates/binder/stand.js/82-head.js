// ---- The head: the rehearsals of the day, each one tap away, and the way to all others ----------

const SOON = 10; // minutes

function nameOfDay(day) {
  const now = today();
  const days = dayNumber(day) - dayNumber(now);
  const date = writtenDay(day, "shortDay");
  if (days === 0) return gettext("Today, %(date)s", { date });
  return days === 1 ? gettext("Tomorrow, %(date)s", { date }) : date;
}

function chip(rehearsal) {
  const band = bandOf(rehearsal);
  const made = button(`day ${rehearsal.at} ${band.id}`, "chip", "", () => shown.choose(rehearsal));
  made.append(element("b", "", band.name), element("span", "", clockAt(rehearsal, rehearsal.at)));
  made.setAttribute("aria-pressed", String(rehearsal === shown.rehearsal));
  return made;
}

function stepTo(key, sign, label, rehearsal) {
  const made = button(key, "step", sign, () => shown.choose(rehearsal));
  made.setAttribute("aria-label", label);
  made.disabled = !rehearsal;
  return made;
}

function chooser() {
  const made = element("select", "");
  made.dataset.key = "all rehearsals";
  made.setAttribute("aria-label", gettext("All rehearsals"));
  data.bands.forEach((band, place) => {
    const group = element("optgroup", "");
    group.label = band.name;
    data.rehearsals.forEach((one, number) => {
      if (one.band !== place) return;
      const isAlone = !data.rehearsals.some((other) => other !== one && other.band === place && other.day === one.day);
      const option = element("option", "", besides(nameOfDay(one.day), isAlone ? "" : clockAt(one, one.at)));
      Object.assign(option, { value: number, selected: one === shown.rehearsal });
      group.append(option);
    });
    if (group.children.length) made.append(group);
  });
  made.addEventListener("change", () => shown.choose(data.rehearsals[Number(made.value)]));
  return made;
}

// Where one tap leads: to the class that is about to begin, or to what is on.
function toNowText(usually) {
  const minutes = Math.ceil((usually.at - moment()) / MINUTE);
  if (usually === shown.rehearsal || minutes < 1 || minutes > SOON) return gettext("To what is on now");
  return gettext("%(band)s begins in %(time)s", { band: bandOf(usually).name, time: minutesText(minutes) });
}

// The minutes on the way to the next class go on, without drawing the head anew.
function tickHead(now) {
  const way = document.querySelector("[data-key='to now']");
  const text = way && toNowText(rehearsalAt(now, data.rehearsals, usual.band));
  if (way && way.textContent !== text) way.textContent = text;
}

function drawHead() {
  const { rehearsal } = shown;
  const own = data.rehearsals.filter((one) => one.band === rehearsal.band);
  const place = own.indexOf(rehearsal);
  const day = data.rehearsals.filter((one) => one.day === rehearsal.day);
  const usually = rehearsalAt(moment(), data.rehearsals, usual.band);
  const made = [
    stepTo("before", "‹", gettext("The rehearsal before"), own[place - 1]),
    ...day.map(chip),
    stepTo("after", "›", gettext("The rehearsal after"), own[place + 1]),
    chooser(),
  ];
  if (shown.looked === null) made.push(...notSaved.drawInHead());
  if (usually !== rehearsal || (shown.chosen && insteadAt(moment()))) made.push(button("to now", "wide primary", toNowText(usually), () => shown.follow()));
  document.querySelector("[data-days]").replaceChildren(...made);
}

// ---- What is not safe yet: logs that were not saved, and a device that keeps nothing ------------

const notSaved = {
  done: [], // files that were written for other rehearsals since the page was opened
  isHeard: false, // that this device keeps nothing

  // Rehearsals, not in sight, that are over and have a log that is neither saved nor in the content.
  found() {
    const now = moment();
    return data.rehearsals.filter((one) => {
      const isSeen = one === shown.rehearsal && !insteadNow(); // with its own button
      if (isSeen || endOf(one) > now || one.log.there) return false;
      const went = howItWent(one);
      return hasLog(one, went) && went.saved !== logOf(one, went);
    });
  },

  // One file a tap: several at once are what browsers stop or ask about.
  save(rehearsal) {
    const went = howItWent(rehearsal);
    const saved = logOf(rehearsal, went);
    writeFile(rehearsal.log.file, saved);
    kept.write(rehearsal, { ...went, saved });
    this.done = [...this.done.filter((file) => file !== rehearsal.log.file), rehearsal.log.file];
    shown.again();
    say(savedAs([rehearsal.log.file]));
  },

  drawStorage() {
    if (kept.able || this.isHeard) return [];
    const heard = button("keeps nothing", "", gettext("Understood"), () => { this.isHeard = true; redraw(); });
    return [element("p", "unsafe", element("span", "", gettext("This browser keeps nothing. Save the log before you close or reload this page.")), heard)];
  },

  // While class is on, when the card comes first: one button in the head, which is always there.
  drawInHead() {
    const [first] = this.found();
    if (!first || insteadNow() || cardOf(shown.rehearsal, shown.on).kind !== "on") return [];
    const log = besides(bandOf(first).name, writtenDay(first.day, "monthDay"));
    return [button("save in head", "unsaved", gettext("Save the log: %(log)s", { log }), () => this.save(first))];
  },

  drawLogs() {
    const found = this.found();
    const made = [];
    if (found.length) {
      const names = found.map((one) => besides(bandOf(one).name, writtenDay(one.day, "monthDay")));
      const words = gettext("Logs not saved yet: %(rehearsals)s", { rehearsals: inARow(names) });
      const save = button("save one", "", found.length > 1 ? gettext("Save %(log)s", { log: names[0] }) : gettext("Save it"), () => this.save(found[0]));
      made.push(element("p", "unsafe", element("span", "", words), save));
    }
    if (this.done.length) {
      const where = gettext("Now put them into the folder %(folder)s of your content.", { folder: folderOfLogs() });
      made.push(element("p", "unsafe is-saved", element("span", "", `✓ ${savedAs(this.done)} `, where)));
    }
    return made;
  },
};

// What another window of this browser noted, or which band it chose, holds here too.
window.addEventListener("storage", ({ key }) => {
  if (!shown.rehearsal) return;
  if (key === USUAL) usual.read();
  else if (key === null || key.startsWith("handbook-stand ")) shown.again();
});

// On paper the day is told on which it was printed: tempos and times may change after it.
function printedDay() {
  window.addEventListener("beforeprint", () => {
    const words = gettext("Printed %(day)s", { day: writtenDay(today(), "monthDayYear") });
    document.documentElement.style.setProperty("--printed", JSON.stringify(words));
  });
}
printedDay();

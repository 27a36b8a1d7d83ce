// On paper the day is told on which it was printed: tempos and times may change after it.
function printedDay() {
  const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
  window.addEventListener("beforeprint", () => {
    const [year, month, day] = today().split("-").map(Number);
    document.documentElement.style.setProperty("--printed", `"Printed ${months[month - 1]} ${day}, ${year}"`);
  });
}
printedDay();

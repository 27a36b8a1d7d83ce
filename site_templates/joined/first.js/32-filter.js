
// ---- Of several bands the reader's own, from the first paint on -----------------------

// Another one may be looked at without becoming the reader's own.
function chooseOwnBand(radio) {
  let own = null;
  try { own = localStorage.getItem("handbook-ensemble"); } catch { /* none is known, then */ }
  if (radio.value === own) radio.checked = true;
}

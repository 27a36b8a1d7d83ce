
// ---- The page for lost readers: in the language of the address, else in the chosen one ----

function lostFolder() {
  const site = new URL(languagesOf.top, location.href).pathname;
  const folders = [...languageFolders.values()].filter(Boolean);
  return folders.find((folder) => location.pathname.startsWith(site + folder)) || languageFolders.get(chosenLanguage()) || "";
}

DAY_RULES.push(["[data-lost]", (item) => { item.hidden = item.dataset.lost !== lostFolder(); }]);

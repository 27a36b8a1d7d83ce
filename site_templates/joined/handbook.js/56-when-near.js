// Scripts that one part of a page needs, far below its beginning, come when that part is near.
function loadWhenNear() {
  const list = document.querySelector("[data-when-near]");
  if (!list) return;
  const watcher = new IntersectionObserver((entries) => {
    if (!entries.some(({ isIntersecting }) => isIntersecting)) return;
    watcher.disconnect();
    for (const { dataset } of list.children) {
      const script = document.createElement("script");
      Object.assign(script, { src: dataset.script, async: false });
      document.body.append(script);
    }
  }, { rootMargin: "100% 0px" });
  for (const part of document.querySelectorAll(list.dataset.whenNear)) watcher.observe(part);
}

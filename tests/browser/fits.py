"""Words that do not fit where they stand: off the side, wider than their box, over each other."""

from __future__ import annotations

from playwright.sync_api import Page

# Boxes are the one that a line of text stands in and, of those around it, all with an edge
# that is seen. What can be scrolled sideways, lies above the page or is for the ear alone is
# left out.
_FAULTS = """
() => {
  const found = [];
  const reach = document.documentElement.scrollWidth;
  if (reach > innerWidth) found.push(`page ${reach} > ${innerWidth}`);
  const name = (item) => `${item.tagName.toLowerCase()}.${item.className}: ${item.textContent.trim().replace(/\\s+/g, " ").slice(0, 60)}`;
  const known = new Map();
  const about = (item) => {
    if (item === document.body) return { hidden: false, above: false, scrolls: false, boxes: [], edged: [] };
    if (known.has(item)) return known.get(item);
    const style = getComputedStyle(item), box = item.getBoundingClientRect(), outer = about(item.parentElement);
    const flows = !["inline", "contents"].includes(style.display);
    const scrolls = /auto|scroll/.test(style.overflowX);
    const edge = flows && (item.matches("button, summary, label, td, th, dialog") || /hidden|clip/.test(style.overflowX));
    const edged = scrolls ? [] : edge ? [[item, box], ...outer.edged] : outer.edged;
    const told = {
      hidden: outer.hidden || (flows && (box.width <= 2 || box.height <= 2)),
      above: outer.above || /sticky|fixed/.test(style.position),
      scrolls: outer.scrolls || scrolls,
      boxes: scrolls ? [] : flows ? [[item, box], ...outer.edged] : outer.boxes,
      edged,
    };
    known.set(item, told);
    return told;
  };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const lines = [];
  while (walker.nextNode()) {
    const node = walker.currentNode, own = node.parentElement;
    if (!node.data.trim() || own.closest("svg, script, template, noscript, select, .vh")) continue;
    if (!own.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    const { hidden, above, scrolls, boxes } = about(own);
    if (hidden) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const line of range.getClientRects()) {
      if (line.width < 1.5 || line.height < 1) continue;
      if (!above) lines.push([line, own, node]);
      const off = !scrolls && (line.left < -1 || line.right > innerWidth + 1);
      const narrow = boxes.find(([, box]) => line.left < box.left - 1.5 || line.right > box.right + 1.5);
      if (!off && !narrow) continue;
      found.push(off ? `off the side: ${name(own)}` : `wider than ${name(narrow[0])}`);
      break;
    }
  }
  lines.sort((a, b) => a[0].top - b[0].top);
  lines.forEach(([line, own, node], at) => {
    for (const [other, its, text] of lines.slice(at + 1)) {
      if (other.top > line.bottom) break;
      const across = Math.min(line.right, other.right) - Math.max(line.left, other.left);
      const down = Math.min(line.bottom, other.bottom) - Math.max(line.top, other.top);
      if (text !== node && across > 2 && down > Math.min(line.height, other.height) / 2) found.push(`${name(own)} lies over ${name(its)}`);
    }
  });
  return found;
}
"""


def misfits(page: Page) -> list[str]:
    """Tell what does not fit on the page as it is shown, each once."""
    return list(dict.fromkeys(page.evaluate(_FAULTS)))

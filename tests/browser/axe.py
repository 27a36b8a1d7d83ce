"""Axe-core on an open page: put in once, then run as often as the page changes."""

from __future__ import annotations

from collections.abc import Mapping

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

ENHANCED = {"runOnly": ["color-contrast-enhanced"]}  # 7:1, WCAG 2.2 SC 1.4.6
WCAG_AND_BEST_PRACTICE = {
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    },
}
# The rules of those that look at colours. Dark differs from light by colours alone (see
# test_contrast), so every other rule finds in dark what it finds in light.
OF_COLOURS = {"runOnly": ["color-contrast", "link-in-text-block"]}
# Axe is built for old browsers: each colour it looks at keeps its fields in weak maps, which
# grow slow by the hundred thousand. It is given plain ones, which do the same on one page.
_PUT_IN = f"""
(() => {{
  class WeakMap {{
    mark = Symbol();
    constructor(pairs) {{ for (const [key, value] of pairs || []) this.set(key, value); }}
    set(key, value) {{ key[this.mark] = value; return this; }}
    get(key) {{ return Object(key)[this.mark]; }}
    has(key) {{ return Object(key) === key && Object.hasOwn(key, this.mark); }}
    delete(key) {{ const had = this.has(key); delete key[this.mark]; return had; }}
  }}
  class WeakSet {{
    marked = new WeakMap();
    add(key) {{ this.marked.set(key, true); return this; }}
    has(key) {{ return this.marked.has(key); }}
    delete(key) {{ return this.marked.delete(key); }}
  }}
  {AXE_SCRIPT}
}})()
"""
_RUN = """
async ([within, options]) => {
  const result = await axe.run(within || document, { resultTypes: ["violations"], ...options });
  return result.violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html.slice(0, 150)} ${failureSummary.slice(0, 300)}`));
}
"""


def findings(page: Page, rules: Mapping[str, object], within: str | None = None) -> list[str]:
    """What the rules find on the page, or in the part of it that a selector names."""
    if page.evaluate("typeof axe === 'undefined'"):
        page.evaluate(_PUT_IN)
    found: list[str] = page.evaluate(_RUN, [within, dict(rules)])
    return found


def findings_in_dark(page: Page, within: str | None = None) -> list[str]:
    """What the rules of colours find in dark; the page is left in light."""
    page.emulate_media(color_scheme="dark")
    found = [f"dark: {one}" for one in findings(page, OF_COLOURS, within)]
    page.emulate_media(color_scheme="light")
    return found

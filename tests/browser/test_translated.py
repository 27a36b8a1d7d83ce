"""A page translated by the browser keeps working, and keeps titles, notes and tempos as they are.

Browsers that translate replace each text node by `font` elements; scripts that hold on to
text nodes break (common practice, no source). That no page leaves a title to them is seen
in test_every_page.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

TRANSLATE = """
() => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT, {
    acceptNode: (node) => node.data.trim() && !node.parentElement.closest("script, svg, template, [translate=no]") ? NodeFilter.FILTER_ACCEPT : NodeFilter.FILTER_REJECT,
  });
  const nodes = [];
  while (walker.nextNode()) nodes.push(walker.currentNode);
  for (const node of nodes) {
    const outer = document.createElement("font"), inner = document.createElement("font");
    inner.textContent = node.data.toUpperCase();
    outer.append(inner);
    node.replaceWith(outer);
  }
  document.documentElement.lang = "es";
  return nodes.length;
}
"""


def test_everything_still_works(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        assert page.evaluate(TRANSLATE) > 50
        page.locator("[data-choose=harbor]").click()
        page.locator("[data-parts] button").first.click()
        expect(page.locator("#lantern")).to_be_hidden()
        expect(page.locator("[data-rehearsal] .next-when")).to_contain_text("Mon, Nov 30")
        page.locator("[data-theme-choice] input[value=dark]").check()
        assert page.evaluate("document.documentElement.dataset.theme") == "dark"
        page.locator("details.menu summary").click()
        expect(page.locator(".menu nav")).to_be_visible()
        page.keyboard.press("Escape")
        page.locator("[data-open-search]").click()
        page.get_by_role("searchbox").fill("fermata")
        expect(page.locator("[data-search-results] a").first).to_be_visible()
        page.get_by_role("searchbox").fill("zzzzqqqq")
        expect(page.locator("[data-search-help]")).to_be_visible()
        page.keyboard.press("Escape")

        page = visit.go("winter-2026/harbor/")
        page.evaluate(TRANSLATE)
        page.locator("[data-show-all]").click()
        expect(page.locator("details.week:visible")).to_have_count(8)
        page.locator("details:has(> #r20) > summary").click()
        expect(page.locator("details:has(> #r20) .agenda")).to_be_visible()

        page = visit.go("calendar/")
        page.evaluate(TRANSLATE)
        page.locator("[data-show-past]").click()
        page.locator(".filter input").nth(2).check()
        expect(page.locator(".event.who-1:visible:not(.who-2)")).to_have_count(0)
        assert visit.errors == []


def test_marks_notes_and_keys_are_kept_from_translation(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    with visiting(browser, site) as visit:
        page = visit.go(kinds["piece"])
        marks = page.locator("main .mark")
        assert marks.count() > 10
        assert page.locator("main .mark:not([translate=no])").count() == 0
        expect(page.locator("h1")).to_have_attribute("translate", "no")
        expect(page.locator(".piece-facts [translate=no]")).to_have_count(2)  # key and meter
        page = visit.go("words/")
        assert page.locator("dt:not([translate=no])").count() == 0

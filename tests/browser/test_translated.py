"""A page translated by the browser keeps working, and keeps titles, notes and tempos as they are.

Browsers that translate replace each text node by `font` elements; scripts that hold on to
text nodes break (common practice, no source). That no page leaves a title to them is seen
in test_every_page.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

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


def test_what_scripts_do_while_the_page_is_open_still_works(browser: Browser, site: str) -> None:
    """Ticks and cards of a part, a concert day that goes on, and choices made after the translation."""
    evening = datetime(2026, 11, 25, 18, tzinfo=ZoneInfo("America/Chicago"))
    with visiting(browser, site, now=evening) as visit:
        page = visit.go("winter-2026/lantern/part/clarinet/")
        rows = page.locator(".tonight [data-rows] > li")
        rows.first.wait_for()
        page.evaluate(TRANSLATE)
        for box in rows.locator(".tick input").all():
            box.check()
        expect(page.locator(".tonight [data-all-done]")).to_have_text("All done for tonight.")
        rows.locator(".play").first.click()
        expect(page.locator(".player [data-mark]")).to_have_text(re.compile(r"\d+"))
        page.evaluate(TRANSLATE)
        page.locator(".player [data-clean]").click()
        expect(page.locator(".player [data-state-shown]")).to_contain_text("1 of 3 clean")
        page.locator(".player [data-close]").click()

        page.locator("#know-first > summary").click()
        page.evaluate(TRANSLATE)
        page.locator("#know-first .know-start").click()
        before = page.locator("dialog[open] [data-round-left]").inner_text()
        page.evaluate(TRANSLATE)
        page.locator("dialog[open] [data-round-show]").click()
        page.locator("dialog[open] [data-round-knew]").click()
        expect(page.locator("dialog[open] [data-round-left]")).not_to_have_text(before.upper())
        expect(page.locator("dialog[open] [data-round-left]")).to_have_text(
            re.compile(r"^\d+ to go$")
        )
        page.keyboard.press("Escape")
        assert visit.errors == []

    day = datetime(2026, 12, 17, 16, tzinfo=ZoneInfo("America/Chicago"))
    with visiting(browser, site, now=day) as visit:
        page = visit.go("winter-2026/concert/")
        page.evaluate("choice.keep('lantern', 'clarinet')")
        page.reload()
        left = page.locator(".live-in:visible").first
        page.evaluate(TRANSLATE)
        assert left.inner_text().startswith("IN ")
        page.clock.set_fixed_time(day + timedelta(hours=2, minutes=10))
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(left).to_have_text(re.compile(r"^in \d+ minutes?$"))

        page = visit.go("")
        page.evaluate("choice.keep('lantern', 'clarinet')")
        expect(page.locator(".concert-card .live-in")).to_be_visible()
        page.evaluate(TRANSLATE)
        page.locator("[data-choose-again]").click()
        page.locator("[data-choose='']").click()
        expect(page.locator(".meet-table tbody tr").first).to_be_visible()
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

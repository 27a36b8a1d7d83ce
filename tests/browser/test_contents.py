"""The line that tells what is on a long page and where in it the reader is."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

CREW = "winter-2026/concert/crew/"


def test_the_line_names_the_section_and_leads_to_all(browser: Browser, site: str) -> None:
    with visiting(browser, site, height=664) as visit:
        page = visit.go(CREW)
        line = page.locator("[data-contents] summary")
        links = page.locator("[data-contents] a")
        assert links.count() >= 8
        assert page.locator("main h2[id]").count() == links.count()  # none is left out
        line.click()
        page.get_by_role("link", name="Stage", exact=True).click()
        expect(line).to_contain_text("Stage")
        expect(links.first).not_to_be_visible()  # the list closes behind the reader
        # The target stands free of the line (WCAG 2.2, 2.4.11).
        below, top = page.evaluate(
            "[document.querySelector('[data-contents] summary').getBoundingClientRect().bottom,"
            " document.getElementById('stage').getBoundingClientRect().top]"
        )
        assert 0 < below <= top < 120
        line.focus()
        page.keyboard.press("Enter")
        expect(links.first).to_be_visible()
        assert findings(page, WCAG_AND_BEST_PRACTICE, "[data-contents]") == []
        page.keyboard.press("Escape")
        expect(links.first).not_to_be_visible()
        expect(line).to_be_focused()
        # Whoever goes backward by keyboard sees what has the focus.
        page.locator(".foot a").first.focus()
        for _ in range(20):
            page.keyboard.press("Shift+Tab")
            if page.evaluate("document.activeElement.matches('main a')"):
                break
        assert page.evaluate("document.activeElement.getBoundingClientRect().top") >= below
        assert not visit.errors


def test_without_scripts_it_is_a_fold(browser: Browser, site: str) -> None:
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go(CREW)
        page.locator("[data-contents] summary").click()
        page.get_by_role("link", name="Buses", exact=True).click()
        assert page.url.endswith("#buses")

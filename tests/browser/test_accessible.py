"""No axe finding on any kind of page, however it is opened (WCAG 2.2, levels A and AA)."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings, findings_in_dark
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

SMALL, LARGE = 360, 1280
SAME_WHEN_WIDE = ("words", "families", "free_page", "free_page_es", "past", "404", "fundamentals")
WITH_MOST_SCRIPTS = ("today", "calendar", "ensemble", "piece", "part", "concert")


def open_menu(page: Page) -> None:
    page.locator("details.menu summary").click()


def open_everything(page: Page) -> None:
    page.evaluate(
        "for (const item of document.querySelectorAll('details:not(.menu)')) { item.open = true; item.hidden = false; }"
    )


def named(where: str, found: list[str]) -> list[str]:
    return [f"{where}: {one}" for one in found]


@pytest.mark.parametrize("width", [SMALL, LARGE])
def test_every_kind_of_page(browser: Browser, site: str, kinds: dict[str, str], width: int) -> None:
    """Folds closed, then open: what was seen is seen still, so dark is looked at once.

    On a phone it is with folds open, on a laptop with them closed: there it is for what only
    wide screens show, which lies in no fold, and no width changes a colour (see test_contrast).
    """
    found = []
    with visiting(browser, site, width=width) as visit:
        for kind, path in kinds.items():
            if width == LARGE and kind in SAME_WHEN_WIDE:
                continue
            page = visit.go(path)
            found += named(kind, findings(page, WCAG_AND_BEST_PRACTICE))
            if width == LARGE:
                found += named(kind, findings_in_dark(page))
            if kind in {"today", "ensemble"}:
                open_everything(page)
                found += named(f"{kind}, unfolded", findings(page, WCAG_AND_BEST_PRACTICE))
            if width == SMALL:
                found += named(kind, findings_in_dark(page))
    assert found == []


# Axe draws up a map of all that is shown before it looks at the colours even of a part.
SHOW_THE_REST = "shown => { for (const item of document.querySelectorAll('main, .foot')) item.style.display = shown ? '' : 'none'; }"


def findings_when_open(page: Page, kind: str, part: str) -> list[str]:
    """All of the first page; of the others what opens, since the rest of them is checked above.

    Nothing that opens changes the colours of the rest, so in dark only what opens is checked.
    """
    found = findings(page, WCAG_AND_BEST_PRACTICE) if kind == "today" else []
    page.evaluate(SHOW_THE_REST, arg=False)
    if kind != "today":
        found += findings(page, WCAG_AND_BEST_PRACTICE, part)
    found += findings_in_dark(page, part)
    page.evaluate(SHOW_THE_REST, arg=True)
    return found


@pytest.mark.parametrize("width", [SMALL, LARGE])
def test_pages_with_search_open(
    browser: Browser, site: str, kinds: dict[str, str], width: int
) -> None:
    """Asked for what it finds, once in vain, where the pages' own scripts may be in its way."""
    found, part = [], "dialog.search"
    with visiting(browser, site, width=width) as visit:
        for kind, path in kinds.items():
            if kind not in WITH_MOST_SCRIPTS:
                continue
            page = visit.go(path)
            page.locator("[data-open-search]").click()
            page.get_by_role("searchbox").fill("crescendo")
            page.locator("[data-search-results] a").first.wait_for()
            found += named(f"{kind}, found", findings_when_open(page, kind, part))
            if kind == "today":
                page.get_by_role("searchbox").fill("zzzzqqqq")
                page.get_by_text("Nothing found").wait_for()
                found += named(f"{kind}, in vain", findings_when_open(page, kind, part))
    assert found == []


def test_pages_with_the_menu_open(browser: Browser, site: str, kinds: dict[str, str]) -> None:
    found = []
    with visiting(browser, site, width=SMALL) as visit:
        for kind, path in kinds.items():
            if kind not in WITH_MOST_SCRIPTS:
                continue
            page = visit.go(path)
            open_menu(page)
            found += named(kind, findings_when_open(page, kind, "header.masthead"))
    assert found == []


def test_scripts_off_changes_nothing(browser: Browser, site: str, kinds: dict[str, str]) -> None:
    """Axe needs scripts, so the page is loaded with its own scripts refused."""
    found = []
    with visiting(browser, site) as visit:
        visit.page.route("**/*.js*", lambda route: route.abort())
        for kind in WITH_MOST_SCRIPTS:
            page = visit.go(kinds[kind])
            found += named(kind, findings(page, WCAG_AND_BEST_PRACTICE))
    assert found == []


def test_axe_sees_what_is_wrong(browser: Browser, site: str) -> None:
    """Else finding nothing would prove nothing."""
    with visiting(browser, site) as visit:
        page = visit.go("past/")
        page.evaluate(
            """() => {
              document.documentElement.removeAttribute("lang");
              document.querySelector("h1").style.color = "#ddd"; // too light on light
              document.querySelector("main p").style.color = "#333"; // too dark on dark
            }"""
        )
        rules = [one.partition(":")[0] for one in findings(page, WCAG_AND_BEST_PRACTICE)]
        assert rules == ["color-contrast", "html-has-lang"]
        in_dark = findings_in_dark(page)
        assert [one.startswith("dark: color-contrast: <p") for one in in_dark] == [True]


# WCAG 2.2 SC 2.5.8 (AA): 24 CSS px each way, but for links within a sentence.
SMALL_TARGETS = """
() => [...document.querySelectorAll('a[href], button, summary, input, select, label')]
  .filter((item) => item.checkVisibility({ visibilityProperty: true }) && !item.closest('.skip, dialog:not([open])'))
  .filter((item) => !(item.tagName === 'A' && getComputedStyle(item).display === 'inline'
    && item.parentElement.textContent.trim() !== item.textContent.trim()))
  .filter((item) => !(item.tagName === 'INPUT' && item.closest('label')))
  .filter((item) => !(item.tagName === 'LABEL' && item.getAttribute('for')))
  .map((item) => [item, item.getBoundingClientRect()])
  .filter(([, box]) => box.width < 24 || box.height < 24)
  .map(([item, box]) => `${item.outerHTML.slice(0, 120)} ${box.width}x${box.height}`)
"""


@pytest.mark.parametrize("width", [SMALL, LARGE])
def test_targets_are_large_enough(
    browser: Browser, site: str, kinds: dict[str, str], width: int
) -> None:
    small = []
    with visiting(browser, site, width=width) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            if width == SMALL and kind != "404":
                open_menu(page)
            open_everything(page)
            small += [f"{kind}: {item}" for item in page.evaluate(SMALL_TARGETS)]
    assert small == []

"""No axe finding on any kind of page, however it is opened (WCAG 2.2, levels A and AA)."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

RULES = {
    "resultTypes": ["violations"],
    "runOnly": {
        "type": "tag",
        "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    },
}
SMALL, LARGE = 360, 1280


def open_search(page: Page) -> None:
    page.locator("[data-open-search]").click()
    page.get_by_role("searchbox").fill("crescendo")
    page.locator("[data-search-results] a").first.wait_for()


def search_in_vain(page: Page) -> None:
    page.locator("[data-open-search]").click()
    page.get_by_role("searchbox").fill("zzzzqqqq")
    page.get_by_text("Nothing found").wait_for()


def open_menu(page: Page) -> None:
    page.locator("details.menu summary").click()


def open_everything(page: Page) -> None:
    page.evaluate(
        "for (const item of document.querySelectorAll('details:not(.menu)')) { item.open = true; item.hidden = false; }"
    )


def as_it_is(page: Page) -> None:
    """Leave the page as it loads."""


def findings(page: Page, where: str, within: str | None = None) -> list[str]:
    result = Axe().run(page, context=within, options=RULES)
    return [
        f"{where}: {found['id']}: {node['html'][:150]} {node['failureSummary'][:300]}"
        for found in result.response["violations"]
        for node in found["nodes"]
    ]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [SMALL, LARGE])
def test_every_kind_of_page(
    browser: Browser, site: str, kinds: dict[str, str], width: int, scheme: str
) -> None:
    found = []
    with visiting(browser, site, width=width, scheme=scheme) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            found += findings(page, kind)
            if kind in {"today", "ensemble"}:
                open_everything(page)
                found += findings(page, f"{kind}, unfolded")
    assert found == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("width", "act", "part"),
    [
        (SMALL, open_search, "dialog.search"),
        (LARGE, open_search, "dialog.search"),
        (SMALL, search_in_vain, "dialog.search"),
        (LARGE, search_in_vain, "dialog.search"),
        (SMALL, open_menu, "header.masthead"),
    ],
)
def test_every_kind_of_page_with_search_or_menu_open(
    browser: Browser,
    site: str,
    kinds: dict[str, str],
    width: int,
    scheme: str,
    act: Callable[[Page], None],
    part: str,
) -> None:
    """All of the first page; of the others what opens, since the rest of them is checked above."""
    found = []
    with visiting(browser, site, width=width, scheme=scheme) as visit:
        for kind, path in kinds.items():
            if kind == "404":  # it has neither
                continue
            page = visit.go(path)
            act(page)
            found += findings(page, kind, None if kind == "today" else part)
    assert found == []


def test_scripts_off_changes_nothing(browser: Browser, site: str, kinds: dict[str, str]) -> None:
    """Axe needs scripts, so the page is loaded with its own scripts refused."""
    found = []
    with visiting(browser, site) as visit:
        visit.page.route("**/*.js*", lambda route: route.abort())
        for kind, path in kinds.items():
            found += findings(visit.go(path), kind)
    assert found == []


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

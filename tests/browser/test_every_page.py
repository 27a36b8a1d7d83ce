"""Every page keeps to itself, keeps quiet, and fits the screen."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.visits import DESK, PHONE, visiting

pytestmark = pytest.mark.browser

# A phone at 400 % zoom or a small old one, a phone, a laptop: WCAG 2.2 SC 1.4.10 asks for 320.
WIDTHS = (320, PHONE, DESK)


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_asks_no_other_host_for_anything_and_reports_no_error(
    browser: Browser, site: str, paths: list[str], width: int
) -> None:
    with visiting(browser, site, width=width) as visit:
        for path in paths:
            visit.go(path)
        cookies = visit.page.context.cookies()
        kept = visit.page.evaluate("Object.keys(localStorage)")
    assert [url for url in visit.requested if not url.startswith((site, "data:"))] == []
    assert visit.errors == []
    assert cookies == []
    assert [key for key in kept if not key.startswith("handbook-")] == []
    assert len(visit.requested) > len(paths)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_runs_off_the_side(
    browser: Browser, site: str, varied: list[str], scheme: str
) -> None:
    too_wide = []
    with visiting(browser, site, scheme=scheme) as visit:
        for path in varied:
            page = visit.go(path)
            for width in WIDTHS:
                page.set_viewport_size({"width": width, "height": 844})
                page.evaluate(
                    "for (const item of document.querySelectorAll('details:not(.menu)')) { item.open = true; item.hidden = false; }"
                )
                reach = page.evaluate("document.documentElement.scrollWidth")
                if reach > width:
                    too_wide.append((path, width, reach))
    assert too_wide == []


def test_no_trace_of_upstream_in_any_page(demo: Path) -> None:
    names = re.compile(r"mkdocs|material for|squidfunk|powered by|name=.?generator", re.IGNORECASE)
    assert [file.name for file in demo.rglob("*.html") if names.search(file.read_text())] == []


def test_storage_holds_choices_only_under_our_own_names(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        page.get_by_role("button", name="Harbor Band").click()
        page.get_by_text("Dark", exact=True).click()
        kept = page.evaluate("({...localStorage})")
        session = page.evaluate("Object.keys(sessionStorage)")
        cookies = page.context.cookies()
    assert kept == {"handbook-ensemble": "harbor", "handbook-theme": "dark"}
    assert session == []
    assert cookies == []

"""Concert day on the reader's own device: first screen, filter, ticks, print.

The sizes of paper are those of ISO 216 (A4) and ANSI/ASME Y14.1 (Letter), as Chromium names them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from handbook.pipeline import load_plan
from tests.browser.served import serving
from tests.browser.visits import OpenTab, visiting
from tests.content_folders import write_folder
from tests.plan.test_half_groups import with_groups
from tests.whole_sites import make_site

pytestmark = pytest.mark.browser

SHEET, CREW = "winter-2026/concert/", "winter-2026/concert/crew/"
BANDS = ["lantern", "harbor", "beacon"]


@pytest.fixture
def visit(browser: Browser, site: str) -> Iterator[OpenTab]:
    with visiting(browser, site, now=None) as opened:
        yield opened


def opened(visit: OpenTab, band: str | None, path: str = SHEET) -> Page:
    page = visit.go(path)
    if band is not None:
        page.check(f'[data-band="{band}"]')
    return page


@pytest.mark.parametrize("band", ["", *BANDS])
def test_the_answer_is_on_the_first_screen(visit: OpenTab, band: str) -> None:
    page = opened(visit, band)
    for part in ("call", "place", "pick-up", "attire"):
        box = page.locator(f"#{part} dd").bounding_box()
        assert box is not None
        assert box["y"] < 844 - 48, part  # its first line at least
    for part in ("call", "place", "pick-up"):
        box = page.locator(f"#{part} dd").bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= 844, part


@pytest.mark.parametrize("scripts", [True, False])
def test_the_filter_leaves_one_band(browser: Browser, site: str, scripts: bool) -> None:
    with visiting(browser, site, now=None, scripts=scripts) as visit:
        page = visit.go(SHEET)
        assert page.locator(".day-steps:visible").count() == 3
        page.check('[data-band="harbor"]')
        assert page.locator(".day-steps:visible").count() == 1
        assert page.locator("#day-harbor").is_visible()
        assert not page.locator("#attire").get_by_text("blue tie").is_visible()
        page.check('[data-band="beacon"]')
        assert page.locator("#attire").get_by_text("blue tie").is_visible()


def test_the_band_chosen_on_the_first_page_is_chosen_here(visit: OpenTab) -> None:
    page = visit.go("")
    page.evaluate("localStorage.setItem('handbook-ensemble', 'beacon')")
    visit.go(SHEET)
    assert page.locator('[data-band="beacon"]').is_checked()
    page.check('[data-band="lantern"]')
    assert page.evaluate("localStorage.getItem('handbook-ensemble')") == "lantern"


def test_ticks_are_kept_on_this_device_until_cleared(visit: OpenTab) -> None:
    page = visit.go(SHEET)
    boxes = page.locator("[data-tick]")
    boxes.nth(1).check()
    page.reload()
    assert [boxes.nth(n).is_checked() for n in range(3)] == [False, True, False]
    assert set(page.evaluate("Object.keys(localStorage)")) <= {
        "handbook-ticks-winter-2026",
        "handbook-ensemble",
    }
    visit.go("fall-2026/concert/")
    assert not page.locator("[data-tick]:checked").count()  # another concert, another list
    visit.go(SHEET)
    page.click("[data-tick-clear]")
    page.reload()
    assert not page.locator("[data-tick]:checked").count()


@pytest.mark.parametrize(
    ("path", "band", "sheets"),
    [
        (SHEET, "", 1),
        (SHEET, "lantern", 1),
        ("fall-2026/concert/", "", 1),
        (CREW, None, 5),  # run of show; calls, buses and rooms; stage; loads; care
        ("fall-2026/concert/crew/", None, 5),
    ],
)
def test_print_gives_clean_sheets(visit: OpenTab, path: str, band: str | None, sheets: int) -> None:
    page = opened(visit, band, path)
    margin = dict.fromkeys(("top", "bottom", "left", "right"), "12mm")
    for paper in ("Letter", "A4"):
        pdf = page.pdf(format=paper, margin=margin)  # type: ignore[arg-type]
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) == sheets, paper


def test_who_is_in_a_group_sees_the_day_of_the_band(browser: Browser, tmp_path: Path) -> None:
    """Half of a class plays the concert with all: its choice shows the band's day, and stays."""
    content = write_folder(tmp_path / "content", with_groups())
    plan = load_plan(content).plan
    assert plan is not None
    kept = "localStorage.getItem('handbook-ensemble')"
    with serving(make_site(plan, content, tmp_path / "site").target) as address:
        page = browser.new_page()
        page.goto(address)
        page.click('[data-choose="lantern-brass"]')
        page.goto(f"{address}winter/concert/")
        assert page.locator('[data-band="lantern"]').is_checked()
        for band, stays in (("", ""), ("harbor", "harbor"), ("lantern", "lantern")):
            page.check(f'[data-band="{band}"]')
            assert page.evaluate(kept) == stays
        page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern-winds')")
        page.check('[data-band=""]')
        page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern-winds')")
        page.check('[data-band="lantern"]')
        assert page.evaluate(kept) == "lantern-winds"
        page.close()

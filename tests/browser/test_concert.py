"""Concert day on the reader's own device: first screen, filter, ticks, print.

The sizes of paper are those of ISO 216 (A4) and ANSI/ASME Y14.1 (Letter), as Chromium names them.
"""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page

SHEET, CREW = "winter-2026/concert/", "winter-2026/concert/crew/"
BANDS = ["lantern", "harbor", "beacon"]


def opened(browser: Browser, site: str, path: str, *, scripts: bool = True) -> Page:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, java_script_enabled=scripts
    )
    page = context.new_page()
    page.goto(site + path)
    return page


@pytest.mark.browser
@pytest.mark.parametrize("band", ["", *BANDS])
def test_the_answer_is_on_the_first_screen(browser: Browser, site: str, band: str) -> None:
    page = opened(browser, site, SHEET)
    page.check(f'[data-band="{band}"]')
    for part in ("call", "place", "pick-up", "attire"):
        box = page.locator(f"#{part} dd").bounding_box()
        assert box is not None
        assert box["y"] < 844 - 48, part  # its first line at least
    for part in ("call", "place", "pick-up"):
        box = page.locator(f"#{part} dd").bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= 844, part
    page.context.close()


@pytest.mark.browser
@pytest.mark.parametrize("scripts", [True, False])
def test_the_filter_leaves_one_band(browser: Browser, site: str, scripts: bool) -> None:
    page = opened(browser, site, SHEET, scripts=scripts)
    assert page.locator(".day-steps:visible").count() == 3
    page.check('[data-band="harbor"]')
    assert page.locator(".day-steps:visible").count() == 1
    assert page.locator("#day-harbor").is_visible()
    assert not page.locator("#attire").get_by_text("blue tie").is_visible()
    page.check('[data-band="beacon"]')
    assert page.locator("#attire").get_by_text("blue tie").is_visible()
    page.context.close()


@pytest.mark.browser
def test_the_band_chosen_on_the_first_page_is_chosen_here(browser: Browser, site: str) -> None:
    page = opened(browser, site, "")
    page.evaluate("localStorage.setItem('handbook-ensemble', 'beacon')")
    page.goto(site + SHEET)
    assert page.locator('[data-band="beacon"]').is_checked()
    page.check('[data-band="lantern"]')
    assert page.evaluate("localStorage.getItem('handbook-ensemble')") == "lantern"
    page.context.close()


@pytest.mark.browser
def test_ticks_are_kept_on_this_device_until_cleared(browser: Browser, site: str) -> None:
    page = opened(browser, site, SHEET)
    boxes = page.locator("[data-tick]")
    boxes.nth(1).check()
    page.reload()
    assert [boxes.nth(n).is_checked() for n in range(3)] == [False, True, False]
    assert set(page.evaluate("Object.keys(localStorage)")) <= {
        "handbook-ticks-winter-2026",
        "handbook-ensemble",
    }
    page.goto(site + "fall-2026/concert/")
    assert not page.locator("[data-tick]:checked").count()  # another concert, another list
    page.goto(site + SHEET)
    page.click("[data-tick-clear]")
    page.reload()
    assert not page.locator("[data-tick]:checked").count()
    page.context.close()


@pytest.mark.browser
@pytest.mark.parametrize("paper", ["Letter", "A4"])
@pytest.mark.parametrize(
    ("path", "band", "sheets"),
    [
        (SHEET, "", 1),
        (SHEET, "lantern", 1),
        ("fall-2026/concert/", "", 1),
        (CREW, None, 4),  # run of show; calls, buses and rooms; stage; loads and care
        ("fall-2026/concert/crew/", None, 4),
    ],
)
def test_print_gives_clean_sheets(
    browser: Browser, site: str, path: str, band: str | None, sheets: int, paper: str
) -> None:
    page = opened(browser, site, path)
    if band is not None:
        page.check(f'[data-band="{band}"]')
    margin = dict.fromkeys(("top", "bottom", "left", "right"), "12mm")
    pdf = page.pdf(format=paper, margin=margin)  # type: ignore[arg-type]
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) == sheets
    page.context.close()

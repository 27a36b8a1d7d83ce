"""Each kind of page prints in black on white, without what only works on a screen."""

from __future__ import annotations

import re
from datetime import datetime
from io import BytesIO
from itertools import product

import pytest
from playwright.sync_api import Browser, expect
from pypdf import PdfReader

from tests.browser.visits import DESK, SCHEMES, visiting

pytestmark = pytest.mark.browser

_SHEET = re.compile(rb"/Type\s*/Page\b")
# How many sheets a page of the demo may take at most; a list of every rehearsal takes more.
SHEETS = {
    "cycle": 5,
    "ensemble": 3,
    "piece": 3,
    "part": 1,
    "words": 7,
    "crew": 7,
    "fundamentals": 6,
}
ELSE = 5
# Of a filter the choice alone is printed, since it tells whom the sheet is for.
SCREEN_ONLY = ".tools, .wide, .menu, .theme, .chooser, .filter legend, .filter input, .filter label:not(:has(:checked)), .skip, .search, .click, .drone, .player, .letters, [data-show-all], [data-show-past]"
CHOSEN = ("", "dark", "light")
# As the page's own script does when a reader chooses.
CHOOSE = "theme => { if (theme) document.documentElement.dataset.theme = theme; else delete document.documentElement.dataset.theme; }"
# Text that is not dark or does not stand on light, and last the ground of the whole page.
COLOURS = """
() => [...document.querySelectorAll("body, main, main *, .masthead *, .foot *")]
  .filter((item) => item.textContent.trim() && item.checkVisibility() && !item.closest("svg"))
  .map((item) => {
    const style = getComputedStyle(item);
    const light = (colour) => { const [r, g, b, a] = colour.match(/[\\d.]+/g).map(Number); return a === 0 ? 255 : (r * 299 + g * 587 + b * 114) / 1000; };
    return [item.tagName + "." + item.className, light(style.color), light(style.backgroundColor)];
  })
  .filter(([, ink, ground]) => ink > 60 || ground < 225)
  .concat([getComputedStyle(document.documentElement).backgroundColor])
"""


def test_every_kind_of_page_takes_few_sheets(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    """Of either paper; dark changes colours alone (see test_contrast), so no sheet more."""
    with visiting(browser, site, width=DESK) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            for paper in ("Letter", "A4"):
                sheets = len(_SHEET.findall(page.pdf(format=paper)))
                assert 1 <= sheets <= SHEETS.get(kind, ELSE), (kind, paper, sheets)


def test_black_on_white_whatever_the_screen(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    """Whatever colours the device has, and whatever the reader has chosen."""
    with visiting(browser, site, width=DESK) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            for scheme, chosen in product(SCHEMES, CHOSEN):
                page.evaluate(CHOOSE, chosen)
                page.emulate_media(media="print", color_scheme=scheme)
                assert page.evaluate(COLOURS) == ["rgb(255, 255, 255)"], (kind, scheme, chosen)
                assert page.locator(SCREEN_ONLY).filter(visible=True).count() == 0, kind
                for choice in page.locator(".filter label").filter(visible=True).all():
                    expect(choice).to_have_css("border-top-width", "0px")
                    expect(choice).to_have_css("box-shadow", "none")
            page.emulate_media(media="screen", color_scheme="light")


def test_a_part_is_one_sheet_with_the_week_its_evenings_keys_and_notes(
    browser: Browser, site: str
) -> None:
    """Of the parts with most on them, in a week with an evening every day."""
    with visiting(browser, site, now=datetime.fromisoformat("2026-11-17T18:00-06:00")) as visit:
        for part in ("trumpet", "timpani", "xylophone"):
            page = visit.go(f"winter-2026/beacon/part/{part}/")
            page.locator("table.on-paper td").first.wait_for(state="attached")
            for paper in ("Letter", "A4"):
                assert len(_SHEET.findall(page.pdf(format=paper))) == 1, (part, paper)
        page.evaluate("window.dispatchEvent(new Event('beforeprint'))")
        page.emulate_media(media="print")
        text = " ".join(page.locator("main").inner_text().split())
        for told in ("Night Train to Marrow Point", "Fundamentals", "Mon 16", "4 flats"):
            assert told in text, told
        assert text.count("20 each evening") == 1
        evenings = page.locator("table.on-paper")
        assert evenings.locator("thead .is-past").all_inner_texts() == ["Mon\n16"]
        assert evenings.locator("thead .is-tonight").all_inner_texts() == ["Tue\n17"]
        listed = page.locator(".practice [data-tick] b").filter(visible=True).all_inner_texts()
        assert set(evenings.locator("tbody th").all_inner_texts()) <= set(listed)
        shown = page.locator("main :is(button, input, audio, .fold:not(.exercises))")
        assert shown.filter(visible=True).count() == 0


def test_each_sheet_says_whose_it_is_whom_to_ask_and_when_it_was_printed(
    browser: Browser, site: str
) -> None:
    """Whoever finds the second sheet alone knows what it belongs to."""
    with visiting(browser, site, width=DESK) as visit:
        sheets = PdfReader(BytesIO(visit.go("words/").pdf(format="Letter"))).pages
    told = [" ".join(sheet.extract_text().split()) for sheet in sheets]
    for at, text in enumerate(told, 1):
        assert "Printed Nov 25, 2026" in text
        assert "Band office · 555-0100 · band-office@quillhaven.example" in text
        assert f"{at} of {len(told)}" in text
        assert text.count("Quillhaven Middle School Bands") == 1

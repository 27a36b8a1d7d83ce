"""Each kind of page prints in black on white, without what only works on a screen."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser

from tests.browser.visits import DESK, visiting

pytestmark = pytest.mark.browser

_SHEET = re.compile(rb"/Type\s*/Page\b")
# How many sheets a page of the demo may take at most; a list of every rehearsal takes more.
SHEETS = {"ensemble": 9, "piece": 9, "part": 12, "words": 7}
ELSE = 5
SCREEN_ONLY = ".tools, .wide, .menu, .theme, .chooser, .filter, .skip, .search, .click-row, .letters, [data-show-all], [data-show-past]"
COLOURS = """
() => [...document.querySelectorAll("body, main, main *, .masthead *, .foot *")]
  .filter((item) => item.checkVisibility() && item.innerText && !item.closest("svg"))
  .map((item) => {
    const style = getComputedStyle(item);
    const light = (colour) => { const [r, g, b, a] = colour.match(/[\\d.]+/g).map(Number); return a === 0 ? 255 : (r * 299 + g * 587 + b * 114) / 1000; };
    return [item.tagName + "." + item.className, light(style.color), light(style.backgroundColor)];
  })
  .filter(([, ink, ground]) => ink > 60 || ground < 225)
"""


@pytest.mark.parametrize("paper", ["Letter", "A4"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_kind_of_page(
    browser: Browser, site: str, kinds: dict[str, str], scheme: str, paper: str
) -> None:
    with visiting(browser, site, width=DESK, scheme=scheme) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            sheets = len(_SHEET.findall(page.pdf(format=paper)))
            assert 1 <= sheets <= SHEETS.get(kind, ELSE), (kind, sheets)


@pytest.mark.parametrize("chosen", ["", "dark", "light"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_black_on_white_whatever_the_screen(
    browser: Browser, site: str, kinds: dict[str, str], scheme: str, chosen: str
) -> None:
    with visiting(browser, site, width=DESK, scheme=scheme) as visit:
        visit.go("")
        visit.page.evaluate("theme => localStorage.setItem('handbook-theme', theme)", chosen)
        for kind, path in kinds.items():
            page = visit.go(path)
            page.emulate_media(media="print", color_scheme="dark" if scheme == "dark" else "light")
            assert page.evaluate(COLOURS) == [], kind
            assert (
                page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
                == "rgb(255, 255, 255)"
            ), kind
            assert page.locator(SCREEN_ONLY).filter(visible=True).count() == 0, kind
            page.emulate_media(media="screen")

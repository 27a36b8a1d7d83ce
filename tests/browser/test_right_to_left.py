"""Pages in Arabic: they turn round as a whole, and what is music or a number does not."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from shutil import copytree

import pytest
from playwright.sync_api import Browser

from handbook.pipeline import load_plan
from tests.browser.served import serving
from tests.browser.visits import visiting
from tests.whole_sites import make_site

ONE_BAND = Path(__file__).resolve().parents[1] / "sites" / "one-band" / "content"
PAGES = ("", "calendar/", "words/", "spring/", "spring/millrace/", "spring/concert/", "families/")

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def arabic(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a site whose second language is Arabic."""
    folder = tmp_path_factory.mktemp("arabic")
    content = Path(copytree(ONE_BAND, folder / "content"))
    program = content / "program.yaml"
    program.write_text(program.read_text("utf-8").replace("[en, es]", "[en, ar]"), "utf-8")
    plan = load_plan(content).plan
    assert plan is not None
    with serving(make_site(plan, content, folder / "site").target) as address:
        yield address


@pytest.mark.parametrize("width", [390, 1280])
def test_no_page_runs_off_a_side(browser: Browser, arabic: str, width: int) -> None:
    with visiting(browser, arabic, width=width, height=800) as visit:
        for path in PAGES:
            page = visit.go(f"ar/{path}")
            assert page.evaluate("document.documentElement.dir") == "rtl"
            assert page.evaluate("document.documentElement.scrollWidth") == width, path


MONTHS = """
(root) => [...document.querySelectorAll(".strip text")].filter((t) => t.getClientRects().length)
  .filter((t) => !t.closest(".band-words") && !t.classList.contains("row-name"))
  .map((t) => t.getBoundingClientRect().x)
"""
MARKS = """
() => [...document.querySelectorAll(".mark")].filter((m) => m.getClientRects().length)
  .map((m) => [getComputedStyle(m).direction, m.firstElementChild && m.querySelector("b") &&
    m.firstElementChild.getBoundingClientRect().x <= m.querySelector("b").getBoundingClientRect().x])
"""


def test_time_runs_as_the_language_is_read(browser: Browser, arabic: str) -> None:
    with visiting(browser, arabic, width=1280, height=800) as visit:
        english = visit.go("spring/").evaluate(MONTHS)
        turned = visit.go("ar/spring/").evaluate(MONTHS)
    assert len(english) == len(turned) > 1
    assert english == sorted(english)
    assert turned == sorted(turned, reverse=True)


def test_a_tempo_is_written_as_in_the_music(browser: Browser, arabic: str) -> None:
    with visiting(browser, arabic, width=1280, height=800) as visit:
        marks = visit.go("ar/spring/millrace/part/flute/").evaluate(MARKS)
    assert marks
    assert {direction for direction, _ in marks} == {"ltr"}
    assert all(note_first for _, note_first in marks)


def test_the_typefaces_are_loaded(browser: Browser, arabic: str) -> None:
    with visiting(browser, arabic, width=390, height=800) as visit:
        page = visit.go("ar/")
        loaded = page.evaluate(
            "document.fonts.load('20px \"Handbook More\"', '\u0645').then((faces) => faces.length)"
        )
    assert loaded == 1


FOUND = """
(list) => {
  const place = (holder, words) => {
    const walker = document.createTreeWalker(holder, NodeFilter.SHOW_TEXT);
    const text = walker.nextNode(), range = document.createRange(), at = text.data.lastIndexOf(words);
    range.setStart(text, at); range.setEnd(text, at + words.length);
    return range.getBoundingClientRect().x;
  };
  const line = document.createElement("div");
  line.style.cssText = "white-space:nowrap;unicode-bidi:inherit";
  line.textContent = sided("\u0645 7:00 Millrace \u00b7 7:02 \u0645 \u00b7 Play it. Twice.");
  list.append(line);
  return ["7:00", "Millrace", "7:02", "Play", "Twice", "."].map((words) => place(line, words));
}
"""


def test_what_search_finds_runs_as_the_page_does(browser: Browser, arabic: str) -> None:
    """Each part keeps its place from right to left, and an English one its own order (UAX #9)."""
    with visiting(browser, arabic, width=1280, height=800) as visit:
        page = visit.go("ar/")
        page.locator("[data-open-search]:visible").first.click()
        hour, title, next_hour, first, second, stop = page.evaluate(
            f"({FOUND})(document.querySelector('[data-search-results]'))"
        )
    assert hour > title > next_hour > stop > second > first

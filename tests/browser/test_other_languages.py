"""Pages in other languages: whole for who cannot see, worked by keyboard, with room for their words.

Arabic, which runs from right to left, is looked at most; trees are made alike, so that each
kind of page is opened once.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings
from tests.browser.conftest import FLAGS
from tests.browser.fits import misfits
from tests.browser.test_every_page import UNFOLD
from tests.browser.visits import DESK, PHONE, OpenTab, visiting

pytestmark = pytest.mark.browser

LANGUAGES = ("es", "vi", "ar")
NARROW, SMALL = 320, 360
NORMAL_LETTERS = 17  # pixels: the site's, where the browser's own are 16
LETTERS = "() => parseFloat(getComputedStyle(document.documentElement).fontSize)"
PART = "winter-2026/lantern/part/clarinet/"
EVENING = datetime(2026, 11, 25, 18, tzinfo=ZoneInfo("America/Chicago"))


@pytest.fixture(scope="module")
def pages(kinds: dict[str, str]) -> list[str]:
    """One page of each kind, by its address below the tree of any language."""
    trees = tuple(f"{language}/" for language in LANGUAGES)
    found = dict.fromkeys(
        path.partition("/")[2] if path.startswith(trees) else path
        for kind, path in kinds.items()
        if kind != "404"
    )
    assert len(found) > 15
    return list(found)


def choose(page: Page) -> None:
    page.evaluate("choice.keep('lantern', 'clarinet')")
    expect(page.locator("[data-chosen-name]")).to_be_visible()


def play(page: Page) -> None:
    page.locator(".tonight .play").first.click()
    page.locator(".player [data-options]").click()


def ask(page: Page) -> None:
    page.locator("[data-open-search]").click()
    page.get_by_role("searchbox").fill("crescendo")
    page.locator("[data-search-results] a").first.wait_for()


# ---- For who cannot see ----------------------------------------------------------------


@pytest.mark.parametrize(("width", "scheme"), [(PHONE, "light"), (DESK, "dark")])
def test_axe_finds_nothing_in_arabic(
    browser: Browser, site: str, pages: list[str], width: int, scheme: str
) -> None:
    with visiting(browser, f"{site}ar/", width=width, scheme=scheme) as visit:
        found = {path: findings(visit.go(path), WCAG_AND_BEST_PRACTICE) for path in pages}
    assert {path: faults for path, faults in found.items() if faults} == {}
    assert visit.errors == []


@pytest.mark.parametrize("language", ["vi", "ar"])
def test_axe_finds_nothing_in_what_opens(browser: Browser, site: str, language: str) -> None:
    found = {}
    with visiting(browser, f"{site}{language}/", now=EVENING) as visit:
        for path, open_it in (
            ("winter-2026/concert/", None),
            ("languages/", None),
            (PART, play),
            ("", choose),
            ("past/", ask),
        ):
            page = visit.go(path)
            if open_it:
                open_it(page)
            found[path] = findings(page, WCAG_AND_BEST_PRACTICE)
    assert {path: faults for path, faults in found.items() if faults} == {}
    assert visit.errors == []


# A run of four or more words in Latin letters.
LATIN = r"/(?:[\p{Script=Latin}’'-]{1,}[\s,.;:]+){3,}[\p{Script=Latin}’'-]+/u"
# Titles of publications are left out, and so are labels for the ear, which hold names.
TEXTS = """
() => {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  while (walker.nextNode()) {
    const own = walker.currentNode.parentElement;
    if (own.closest("script, style, .vh, .cautions .small")) continue;
    const text = walker.currentNode.data.trim().replace(/\\s+/g, " ");
    if (!LATIN.test(text) || /\\p{Script=Arabic}/u.test(text)) continue; // a name in a sentence
    const { lang, dir } = own.closest("[lang]").matches("html") ? { lang: "", dir: "" } : own.closest("[lang]");
    found.push([text, lang, dir, Boolean(own.closest("[translate=no]"))]);
  }
  return found;
}
""".replace("LATIN", LATIN)


def loose(page: Page, known: set[str] | None = None) -> list[str]:
    """The runs of English words that nothing tells the language of."""
    return [
        text
        for text, language, direction, is_name in page.evaluate(TEXTS)
        if not is_name
        and (known is None or text in known)
        and not (language == "en" and (direction == "ltr" or known is not None))
    ]


def test_english_words_in_arabic_pages_are_told_as_english(
    browser: Browser, site: str, pages: list[str]
) -> None:
    with visiting(browser, f"{site}ar/") as visit:
        found = {path: loose(visit.go(path)) for path in pages if "/part/" not in path}
    assert {path: texts for path, texts in found.items() if texts} == {}


def test_english_words_in_vietnamese_pages_are_told_as_english(
    browser: Browser, site: str, pages: list[str]
) -> None:
    """Both are in Latin letters: English is what stands so in the English page."""
    found = {}
    with visiting(browser, site) as visit:
        for path in (path for path in pages if "/part/" not in path):
            known = {text for text, *_ in visit.go(path).evaluate(TEXTS)}
            found[path] = loose(visit.go(f"vi/{path}"), known)
    assert {path: texts for path, texts in found.items() if texts} == {}


# ---- By keyboard -----------------------------------------------------------------------


@pytest.fixture
def arabic(browser: Browser, site: str) -> Iterator[OpenTab]:
    with visiting(browser, f"{site}ar/", now=EVENING) as visit:
        yield visit


# Where the focus is: its line from above, then how far from the side where reading begins.
PLACE = "() => { const box = document.activeElement.getClientRects()[0]; return [box.top, box.bottom, innerWidth - box.right]; }"


def focused(page: Page, selector: str, *, within: int = 20) -> None:
    for _ in range(within):
        page.keyboard.press("Tab")
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"{selector} was not reached in {within} steps")


def test_the_head_of_a_page_is_worked_in_arabic(arabic: OpenTab) -> None:
    page = arabic.go("words/")
    page.keyboard.press("Tab")
    skip = page.locator(".skip")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    expect(page.locator("main")).to_be_focused()
    page = arabic.go("words/")
    focused(page, "details.menu > summary")
    page.keyboard.press("Enter")
    focused(page, ".menu a[href$='calendar/']")
    page.keyboard.press("Enter")
    page.wait_for_url(f"{arabic.base}calendar/")
    focused(page, ".languages a[hreflang=vi]")
    page.keyboard.press("Enter")
    page.wait_for_url("**/vi/calendar/")
    assert arabic.errors == []


@pytest.mark.parametrize("path", ["", "winter-2026/concert/", PART])
def test_the_focus_goes_as_arabic_is_read(arabic: OpenTab, path: str) -> None:
    """Down the page, and in a line from right to left."""
    page = arabic.go(path)
    page.locator("main").focus()
    places = []
    for _ in range(14):
        page.keyboard.press("Tab")
        if not page.evaluate("!!document.activeElement.closest('main')"):
            break
        scrolled = page.evaluate("scrollY")
        top, bottom, start = page.evaluate(PLACE)
        places.append((top + scrolled, bottom + scrolled, start))
    assert len(places) > 5
    back = [
        (before, after)
        for before, after in pairwise(places)
        if after[1] <= before[0]  # above
        or (min(before[1], after[1]) - max(before[0], after[0]) > 8 and after[2] < before[2] - 1)
    ]
    assert back == []


def test_band_part_and_player_are_worked_in_arabic(arabic: OpenTab) -> None:
    page = arabic.go("")
    page.locator("[data-choose=lantern]").focus()
    page.keyboard.press("Space")
    page.locator("[data-parts] button").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator("[data-chosen-name]")).to_contain_text("Lantern Band")
    page = arabic.go(PART)
    page.locator(".tonight .play").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".player")).to_be_visible()
    page.locator(".player [data-play]").focus()
    page.keyboard.press("Space")
    page.locator(".player [data-options]").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".player [data-clean]").first).to_be_visible()
    assert arabic.errors == []


def test_arrows_walk_the_answers_in_arabic(arabic: OpenTab) -> None:
    page = arabic.go("past/")
    focused(page, "[data-open-search]")
    page.keyboard.press("Enter")
    expect(page.get_by_role("searchbox")).to_be_focused()
    page.keyboard.type("التقويم")
    expect(page.locator("[data-search]")).to_have_attribute("data-answered", "التقويم")
    links = page.locator("[data-search-results] a")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(links.nth(1)).to_be_focused()
    page.keyboard.press("ArrowUp")
    expect(links.first).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_url(f"{arabic.base}calendar/")


# ---- With room for its words -----------------------------------------------------------


@pytest.mark.parametrize("language", LANGUAGES)
def test_words_fit_on_a_phone(browser: Browser, site: str, pages: list[str], language: str) -> None:
    """Folded and unfolded, at the width of a phone and of a small one (WCAG 2.2 SC 1.4.10)."""
    found: dict[str, list[str]] = {}
    with visiting(browser, f"{site}{language}/") as visit:
        for path in pages:
            page = visit.go(path)
            faults = misfits(page)
            page.evaluate(UNFOLD)
            for width in (PHONE, NARROW):
                page.set_viewport_size({"width": width, "height": 844})
                faults += misfits(page)
            page.set_viewport_size({"width": PHONE, "height": 844})
            if faults:
                found[path] = faults
    assert found == {}


def test_words_fit_in_letters_of_twice_the_size(
    browser: Browser, chromium: str, site: str, pages: list[str]
) -> None:
    """As who sets large letters in the browser has them (WCAG 2.2 SC 1.4.4), on a phone."""
    found: dict[str, list[str]] = {}
    large = browser.browser_type.launch(
        executable_path=chromium, args=[*FLAGS, "--blink-settings=defaultFontSize=32"]
    )
    try:
        for language in LANGUAGES:
            with visiting(large, f"{site}{language}/", width=SMALL) as visit:
                for path in pages:
                    page = visit.go(path)
                    assert page.evaluate(LETTERS) == 2 * NORMAL_LETTERS
                    page.evaluate(UNFOLD)
                    if faults := misfits(page):
                        found[f"{language}/{path}"] = faults
    finally:
        large.close()
    assert found == {}


def test_what_does_not_fit_is_seen(browser: Browser, site: str) -> None:
    """Else finding nothing would prove nothing."""
    with visiting(browser, f"{site}ar/") as visit:
        page = visit.go("past/")
        assert misfits(page) == []
        page.evaluate("document.querySelector('.foot label').style.inlineSize = '2rem'")
        page.evaluate("document.querySelector('main h1').style.marginBlockEnd = '-3rem'")
        found = misfits(page)
        assert any("wider than label" in one for one in found), found
        assert any("lies over" in one for one in found), found

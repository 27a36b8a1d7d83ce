"""Search answers what musicians and families type, by keyboard, and helps where it cannot."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.links import leads_nowhere
from tests.browser.queries import CONCERT, QUERIES, SLEDS
from tests.browser.visits import OpenTab, visiting

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def asking(browser: Browser, site: str) -> Iterator[OpenTab]:
    """A tab with search open; closed to everything but the site itself."""
    with visiting(browser, site) as visit:
        visit.go("past/").locator("[data-open-search]").click()  # a small page, quickly drawn
        yield visit


def answers(page: Page, typed: str) -> list[str]:
    """Type into the box and give the addresses that search offers, below the site's."""
    page.get_by_role("searchbox").fill(typed)
    expect(page.locator("[data-search]")).to_have_attribute("data-answered", typed)
    links = page.locator("[data-search-results] a")
    return [str(url) for url in links.evaluate_all("links => links.map((link) => link.href)")]


@pytest.mark.parametrize("query", QUERIES, ids=lambda query: query.typed)
def test_the_answer_is_among_the_first_three(asking: OpenTab, query: object) -> None:
    assert isinstance(query, type(QUERIES[0]))
    found = [url.removeprefix(asking.base) for url in answers(asking.page, query.typed)]
    assert set(found[:3]) & set(query.answers), found[:6]


def answer(page: Page, typed: str) -> list[str]:
    answers(page, typed)
    return page.locator("[data-search-results] .answer b").all_inner_texts()


ANSWERED = {
    "pick up": "Pick-up: 9:00 pm, Bus loop at school",
    "call time": "Be at the bus: 5:20 pm, Bus loop at school (Lantern Band, Harbor Band) · 5:40 pm",
    "what to wear": "Wear: White shirt with a collar, tucked in · Black pants",
    "next rehearsal harbor": "Harbor Band, Mon, Nov 30: 10:02–10:49 am, Band Room 112",
    "vacaciones": "No school: Thanksgiving break: Wed, Nov 25 – Fri, Nov 27",
    "fermata": "A dot under a curved line.",
    "parking": "Free after 5 pm in the library lot",
    "bathroom": "Step-free entry",
    "phone number": "Band office · 555-0100",
}
"""What stands above the list, as the demo's content has it."""


@pytest.mark.parametrize("typed", ANSWERED)
def test_a_question_with_one_answer_has_it_above_the_list(asking: OpenTab, typed: str) -> None:
    found = answer(asking.page, typed)
    assert len(found) == 1
    assert found[0].startswith(ANSWERED[typed])


def test_no_answer_is_given_to_what_is_no_question(asking: OpenTab) -> None:
    """Nor to what only half fits: no definition, no attire of a concert."""
    for typed in ("B flat", "percussion", "snowplow", "photos", "xylozzz", "concert photos"):
        assert answer(asking.page, typed) == [], typed


def test_each_band_has_its_own_answer_on_the_same_day(asking: OpenTab) -> None:
    found = answer(asking.page, "dress rehearsal")
    assert len(found) > 1
    assert all("Dec 16: Dress rehearsal" in one for one in found)


@pytest.mark.parametrize(
    ("day", "later"),
    [
        ("2026-08-01", ["winter/", "spring/"]),
        ("2026-10-01", ["winter/", "spring/"]),
        ("2026-11-20", ["spring/"]),
        ("2027-05-01", []),
    ],
)
def test_cycles_that_are_neither_on_nor_next_are_later(
    asking: OpenTab, day: str, later: list[str]
) -> None:
    """Fall is on in October, over in November, when winter has not begun; then comes spring."""
    cycles = [
        {"id": "fall", "first": "2026-09-01", "last": "2026-10-30"},
        {"id": "winter", "first": "2026-12-01", "last": "2027-01-30"},
        {"id": "spring", "first": "2027-03-01", "last": "2027-05-30"},
    ]
    found = asking.page.evaluate(
        "([cycles, day]) => { const before = masthead.dataset.cycles; masthead.dataset.cycles = JSON.stringify(cycles);"
        " const found = laterCycles(day); masthead.dataset.cycles = before; return found; }",
        [cycles, day],
    )
    assert found == later


def test_short_words_are_marked_only_where_they_stand_alone(asking: OpenTab) -> None:
    answers(asking.page, "pick up")
    marks = asking.page.locator("[data-search-results] mark").all_inner_texts()
    assert any("Pick" in mark for mark in marks)
    assert not any("Warm" in mark for mark in marks)


def test_a_key_opens_search_but_not_where_one_writes(browser: Browser, site: str) -> None:
    """WCAG 2.2, 2.1.4: a key alone can be switched off, which the device remembers."""
    with visiting(browser, site) as visit:
        page = visit.go("past/")
        box = page.get_by_role("searchbox")
        page.keyboard.press("/")
        expect(box).to_be_focused()
        page.keyboard.type("6/8")
        expect(box).to_have_value("6/8")
        page.locator(".search-key input").uncheck()
        page.keyboard.press("Escape")
        page.keyboard.press("/")
        expect(box).to_be_hidden()
        page.reload()
        page.keyboard.press("/")
        expect(box).to_be_hidden()


def test_every_expected_answer_is_an_address_of_the_site(demo: Path) -> None:
    """A table of queries that names pages or places that do not exist would prove little."""
    wanted = sorted({answer for query in QUERIES for answer in query.answers})
    assert [address for address in wanted if leads_nowhere(demo, "", address)] == []


def test_every_address_in_the_index_exists(asking: OpenTab, demo: Path) -> None:
    answers(asking.page, "crescendo")
    rows = asking.page.evaluate("handbookSearchRows.map((row) => row.u)")
    assert len(rows) > 400
    assert [address for address in rows if leads_nowhere(demo, "", address)] == []


def test_nothing_found_says_so_and_leads_on(asking: OpenTab) -> None:
    page = asking.page
    assert answers(page, "xylozzz qqqq") == []
    expect(page.locator("[data-search-state]")).to_have_text("Nothing found.")
    help_ = page.locator("[data-search-help]")
    expect(help_).to_contain_text("Try one word")
    expect(help_.get_by_role("link", name="Calendar")).to_be_visible()
    answers(page, "calendar")
    expect(help_).to_be_hidden()


def test_by_keyboard_alone(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("words/")
        for _ in range(10):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.matches('[data-open-search]')"):
                break
        page.keyboard.press("Enter")
        expect(page.get_by_role("searchbox")).to_be_focused()
        page.keyboard.type("sleds m. 43")
        expect(page.locator("[data-search]")).to_have_attribute("data-answered", "sleds m. 43")
        page.keyboard.press("ArrowDown")
        expect(page.locator("[data-search-results] a").first).to_be_focused()
        page.keyboard.press("Enter")
        page.wait_for_url(f"{site}{SLEDS}#hot-chocolate")
        expect(page.locator("#hot-chocolate")).to_be_in_viewport()
        expect(page.locator("[data-search]")).to_be_hidden()


def test_arrows_walk_the_answers_and_escape_gives_the_page_back(
    browser: Browser, site: str
) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        opener = page.locator("[data-open-search]")
        opener.focus()
        page.keyboard.press("Enter")
        answers(page, "crescendo")
        links = page.locator("[data-search-results] a")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        expect(links.nth(1)).to_be_focused()
        page.keyboard.press("ArrowUp")
        page.keyboard.press("ArrowUp")
        expect(page.get_by_role("searchbox")).to_be_focused()
        page.keyboard.press("Escape")
        if page.locator("[data-search]").is_visible():  # the first one empties the box
            page.keyboard.press("Escape")
        expect(page.locator("[data-search]")).to_be_hidden()
        expect(opener).to_be_focused()


def test_an_answer_on_this_very_page_is_shown_though_folded(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("winter-2026/harbor/")
        page.locator("[data-open-search]").click()
        answers(page, "harbor dec 14")
        page.keyboard.press("Enter")
        page.wait_for_url("**/winter-2026/harbor/#2026-12-14")
        expect(page.locator('[id="2026-12-14"] .agenda')).to_be_visible()
        expect(page.locator('[id="2026-12-14"] summary')).to_be_in_viewport()


def test_what_is_over_stands_behind_what_is_to_come(asking: OpenTab) -> None:
    found = [url.removeprefix(asking.base) for url in answers(asking.page, "concert")]
    over = [place for place, url in enumerate(found) if url.startswith("fall-2026/")]
    assert found.index(CONCERT) < min(over, default=len(found))
    named = [url.removeprefix(asking.base) for url in answers(asking.page, "fall concert")]
    assert "fall-2026/concert/" in named[:3], "but who names it finds it"


def test_the_index_is_asked_for_only_when_search_is_opened(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        page.wait_for_timeout(200)
        assert not [url for url in visit.requested if "search/index" in url]
        page.locator("[data-open-search]").click()
        answers(page, "concert")
        assert [url for url in visit.requested if "search/index" in url]

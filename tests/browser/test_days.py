"""Today, this week and the days left, by the reader's clock in the program's own time zone.

Expected weeks and days are counted on the calendar of 2026 from the demo's own dates: the
fall cycle runs from Monday, August 31 to Thursday, October 22, the winter cycle from Monday,
October 26 to Thursday, December 17, and each ends with its concert.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.visits import OpenTab, visiting

pytestmark = pytest.mark.browser

HERE = ZoneInfo("America/Chicago")


def at(month: int, day: int, hour: int = 9, minute: int = 0, year: int = 2026) -> datetime:
    return datetime(year, month, day, hour, minute, tzinfo=HERE)


@pytest.fixture(scope="module")
def phone(browser: Browser, site: str) -> Iterator[OpenTab]:
    """A tab that is kept open; each test sets its own day."""
    with visiting(browser, site) as visit:
        yield visit


def open_at(visit: OpenTab, now: datetime, path: str) -> Page:
    visit.page.clock.set_fixed_time(now)
    return visit.go(path)


# One moment, seen on devices set to other places, where it is another day or not.
ELSEWHERE = ("Pacific/Kiritimati", "Europe/Madrid", "America/Chicago", "Pacific/Honolulu")


@pytest.fixture(scope="module", params=ELSEWHERE)
def abroad(browser: Browser, site: str, request: pytest.FixtureRequest) -> Iterator[OpenTab]:
    with visiting(browser, site, zone=request.param) as visit:
        yield visit


@pytest.mark.parametrize(
    ("now", "days"),
    [
        (at(12, 16, 23, 30), "tomorrow"),
        (at(12, 17, 0, 30), "today"),
        (at(12, 17, 20, 30), "today"),
        (at(12, 17, 23, 30), "over"),  # after the hour of pick-up in the demo's concert.yaml
    ],
)
def test_the_programs_day_counts_wherever_the_reader_is(
    abroad: OpenTab, now: datetime, days: str
) -> None:
    page = open_at(abroad, now, "winter-2026/")
    expect(page.locator(".title-page :is(p, b):visible", has_text=days).first).to_be_visible()


@pytest.mark.parametrize("now", [at(12, 18, 0, 1), at(1, 5, year=2027), at(6, 1, year=2028)])
def test_after_the_last_cycle(phone: OpenTab, now: datetime) -> None:
    page = open_at(phone, now, "winter-2026/lantern/")
    expect(page.get_by_text("This cycle is over.")).to_be_visible()
    page.get_by_role("button", name="Show every week").click()
    expect(page.locator("details.week:visible")).to_have_count(8)
    page = open_at(phone, now, "calendar/")
    days = page.locator(".event:visible").evaluate_all("rows => rows.map((row) => row.dataset.day)")
    assert all(day >= now.date().isoformat() for day in days)
    assert bool(days) == (now.year < 2028)  # a school year's closures are ahead, or nothing is
    nothing = page.get_by_text("Nothing more is planned yet.")
    expect(nothing).to_be_visible() if not days else expect(nothing).to_be_hidden()
    page.get_by_role("button", name="Show dates that are over").click()
    expect(page.locator(".event").first).to_be_visible()
    page = open_at(phone, now, "past/")
    expect(page.locator("[data-cycle-list] > h2:visible")).to_have_text(["Past"])


@pytest.mark.parametrize(
    ("now", "label", "tempo"),
    [
        # Hot chocolate of Sleds on Mitten Hill: the week's rung, then the next week's before it begins.
        (at(11, 25), "this week", "Nov 23"),
        (at(10, 24), "week of Mon, Oct 26", "Oct 26"),
        (at(12, 14), "this week", "Dec 14"),
    ],
)
def test_the_tempo_of_the_week_is_that_of_the_table(
    phone: OpenTab, now: datetime, label: str, tempo: str
) -> None:
    page = open_at(phone, now, "winter-2026/harbor/sleds-on-mitten-hill/")
    page.locator("#hot-chocolate > summary").click()
    page.locator("#hot-chocolate-weeks > summary").click()
    row = page.locator("#hot-chocolate tr", has=page.get_by_role("rowheader", name=tempo))
    shown = page.locator("#hot-chocolate > summary .now-only:visible")
    expect(page.locator("#hot-chocolate .week-told > :not([hidden])")).to_contain_text(label)
    assert shown.locator(".mark").inner_text() == row.locator(".reach .mark").first.inner_text()
    assert label != "this week" or now.date() >= date(2026, 10, 26)


def test_the_calendar_begins_with_what_is_to_come(phone: OpenTab) -> None:
    page = open_at(phone, at(11, 25), "calendar/")
    days = page.locator(".event:visible").evaluate_all("rows => rows.map((row) => row.dataset.day)")
    assert days
    assert min(days) >= "2026-11-25"
    page.get_by_role("button", name="Show dates that are over").click()
    again = page.locator(".event:visible").evaluate_all(
        "rows => rows.map((row) => row.dataset.day)"
    )
    assert min(again) == "2026-08-31"
    assert len(again) > len(days)


def test_the_readers_own_band_is_shown_and_printed(phone: OpenTab) -> None:
    # Events of Lantern Band: the coat drive, which is for everyone, and no other.
    page = open_at(phone, at(11, 25), "")
    page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern')")
    page = open_at(phone, at(11, 25), "events/")
    expect(page.locator(".event:visible b")).to_have_text(["Coats for the coat drive"])
    expect(page.locator(".cal-month h2:visible")).to_have_text(["December 2026"])
    expect(page.locator(".none-of-band")).to_be_hidden()
    page = open_at(phone, at(12, 12), "events/")
    expect(page.locator(".none-of-band")).to_be_visible()
    page = open_at(phone, at(11, 25), "calendar/")
    bands = page.locator(".event.rehearsal:visible b")
    assert set(bands.all_inner_texts()) == {"Lantern Band"}
    page.emulate_media(media="print")
    expect(page.locator(".filter label:visible")).to_have_text("Lantern Band")
    page.emulate_media(media="screen")
    page.get_by_label("Everyone").check()
    assert {"Harbor Band", "Beacon Band"} < set(bands.all_inner_texts())
    assert page.evaluate("localStorage.getItem('handbook-ensemble')") == "lantern"
    page.evaluate("localStorage.removeItem('handbook-ensemble')")


def test_the_next_rehearsal_is_marked(phone: OpenTab) -> None:
    page = open_at(phone, at(11, 30), "winter-2026/harbor/")
    expect(page.locator("details.rehearsal.is-today")).to_have_count(1)
    expect(page.locator("details.rehearsal.is-today")).to_contain_text("Mon, Nov 30")
    expect(page.locator('[id="2026-11-24"]')).to_have_class("rehearsal is-past")


def test_a_tab_left_open_begins_the_new_day(phone: OpenTab) -> None:
    page = open_at(phone, at(12, 16, 22), "winter-2026/")
    days = page.locator(".until [data-days-to]:visible").first
    expect(days).to_have_text("tomorrow")
    page.clock.set_fixed_time(at(12, 17, 7))
    with page.expect_navigation():
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(days).to_have_text("today")


def test_a_rehearsal_that_is_over_is_not_the_next_one(phone: OpenTab) -> None:
    """Beacon Band meets on Tuesday, November 17 until 2:45 pm, by the demo's bells."""
    for hour, minute, is_next in ((9, 0, True), (14, 44, True), (14, 45, False), (17, 0, False)):
        page = open_at(phone, at(11, 17, hour, minute), "winter-2026/beacon/")
        shown = page.locator(".next-up > p:visible")
        expect(shown).to_have_count(1)
        assert ("Nov 17" in shown.inner_text()) is is_next
        marked = page.locator("svg.strip.narrow .rung.is-next")
        expect(marked).to_have_count(1)
        assert str(marked.get_attribute("data-ends")).startswith("2026-11-17") is is_next


def test_of_two_rehearsals_in_a_day_the_one_still_to_come_says_its_name_and_place(
    phone: OpenTab,
) -> None:
    """Beacon Band's dress rehearsal follows the usual hour on December 16."""
    shown = open_at(phone, at(12, 16, 17, 30), "winter-2026/beacon/").locator(
        ".next-up > p:visible"
    )
    for words in ("5:15", "Quillhaven Civic Hall", "Dress rehearsal"):
        expect(shown).to_contain_text(words)

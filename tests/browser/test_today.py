"""The first page answers for the reader's day, band and instrument.

Expected days and hours are read off the demo's own files and the calendar of 2026: the fall
cycle runs from Monday, August 31 to Thursday, October 22, the winter cycle from Monday,
October 26 to Thursday, December 17; Lantern Band meets on Mondays, Wednesdays and Fridays in
the second period, 9:11 to 9:58 am, and its bus for the winter concert loads at 5:20 pm.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from urllib.parse import urljoin
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.visits import OpenTab, visiting

pytestmark = pytest.mark.browser

HERE = ZoneInfo("America/Chicago")
FALL, WINTER = date(2026, 10, 22), date(2026, 12, 17)
BUS = "5:20 pm Be at the bus, bus loop at school in 17 hours 20 minutes"


def at(month: int, day: int, hour: int = 9, minute: int = 0, year: int = 2026) -> datetime:
    return datetime(year, month, day, hour, minute, tzinfo=HERE)


@dataclass(frozen=True)
class TodayCase:
    """What a family of Lantern Band is to read at a moment; nothing where nothing is to stand."""

    why: str
    now: datetime
    words: str
    rehearsal: str
    concert: str
    left: str


CASES = (
    TodayCase(
        *("before the first cycle", at(8, 20)),
        *("Fall cycle begins Mon, Aug 31.", "Mon, Aug 31, 9:11–9:58 am in 11 days"),
        *("Fall Concert", "63 days"),
    ),
    TodayCase(
        *("its first morning", at(8, 31)),
        *("", "9:11–9:58 am", "Fall Concert", "52 days"),
    ),
    TodayCase(
        *("after class", at(8, 31, 9, 58)),
        *("", "Wed, Sep 2, 9:11–9:58 am in 2 days", "Fall Concert", "52 days"),
    ),
    TodayCase(
        *("between cycles", at(10, 24)),
        *("Fall Concert is over. Thank you! Winter cycle begins Mon, Oct 26.",),
        *("Mon, Oct 26, 9:11–9:58 am in 2 days", "Winter Concert", "54 days"),
    ),
    TodayCase(
        *("a Sunday night", at(11, 8, 22)),
        *("", "Mon, Nov 9, 9:11–9:58 am tomorrow", "Winter Concert", "39 days"),
    ),
    TodayCase(
        *("the day clocks went back", at(11, 1)),
        *("", "Mon, Nov 2, 9:11–9:58 am tomorrow", "Winter Concert", "46 days"),
    ),
    TodayCase(
        *("in a break", at(11, 26)),
        *("No school: Thanksgiving break, through Fri, Nov 27.",),
        *("Mon, Nov 30, 9:11–9:58 am in 4 days", "Winter Concert", "21 days"),
    ),
    TodayCase(
        *("the eve, after the last rehearsal", at(12, 16, 23, 59)),
        *("", "", "Winter Concert", "1 day"),
    ),
    TodayCase("the concert's first minute", at(12, 17, 0, 0), "", "", "Winter Concert", BUS),
    TodayCase(
        *("on the bus", at(12, 17, 17, 40), "", "", "Winter Concert"),
        "6:00 pm Ready in the room, Civic Hall, room 2 in 20 minutes",
    ),
    TodayCase(
        *("that night", at(12, 17, 23, 59)),
        *("Winter Concert is over. Thank you! We’ll post the next music here.", "", "", ""),
    ),
    TodayCase(
        *("summer", at(7, 1, year=2027)),
        *("School is out. Next year’s dates will be posted here.", "", "", ""),
    ),
)


@pytest.fixture(scope="module")
def family(browser: Browser, site: str) -> Iterator[OpenTab]:
    """A tab in which Lantern Band is chosen, and no instrument; each test sets its own day."""
    with visiting(browser, site) as visit:
        page = visit.go("")
        page.get_by_role("button", name="Lantern Band").click()
        page.get_by_role("button", name="No instrument").click()
        yield visit
        assert visit.errors == []


def open_at(visit: OpenTab, now: datetime) -> Page:
    visit.page.clock.set_fixed_time(now)
    page = visit.go("")
    page.wait_for_load_state("networkidle")
    return page


def shown(page: Page, name: str) -> str:
    found = page.locator(f"{name}:visible")
    return found.first.inner_text() if found.count() else ""


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.why)
def test_a_family_reads_what_is_next(family: OpenTab, case: TodayCase) -> None:
    page = open_at(family, case.now)
    words = " ".join(shown(page, "[data-today-word]").split())
    assert words.startswith(case.words) if case.words else not words
    assert " ".join(shown(page, ".next-when").split()) == case.rehearsal
    assert shown(page, ".concert-name") == case.concert
    assert " ".join(shown(page, ".live-next, .concert-left").split()) == case.left


def test_days_are_counted_on_the_calendar() -> None:
    """The table above is not copied from the page: dates say the same."""
    for case in CASES:
        if case.left.endswith(("day", "days")):
            goal = FALL if case.concert == "Fall Concert" else WINTER
            left = (goal - case.now.date()).days
            assert case.left == f"{left} day{'s' if left != 1 else ''}", case.why


def test_players_come_before_their_crew_and_tonight_before_the_next_cycle(
    browser: Browser, site: str
) -> None:
    """By the fall concert's file the crew is ready at 5:45 pm, Lantern Band first of those who play."""
    with visiting(browser, site) as visit:
        page = open_at(visit, at(10, 22))
        assert " ".join(shown(page, ".figure-line").split()).endswith("6:15 pm")
        expect(page.locator(".figure-line")).to_contain_text("First: Lantern Band")
        expect(page.locator(".meet-table")).to_contain_text("5:45 pm")
        assert not shown(page, "[data-today-word]")
        page = open_at(visit, at(10, 22, 18, 17))
        expect(page.locator(".figure-line")).to_contain_text("Next: Harbor Band")
        assert "Winter cycle begins" in shown(open_at(visit, at(10, 23)), "[data-today-word]")


def test_on_its_day_each_step_is_told_in_its_turn(family: OpenTab) -> None:
    family.page.evaluate("localStorage.setItem('handbook-instrument-lantern', 'flute')")
    assert open_at(family, at(12, 16, 17, 25)).locator(".concert-call").count() == 0
    page = open_at(family, at(12, 17, 17, 25))
    assert " ".join(shown(page, ".live-next").split()) == "5:35 pm Buses leave in 10 minutes"
    page = open_at(family, at(12, 17, 12))
    assert page.locator(".concert-card").bounding_box()["y"] < 300  # type: ignore[index]
    page.get_by_role("button", name="Change").click()
    page.get_by_role("button", name="All bands").click()
    rows = [text.split() for text in page.locator(".meet-table tr").all_inner_texts()]
    assert [" ".join(row) for row in rows] == [
        "Band Be at the bus First note",
        "Lantern Band 5:20 pm 7:00 pm",
        "Harbor Band 5:20 pm 7:13 pm",
        "Beacon Band 5:40 pm 7:31 pm",
    ]
    expect(page.locator(".collected")).to_have_text("Pick-up 9:00 pm, Bus loop at school")
    expect(page.locator("[data-band]:visible")).to_have_count(0)  # Harbor's class is over at noon
    page = open_at(family, at(12, 17, 17, 30))
    expect(page.locator(".figure-line")).to_contain_text("Next: Beacon Band, be at the bus")
    page = open_at(family, at(12, 17, 19, 20))
    assert " ".join(shown(page, ".figure-line").split()) == "Pick-up 9:00 pm Bus loop at school"
    assert "5:20 pm" not in shown(page, ".concert-card"), "the buses left long ago"
    call = page.locator(".concert-call")
    expect(call).to_have_text("On the day, call: The lead parent at the hall 555-0142")
    expect(call.locator("a")).to_have_attribute("href", "tel:5550142")
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern')")
    page = open_at(family, at(12, 17, 19, 30))
    assert page.locator(".day-steps li:visible").first.inner_text() == "Earlier today"
    assert page.locator(".day-steps .is-over:visible").count() == 0
    page.get_by_role("button", name="Earlier today").click()
    expect(page.locator(".day-steps .is-over").first).to_be_visible()


def test_a_dress_rehearsal_is_told_with_its_hour_and_place(family: OpenTab) -> None:
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern')")
    page = open_at(family, at(12, 14, 12))
    words = page.locator(".then li").all_inner_texts()
    place = "Dress rehearsal, Quillhaven Civic Hall, main stage"
    assert words == [f"Then Wed, Dec 16, 3:30–4:10 pm: {place}"]
    page = open_at(family, at(12, 16, 12))
    assert shown(page, ".next-when") == "3:30–4:10 pm"
    assert shown(page, ".next-where") == place
    onto_map = page.get_by_role("link", name="Map of 8 Cooper Street")
    assert "8%20Cooper%20Street" in (onto_map.get_attribute("href") or "")
    assert page.locator(".ride").all_inner_texts() == [
        "Ride leaves at 3:05 pm from the bus loop at school.",
        "Ride is back at about 4:35 pm.",
        "Pick-up 4:40 pm.",
    ]


def test_a_section_reads_its_own_room(family: OpenTab) -> None:
    """The evening of December 8 in the demo's cycle.yaml; a reader without an instrument reads all."""
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'beacon')")
    page = open_at(family, at(12, 8, 17, 45))
    assert page.locator(".section-rooms li").all_inner_texts() == [
        "Woodwinds: Band Room 112",
        "Trumpets and horns: Choir Room 114",
        "Low brass and string bass: School hall, stage",
        "Percussion: Practice Wing 116",
    ]
    family.page.evaluate("localStorage.setItem('handbook-instrument-beacon', 'trumpet')")
    page = open_at(family, at(12, 8, 17, 45))
    assert shown(page, ".next-where").endswith(", Trumpets and horns: Choir Room 114")
    rehearsal = shown(page, ".next-rehearsal")
    assert "Your section works on Every hill and High water." in rehearsal
    assert "112" not in rehearsal


@pytest.mark.parametrize(("part", "sticks"), [("flute", False), ("percussion", True), ("", True)])
def test_only_what_the_part_brings_is_listed(family: OpenTab, part: str, sticks: bool) -> None:
    """By the winter concert's `bring`: stick bags are for percussion, pencils for all."""
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern')")
    family.page.evaluate(f"localStorage.setItem('handbook-instrument-lantern', '{part}')")
    page = open_at(family, at(12, 17, 12))
    page.get_by_text("What to wear and bring").click()
    listed = shown(page, ".carried")
    assert "A pencil" in listed
    assert ("Your own stick bag" in listed) is sticks


def test_the_nearest_changed_day_is_told_with_the_break_after_it(family: OpenTab) -> None:
    """By the demo's school calendar Dec 18 ends early, and the winter break begins on Dec 21."""
    page = open_at(family, at(12, 10))
    days = page.locator("[data-school] li:visible b").all_inner_texts()
    assert [day.replace("\xa0", " ") for day in days] == ["Fri, Dec 18", "Mon, Dec 21 – Fri, Jan 1"]


def test_a_band_that_is_the_crew_is_told_when_to_be_ready(family: OpenTab) -> None:
    """Beacon Band does not play in the fall concert, and is its stage crew from 5:45 pm."""
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'beacon')")
    card = open_at(family, at(10, 15, 16)).locator(".concert-card")
    expect(card.locator("h2")).to_have_text("Fall Concert")
    expect(card).to_contain_text("Stage crew (Beacon Band), be ready at 5:45 pm")
    expect(card.get_by_role("link", name="What the crew does")).to_have_count(1)
    card = open_at(family, at(10, 22, 16)).locator(".concert-card")
    assert shown(family.page, ".live-next").split()[:2] == ["5:45", "pm"]
    expect(card).to_contain_text("Be ready, School hall, stage")


def test_the_sheet_to_print_is_two_taps_away(family: OpenTab) -> None:
    family.page.evaluate("localStorage.setItem('handbook-ensemble', '')")
    page = open_at(family, at(11, 27, 16))
    link = page.locator(".concert-card").get_by_role("link", name="Print (PDF)")
    assert str(link.get_attribute("href")).endswith("winter-2026/concert/#print")
    link.click()
    expect(page.locator("#print a:visible")).to_have_count(3)
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'harbor')")
    page = open_at(family, at(11, 27, 16))
    sheet = page.locator(".concert-card").get_by_role("link", name="Print (PDF)")
    path = str(sheet.get_attribute("href"))
    assert path.endswith("winter-2026/concert/winter-2026-family-harbor-en.pdf")
    assert page.request.get(urljoin(page.url, path)).ok
    page.get_by_role("link", name="Sheets to print").click()
    expect(page.locator("#print")).to_be_in_viewport()
    assert page.get_by_role("link", name="Beacon Band, one page (PDF)").is_visible()


def test_heads_of_the_concert_day_stay_in_their_columns(browser: Browser, site: str) -> None:
    for width in (320, 360, 414):
        with visiting(browser, site, width=width) as visit:
            open_at(visit, at(10, 22, 17, 45)).get_by_role("button", name="All bands").click()
            visit.page.locator(".meet-table").wait_for()
            wide = visit.page.evaluate(
                """() => {
                  // A third time, as where bands are collected at hours of their own.
                  for (const row of document.querySelectorAll(".meet-table tr")) row.append(row.lastElementChild.cloneNode(true));
                  return [...document.querySelectorAll(".meet-table thead th")].slice(1).map((cell) => {
                    cell.textContent = "Ready in the room";
                    return cell.scrollWidth - cell.clientWidth;
                  });
                }"""
            )
            assert wide == [0, 0, 0]


def test_no_line_begins_with_a_dot_and_no_band_stands_alone_in_summer(family: OpenTab) -> None:
    page = open_at(family, at(7, 5, 12, year=2027))
    expect(page.locator("[data-band]:visible")).to_have_count(0)
    starts = page.evaluate(
        """() => [...document.querySelectorAll(".over .dot, .after .dot")]
          .filter((dot) => dot.offsetParent)
          .map((dot) => dot.getBoundingClientRect().left - dot.closest("p").getBoundingClientRect().left)"""
    )
    assert len(starts) == 6
    assert min(starts) > 5


def test_an_event_of_the_day_stands_first(family: OpenTab) -> None:
    """A game on December 8: call 5:45 pm, pick-up 8:15 pm, by the demo's events.yaml."""
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'harbor')")
    page = open_at(family, at(12, 8, 16, 30))
    there = page.locator(".event-today .there")
    expect(there).to_have_text("Be there 5:45 pm, School gym, band bleachers. Pick-up 8:15 pm.")
    expect(there).to_be_in_viewport()
    family.page.evaluate("localStorage.setItem('handbook-ensemble', 'lantern')")
    expect(open_at(family, at(12, 8, 16, 30)).locator(".event-today")).to_have_count(0)


def test_the_next_events_are_those_of_the_band(family: OpenTab) -> None:
    """By the dates in the demo's events.yaml; one for everyone is for each band."""
    events = family.page.locator("[data-next] .event:visible .event-date")
    for now, band, days in (
        (at(11, 25), "", ["Sat, Dec 5", "Tue, Dec 8", "Fri, Dec 11"]),
        (at(11, 25), "harbor", ["Tue, Dec 8", "Fri, Dec 11", "Sat, Jan 16"]),
        (at(12, 8, 23), "harbor", ["Tue, Dec 8", "Fri, Dec 11", "Sat, Jan 16"]),
        (at(12, 9), "lantern", ["Fri, Dec 11"]),
    ):
        family.page.evaluate(f"localStorage.setItem('handbook-ensemble', '{band}')")
        open_at(family, now)
        expect(events).to_have_text(days)
    page = open_at(family, at(2, 3, year=2027))
    expect(page.locator("[data-next]")).to_be_hidden()


def test_who_plays_is_led_to_the_part_and_asked_once(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")
        expect(page.get_by_role("heading", name="Which band?")).to_be_in_viewport()
        expect(page.locator("[data-welcome]")).to_be_visible()
        page.get_by_role("button", name="Beacon Band").press("Enter")
        expect(page.get_by_role("button", name="No instrument, just Beacon Band")).to_be_focused()
        page.get_by_role("button", name="Trumpet").click()
        expect(page.get_by_role("button", name="Change")).to_be_focused()
        page.reload()
        expect(page.locator("[data-chosen-name]")).to_have_text("Beacon Band, Trumpet")
        expect(page.get_by_role("heading", name="Which band?")).to_be_hidden()
        expect(page.locator("[data-welcome]")).to_be_hidden()
        page.get_by_role("link", name="Your part: Trumpet").click()
        page.wait_for_url(f"{site}winter-2026/beacon/part/trumpet/")
        expect(page.get_by_role("button", name="This is my part")).to_be_hidden()
        assert visit.errors == []


def test_a_player_reads_what_to_practice_tonight(browser: Browser, site: str) -> None:
    """Beacon Band has 20 minutes a day in its second stage, by the demo's cycle file."""
    with visiting(browser, site, width=1366, height=768, now=at(11, 17)) as visit:
        page = visit.go("winter-2026/beacon/part/trumpet/")
        page.get_by_role("button", name="This is my part").click()
        page = visit.go("")
        expect(page.get_by_role("heading", name="Tonight")).to_have_text("Tonight 20 minutes")
        rows = page.locator("[data-tonight] li")
        minutes = [re.search(r"(\d+) min", text) for text in rows.all_inner_texts()]
        assert sum(int(one[1]) for one in minutes if one) == 20
        expect(page.get_by_role("heading", name="Rehearsal today")).to_be_in_viewport(ratio=1)
        expect(rows.nth(1).locator(".mark")).to_be_in_viewport(ratio=1)
        expect(page.locator(".concert-card")).to_be_in_viewport(ratio=1)
        name = rows.nth(1).locator("a").inner_text()
        box = page.get_by_role("checkbox", name=f"Practiced tonight: {name}", exact=True)
        box.check()
        page.reload()
        expect(box).to_be_checked()
        rows.nth(1).get_by_role("link").click()
        expect(page.locator("details.row:target")).to_have_attribute("open", "")
        assert visit.errors == []


def test_all_bands_stand_in_a_line_each(browser: Browser, site: str) -> None:
    with visiting(browser, site) as visit:
        page = visit.go("")  # November 25
        page.get_by_role("button", name="All bands").click()
        expect(page.locator(".band-now")).to_have_count(3)
        texts = [" ".join(one.split()) for one in page.locator(".band-now").all_inner_texts()]
        assert [one.partition(" next: ")[2] for one in texts] == [
            "Mon, Nov 30, 9:11–9:58 am",
            "Mon, Nov 30, 10:02–10:49 am",
            "Mon, Nov 30, 1:58–2:45 pm",
        ]
        assert texts[2].startswith("Build rehearsal 10 of 18")


def test_without_its_scripts_all_bands_and_dates_stand_there(browser: Browser, site: str) -> None:
    """Whether scripts are refused, or only those of the cycles do not arrive."""
    with visiting(browser, site, scripts=False) as visit:
        page = visit.go("")
        for text in ("Oct 26 – Dec 17", "Thu, Dec 17 7:00 pm Winter Concert", "No school: Winter"):
            assert text in " ".join(page.locator("main").inner_text().split())
    with visiting(browser, site) as visit:
        visit.page.route(
            "**/today.js?*",
            lambda route: route.abort() if "2026" in route.request.url else route.continue_(),
        )
        page = visit.go("")
        page.get_by_role("button", name="All bands").click()
        expect(page.locator("#lantern .band-cycle:visible")).to_contain_text("Oct 26 – Dec 17")
        expect(page.locator(".concert-card")).to_contain_text("Thu, Dec 17")

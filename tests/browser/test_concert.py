"""Concert day on the reader's own device: first screen, filter, ticks, print.

The sizes of paper are those of ISO 216 (A4) and ANSI/ASME Y14.1 (Letter), as Chromium names them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from handbook.pipeline import load_plan
from tests.browser.served import serving
from tests.browser.visits import OpenTab, visiting
from tests.content_folders import write_folder
from tests.plan.test_half_groups import with_groups
from tests.whole_sites import make_site

pytestmark = pytest.mark.browser

SHEET, CREW = "winter-2026/concert/", "winter-2026/concert/crew/"
# Before the concerts of the demo, so that the sheets of both are whole.
BEFORE_BOTH = datetime(2026, 9, 21, 9, tzinfo=ZoneInfo("America/Chicago"))
BANDS = ["lantern", "harbor", "beacon"]


@pytest.fixture
def visit(browser: Browser, site: str) -> Iterator[OpenTab]:
    with visiting(browser, site, now=BEFORE_BOTH) as opened:
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
        box = page.locator(f"#{part} > div").bounding_box()
        assert box is not None
        assert box["y"] < 844 - 48, part  # its first line at least
    for part in ("call", "place", "pick-up"):
        box = page.locator(f"#{part} > div").bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= 844, part


def test_the_sheet_of_the_chosen_band_is_one_tap_away(visit: OpenTab) -> None:
    page = opened(visit, "")
    link = page.locator(".crew-link .sheet-links a:visible").first
    assert link.get_attribute("href") == "#print"
    assert page.locator("#print a:visible").count() == 3
    page.check('[data-band="harbor"]')
    assert str(link.get_attribute("href")).endswith(f"{SHEET}winter-2026-family-harbor-en.pdf")
    assert not page.locator("#print").is_visible()
    page.emulate_media(media="print")
    assert not page.locator(".sheet-links:visible").count()


@pytest.mark.parametrize("scripts", [True, False])
def test_the_filter_leaves_one_band(browser: Browser, site: str, scripts: bool) -> None:
    with visiting(browser, site, now=BEFORE_BOTH, scripts=scripts) as visit:
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


EVENING = ["2026-12-17T17:20", "2026-12-17T17:35", "2026-12-17T17:35", "2026-12-18T00:10"]


STATES = [
    ("2026-12-16", "23:59", "before", [], 0, "in 17 hours 21 minutes"),
    ("2026-12-17", "00:00", "day", [], 0, "in 17 hours 20 minutes"),
    ("2026-12-17", "17:19", "day", [], 0, "in 1 minute"),
    ("2026-12-17", "17:20", "day", [0], 1, "in 15 minutes"),
    ("2026-12-17", "17:35", "day", [1, 2], 3, "in 6 hours 35 minutes"),
    ("2026-12-18", "00:09", "day", [1, 2], 3, "in 1 minute"),
    ("2026-12-18", "00:10", "day", [3], -1, "now"),
    ("2026-12-18", "00:39", "day", [3], -1, "now"),  # the pick-up is on for half an hour
    ("2026-12-18", "00:40", "over", [3], -1, "now"),
    ("2026-12-19", "09:00", "over", [3], -1, "now"),
]


def test_the_step_that_is_on_is_reckoned_over_midnight(visit: OpenTab) -> None:
    """Reckoned by hand from the clock."""
    page = visit.go(SHEET)
    for day, clock, state, on, following, left in STATES:
        hour, minute = map(int, clock.split(":"))
        at, words = page.evaluate(
            "([moments, time]) => { const at = stepsAt(moments, time); return [at, inMinutes(at.minutes)]; }",
            [EVENING, {"day": day, "minutes": hour * 60 + minute}],
        )
        shown = list(range(at["first"], at["last"] + 1)) if at["first"] >= 0 else []
        assert (at["state"], shown, at["next"], words) == (state, on, following, left)


def test_on_its_day_the_sheet_knows_which_step_is_next(browser: Browser, site: str) -> None:
    """In the hall's time, wherever the phone believes it is; said aloud when a step begins."""
    evening = datetime(2026, 12, 17, 17, 25, tzinfo=ZoneInfo("America/Chicago"))
    with visiting(browser, site, now=evening, zone="Asia/Tokyo") as visit:
        page = opened(visit, "lantern")
        day = page.locator("#day-lantern")
        assert day.locator(".is-on").inner_text().split("\n")[0] == "5:20 pm"
        headline = page.locator("[data-live-next]:visible")
        told = headline.inner_text()
        assert " ".join(told.split()) == "5:35 pm Buses leave in 10 minutes"
        page.clock.set_fixed_time(evening + timedelta(minutes=30))
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(day.locator("[role=status]")).to_have_text(re.compile("^Now: 5:50 pm Arrive"))
        assert day.locator(".is-over").count() == 2
        page.clock.set_fixed_time(evening.replace(hour=21, minute=29))
        page.reload()
        assert headline.inner_text().split("\n")[0] == "9:00 pm"
        page.clock.set_fixed_time(evening.replace(hour=21, minute=30))
        page.reload()
        assert not headline.count()
        # It is over: that is said, the program stays, and how it was planned is asked for.
        expect(page.get_by_text("It is over. Thank you.")).to_be_visible()
        expect(page.locator("#program")).to_be_visible()
        expect(page.locator("#pick-up")).not_to_be_visible()
        page.click("[data-as-planned]")
        expect(page.locator("#pick-up")).to_be_visible()
        visit.go(f"{SHEET}?searched#attire")  # as search leads there
        expect(page.locator("#attire")).to_be_visible()
        assert not visit.errors


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
        (SHEET, "harbor", 1),
        (SHEET, "beacon", 1),
        ("fall-2026/concert/", "beacon", 1),
        ("fall-2026/concert/", "", 1),
        ("fall-2026/concert/", "lantern", 1),
        ("fall-2026/concert/", "harbor", 1),
        (CREW, None, 6),  # a sheet for each of two roles; then what all share
        ("fall-2026/concert/crew/", None, 5),
    ],
)
def test_print_gives_clean_sheets(visit: OpenTab, path: str, band: str | None, sheets: int) -> None:
    page = opened(visit, band, path)
    margin = dict.fromkeys(("top", "bottom", "left", "right"), "12mm")
    for paper in ("Letter", "A4"):
        pdf = page.pdf(format=paper, margin=margin)  # type: ignore[arg-type]
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) == sheets, paper


def test_whose_part_is_known_reads_only_what_that_part_brings(visit: OpenTab) -> None:
    page = visit.go(SHEET)
    bag = page.get_by_text("Your own stick bag")
    for band, part, shown in (
        ("", "", True),
        ("beacon", "", True),
        ("beacon", "trumpet", False),
        ("beacon", "snare-drum", True),
    ):
        page.evaluate(
            "([band, part]) => { localStorage.setItem('handbook-ensemble', band);"
            " localStorage.setItem('handbook-instrument-beacon', part); }",
            [band, part],
        )
        page.reload()
        assert bag.is_visible() is shown, (band, part)
    page.evaluate("localStorage.setItem('handbook-instrument-beacon', 'trumpet')")
    page.reload()
    page.check('[data-band="harbor"]')
    assert bag.is_visible()  # another band's day is read whole


def test_each_role_of_the_crew_has_its_own_sheet(visit: OpenTab) -> None:
    """In letters of 14 points, with what it moves; nothing of the other roles."""
    page = visit.go(CREW)
    page.get_by_label("Stage crew").check()
    role = page.locator("#role-stage-crew")
    expect(role.get_by_text("Percussion trunk")).to_be_visible()
    expect(page.locator("#role-truck-crew")).not_to_be_visible()
    page.emulate_media(media="print")
    assert role.evaluate("item => parseFloat(getComputedStyle(item).fontSize)") == pytest.approx(
        14 / 72 * 96, abs=0.1
    )
    for paper in ("Letter", "A4"):
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", page.pdf(format=paper))) == 1
    page.emulate_media(media="screen")
    page.get_by_label("Truck crew (adults)").check()
    page.emulate_media(media="print")
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", page.pdf(format="Letter"))) == 1
    # What all share stands within the paper too: A4 less its margins of 13 mm, in pixels.
    page.emulate_media(media="screen")
    page.get_by_label("Everyone").check()
    page.emulate_media(media="print")
    page.set_viewport_size({"width": int((210 - 26) / 25.4 * 96), "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_a_role_of_the_crew_reads_its_own_parts_and_can_have_all(visit: OpenTab) -> None:
    page = visit.go(CREW)
    height = "document.documentElement.scrollHeight"
    whole = page.evaluate(height)
    page.get_by_label("Truck crew (adults)").check()
    for part, shown in (("show", True), ("calls", False), ("rooms", False), ("stage", False)):
        assert page.locator(f"#{part}").is_visible() is shown, part
    assert page.locator("#loads").is_visible()
    assert page.evaluate(height) < whole / 2
    page.get_by_text("Show all parts of the evening").click()
    assert page.locator("#rooms").is_visible()
    assert page.evaluate(height) == whole


def test_the_crew_sees_what_is_next_and_what_is_on(visit: OpenTab) -> None:
    """At 7:08 pm by the school's clock, in the reset before the second turn; then the day after."""
    visit.page.clock.set_fixed_time("2026-12-18T01:08:00Z")
    page = visit.go(CREW)
    role = page.locator("#role-stage-crew")
    expect(role.locator("[data-live-next]")).to_contain_text("7:21 pm")
    expect(role.locator(".is-on")).to_contain_text("Reset for Harbor Band")
    expect(page.locator("#role-truck-crew .is-on")).to_have_text("7:00 pm The concert begins")
    expect(page.locator(".show-table .is-on")).to_contain_text("Changeover")
    page.clock.set_fixed_time("2026-12-19T01:08:00Z")
    page.reload()
    expect(page.locator("#loads")).to_be_hidden()
    page.get_by_role("button", name="Show how the day was planned").click()
    expect(page.locator("#loads")).to_be_visible()


def test_nothing_of_the_crew_page_is_off_the_screen(visit: OpenTab) -> None:
    page = visit.go(CREW)
    assert (
        page.evaluate(
            "[...document.querySelectorAll('.stacked, .stacked td')].filter((item) => item.getBoundingClientRect().right > innerWidth).length"
        )
        == 0
    )
    box = page.locator("#role-truck-crew .role-call").bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < 844  # who is to be where, and when, without scrolling


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

"""Which cycle the menu, the first page and the list of all cycles show, to the day.

A school of three cycles, all written ahead. Whether a moment is before, in or after a cycle is
counted from the dates below by Python's own calendar, in the school's zone; the reader's device
stands in a zone far to the east, in the school's, and far to the west (IANA time zone database:
UTC+14, UTC-6 or -5, UTC-11).
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, Page, expect

from handbook.pipeline import load_plan
from tests.browser.served import serving
from tests.browser.visits import DESK, visiting
from tests.content_folders import base_files, write_folder
from tests.whole_sites import make_site

pytestmark = pytest.mark.browser

HERE = ZoneInfo("America/Chicago")
ZONES = ("Pacific/Kiritimati", "America/Chicago", "Pacific/Pago_Pago")
CYCLES = {  # first and last day; the last is that of the concert
    "fall": (date(2026, 8, 31), date(2026, 10, 8)),
    "winter": (date(2026, 10, 19), date(2026, 12, 10)),
    "spring": (date(2027, 1, 11), date(2027, 3, 11)),
}
MOMENTS = (
    datetime(2026, 8, 30, 23, 59, tzinfo=HERE),
    datetime(2026, 8, 31, 0, 0, tzinfo=HERE),
    datetime(2026, 10, 8, 23, 59, tzinfo=HERE),
    datetime(2026, 10, 9, 0, 0, tzinfo=HERE),
    datetime(2026, 10, 18, 23, 59, tzinfo=HERE),
    datetime(2026, 10, 19, 0, 0, tzinfo=HERE),
    datetime(2026, 11, 1, 1, 30, fold=1, tzinfo=HERE),  # in the hour that comes twice
    datetime(2026, 12, 10, 23, 59, tzinfo=HERE),
    datetime(2026, 12, 11, 0, 0, tzinfo=HERE),
    datetime(2027, 3, 11, 23, 59, tzinfo=HERE),
    datetime(2027, 3, 12, 0, 0, tzinfo=HERE),
    datetime(2027, 7, 4, 9, tzinfo=HERE),
)


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of the school's site."""
    base = base_files()
    files = {name: text for name, text in base.items() if not name.startswith("cycles/")}
    for cycle, (first, last) in CYCLES.items():
        for name, text in base.items():
            if name.startswith("cycles/winter/"):
                files[name.replace("winter", cycle)] = (
                    text.replace("Winter", cycle.title())
                    .replace("Mon 2026-10-19", f"{first}")
                    .replace("Thu 2026-12-10", f"{last}")
                )
    folder = tmp_path_factory.mktemp("year")
    content = write_folder(folder / "content", files)
    plan = load_plan(content).plan
    assert plan is not None
    with serving(make_site(plan, content, folder / "site").target) as address:
        yield address


def phase(cycle: str, day: date) -> str:
    first, last = CYCLES[cycle]
    return "Coming" if day < first else "Past" if day > last else "Now"


def shown(day: date) -> str:
    """The cycle that is on, else the next one, else the last."""
    return next((cycle for cycle, (_, last) in CYCLES.items() if day <= last), "spring")


def entries(page: Page) -> list[str]:
    return page.locator(".wide li:not([hidden])").all_text_contents()


def of_cycle(day: date) -> list[str]:
    cycle = shown(day)
    first, _ = CYCLES[cycle]
    state = {"Coming": f" from {first:%b} {first.day}", "Now": "", "Past": " over"}
    name = f"{cycle.title()} cycle{state[phase(cycle, day)]}"
    return [name, "Lantern Band", "Harbor Band", "Concert", "Crew"]


def test_each_moment_shows_its_own_cycle_wherever_the_reader_is(
    browser: Browser, year: str
) -> None:
    for zone in ZONES:
        with visiting(browser, year, width=DESK, zone=zone) as visit:
            for number, now in enumerate(MOMENTS):
                day, told = now.date(), f"{now}, read in {zone}"
                visit.page.clock.set_fixed_time(now)
                page = visit.go("past/")
                found = entries(page)
                assert found[1:6] == of_cycle(day), told
                assert found[0] == "Today", told
                assert found[6] in {"Fundamentals", "Calendar"}, told
                crew = page.locator(".wide").get_by_role("link", name="Crew")
                assert crew.get_attribute("href") == f"../{shown(day)}/concert/crew/", told
                heads = page.locator("[data-cycle-list] > :is(h2, section):visible")
                listed = heads.evaluate_all(
                    "all => all.map((one) => (one.querySelector('h3') || one).textContent)"
                )
                expected, before = list[str](), ""
                for cycle in reversed(CYCLES):
                    if phase(cycle, day) != before:
                        before = phase(cycle, day)
                        expected.append(before)
                    expected.append(f"{cycle.title()} cycle")
                assert listed == expected, told
                if number % len(ZONES) != ZONES.index(zone):
                    continue
                # A page of a cycle that the menu does not show marks nothing.
                page = visit.go("fall/lantern/")
                marked = page.locator(".wide li:not([hidden]) [aria-current]").all_text_contents()
                assert marked == (["Lantern Band"] if shown(day) == "fall" else []), told
            assert visit.errors == []


def test_the_menu_of_a_laptop_takes_one_line(browser: Browser, site: str) -> None:
    """The name of a cycle that has not begun, or is over, says so and is longer for it."""
    with visiting(browser, site, width=1366) as visit:
        for day, state in ((date(2026, 10, 25), " from Oct 26"), (date(2026, 12, 30), " over")):
            visit.page.clock.set_fixed_time(datetime.combine(day, time(12), HERE))
            page = visit.go("words/")
            entry = page.locator(".wide").get_by_role("link", name="Winter cycle")
            assert (entry.text_content() or "").endswith(state)
            tops = page.locator(".wide li:visible").evaluate_all(
                "all => all.map((one) => one.getBoundingClientRect().top)"
            )
            assert len(set(tops)) == 1, (state, tops)


def test_the_menu_marks_the_page_and_what_it_is_below(browser: Browser, year: str) -> None:
    now = datetime(2026, 11, 3, 9, tzinfo=HERE)
    marks = {
        "winter/": [("Winter cycle", "page")],
        "winter/lantern/": [("Lantern Band", "page")],
        "winter/lantern/button-comets/": [("Lantern Band", "true")],
        "winter/concert/": [("Concert", "page")],
        "winter/concert/crew/": [("Crew", "page")],
        "calendar/": [("Calendar", "page")],
        "calendar/subscribe/": [("Calendar", "true")],
        "spring/concert/": [],
    }
    with visiting(browser, year, width=DESK, now=now) as visit:
        for path, expected in marks.items():
            found = visit.go(path).locator(".wide li:not([hidden]) [aria-current]")
            assert [
                (link.text_content(), link.get_attribute("aria-current")) for link in found.all()
            ] == expected, path


def test_without_scripts_the_menu_leads_to_every_cycle_and_its_concert(
    browser: Browser, year: str
) -> None:
    with visiting(browser, year, width=DESK, scripts=False) as visit:
        page = visit.go("fall/lantern/")
        links = page.locator(".wide a").all_text_contents()
        names = [f"{cycle.title()} {kind}" for cycle in CYCLES for kind in ("cycle", "concert")]
        assert links[: len(names) + 1] == ["Today", *names]
        concert = page.locator(".wide").get_by_role("link", name="Winter concert")
        assert concert.get_attribute("href") == "../../winter/concert/"
        expect(page.locator(".wide [aria-current]")).to_have_text("Fall cycle")
        for path in ("", "calendar/", "past/", *(f"{cycle}/" for cycle in CYCLES)):
            text = visit.go(path).locator("main").inner_text()
            for cycle, (_, last) in CYCLES.items():
                if path in {"", "calendar/", "past/", f"{cycle}/"}:
                    assert f"{cycle.title()} concert" in text, path
                    if path != "calendar/":  # where the day stands under its month
                        assert f"{last:%b} {last.day}" in text, path

"""An outdoor concert with a rain plan: places, hours and calls then, on every page that families read.

Common practice, no source; the times are reckoned by hand as in test_concert_day: in place 5
minutes before the first note, 5 to walk, 20 to warm up, 10 to unpack.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from handbook.checks import PLAN_CHECKS, REFERENCE_CHECKS
from handbook.cli.plan_json import plan_text
from handbook.loader import load
from handbook.pipeline import checked
from handbook.plan.build import PlanResult
from handbook.plan.model import ConcertPlan, ConcertRain
from tests.content_folders import base_files, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, planned, winter
from tests.plan.test_concert_day import PROGRAM, STEPS, clocks

PARK = """  - id: park
    name: Town Park
    address: Park Street
    stage: shell
    rooms: [{id: shell, name: Bandshell}, {id: lawn, name: Lawn}]
"""
OUTSIDE = """
name: Concert in the park
date: Thu 2026-12-10
downbeat: 6:00 pm
venue: park
opens: 5:00 pm
program:
  - {ensemble: harbor, pieces: [tweed-kites], room: lawn}
  - {ensemble: lantern, pieces: [button-comets], place: By the fountain, call: 5:15 pm}
pick_up: 7:30 pm
"""
RAIN = """
rain:
  venue: hall
  decided: 2:00 pm
  downbeat: 6:30 pm
  rooms: {harbor: band-room}
  opens: 6:00 pm
  about: We write to all families.
"""


def files_of(concert: str) -> dict[str, str]:
    files = base_files()
    files[PROGRAM] = files[PROGRAM].rstrip("\n") + "\n    stock: {chair: 5}\n" + PARK
    return {**files, CONCERT: concert}


def outside(folder: Path, rain: str = RAIN) -> PlanResult:
    return planned(folder, files_of(OUTSIDE + STEPS + rain))


def rain_of(result: PlanResult) -> tuple[ConcertPlan, ConcertRain]:
    concert = winter(result).concert
    assert concert is not None
    assert concert.rain is not None
    return concert, concert.rain


def test_all_times_move_with_the_downbeat_and_rooms_are_those_said_for_it(tmp_path: Path) -> None:
    concert, rain = rain_of(outside(tmp_path))
    assert (concert.venue.id, rain.venue.id) == ("park", "hall")
    assert clocks(concert.downbeat, rain.downbeat, rain.decided) == "18:00:00 18:30:00 14:00:00"
    assert rain.day is not None
    then = {group.id: group for group in rain.day.groups}
    usual = {group.id: group for group in concert.day.groups}
    assert clocks(usual["harbor"].call, then["harbor"].call) == "17:20:00 17:50:00"
    assert clocks(usual["lantern"].call, then["lantern"].call) == "17:15:00 17:45:00"
    assert clocks(usual["lantern"].pick_up, then["lantern"].pick_up) == "19:30:00 20:00:00"
    assert [one.room.id if one.room else None for one in then.values()] == ["band-room", None]
    # By the fountain is in the park: nobody has said where Lantern meets in the hall.
    assert then["lantern"].place is None
    assert usual["harbor"].room is not None
    assert usual["harbor"].room.id == "lawn"


def test_hours_and_stock_of_the_other_place_are_checked(tmp_path: Path) -> None:
    result = outside(tmp_path)
    found = {one.code: one for one in checked(PLAN_CHECKS, result.plan)}
    # The hall opens at 6 pm then, and Lantern is to be there from 5:45 pm on.
    hours = found["outside-venue-hours"]
    assert (
        "in bad weather, is outside the time that Great Hall is open (from 6:00 pm)"
        in hours.message
    )
    assert found["venue-stock-short"].address == (CONCERT, "rain", "venue")
    assert "16 × chair" in found["venue-stock-short"].message
    calm = RAIN.replace("opens: 6:00 pm", "opens: 5:00 pm")
    codes = {one.code for one in checked(PLAN_CHECKS, outside(tmp_path / "calm", calm).plan)}
    assert codes == {"call-in-words-alone", "venue-stock-short"}  # Lantern gets ready by a fountain


def test_a_room_that_is_taken_then_is_told(tmp_path: Path) -> None:
    same = RAIN.replace("{harbor: band-room}", "{harbor: band-room, lantern: band-room}")
    found = [one.message for one in checked(PLAN_CHECKS, outside(tmp_path, same).plan)]
    assert any(
        "two bands are in Band room at once" in one and "in bad weather" in one for one in found
    )


def test_another_date_is_in_the_calendar(tmp_path: Path) -> None:
    later = "rain: {date: Fri 2026-12-11, decided: Thu 2026-12-10 at 2 pm}\n"
    result = outside(tmp_path, later)
    _, rain = rain_of(result)
    assert rain.downbeat.date() == date(2026, 12, 11)
    assert rain.venue.id == "park"
    pages = {page.path: page for page in site_of(result.plan).pages}
    calendar = main_of(pages["calendar/"])
    assert "Rain date: Concert in the park" in calendar
    assert "only if it cannot be on" in calendar
    assert "In bad weather: Fri, Dec 11, 6:00 pm. Decided that day by 2:00 pm." in main_of(
        pages["winter/concert/"]
    )


def test_without_a_place_or_a_date_it_is_not_given(tmp_path: Path) -> None:
    result = outside(tmp_path, "rain: {decided: 2 pm, about: No concert in a storm.}\n")
    _, rain = rain_of(result)
    assert rain.day is None
    pages = {page.path: page for page in site_of(result.plan).pages}
    assert "Decided that day by 2:00 pm. No concert in a storm." in main_of(
        pages["winter/concert/"]
    )


def test_another_hour_at_the_same_place_is_a_concert_too(tmp_path: Path) -> None:
    result = outside(tmp_path, "rain: {decided: 2 pm, downbeat: 5:00 pm}\n")
    _, rain = rain_of(result)
    assert rain.day is not None
    harbor = rain.day.group_of("harbor")
    assert harbor is not None
    # All of it an hour earlier, in the rooms that it has at any rate.
    assert clocks(harbor.call) == "16:20:00"
    assert harbor.room is not None
    assert harbor.room.id == "lawn"
    page = main_of(next(one for one in site_of(result.plan).pages if one.path == "winter/concert/"))
    assert "In bad weather: Town Park, 5:00 pm. Decided that day by 2:00 pm." in page


def test_every_page_tells_it(tmp_path: Path) -> None:
    result = outside(tmp_path)
    pages = {page.path: page for page in site_of(result.plan).pages}
    words = "In bad weather: Great Hall, 6:30 pm. Decided that day by 2:00 pm."
    for path in (
        "",
        "calendar/",
        "winter/",
        "winter/lantern/",
        "winter/concert/",
        "winter/concert/crew/",
    ):
        assert words in main_of(pages[path]), path
    sheet = main_of(pages["winter/concert/"])
    assert "We write to all families." in sheet
    assert "Harbor Band, then: ready in the room at 5:50 pm, Band room, pick-up 8:00 pm" in sheet
    assert "12 Quill Street." in sheet.partition('id="rain"')[2].partition("</div>")[0]
    crew = main_of(pages["winter/concert/crew/"])
    assert "ask on the day" in crew
    (entry,) = [one for one in pages["winter/concert/"].search if one.anchor == "rain"]
    assert words in entry.text
    (cycle,) = json.loads(plan_text(result.plan, result.plan.cycles))["cycles"]
    assert cycle["concert"]["rain"]["venue"] == "hall"


@pytest.mark.parametrize(
    ("rain", "codes"),
    [
        ("{venue: hal, decided: 2 pm}", ["unknown-venue"]),
        ("{venue: hall, rooms: {harbor: lawn}}", ["unknown-room"]),
        ("{venue: hall, rooms: {harbour: band-room}}", ["unknown-ensemble"]),
        ("{venue: hall, decided: 6:30 pm}", ["rain-plan-too-late"]),
        ("{venue: hall, decided: Fri 2026-12-11 at 9 am}", ["rain-plan-too-late"]),
        ("{date: Thu 2026-12-10}", ["rain-plan-too-late"]),
        ("{decided: 2 pm}", ["rain-plan-says-nothing"]),
        ("{date: Fri 2026-12-11, decided: 2 pm}", []),
    ],
)
def test_what_a_rain_plan_gets_wrong(rain: str, codes: list[str], tmp_path: Path) -> None:
    found = load(write_folder(tmp_path, files_of(OUTSIDE + f"rain: {rain}\n")))
    assert found.handbook is not None, found.problems
    assert [one.code for one in checked(REFERENCE_CHECKS, found.handbook)] == codes


def test_a_rain_date_on_a_closure_is_asked_about(tmp_path: Path) -> None:
    files = files_of(
        OUTSIDE.replace("Thu 2026-12-10", "Fri 2026-11-20") + "rain: {date: Mon 2026-11-23}\n"
    )
    found = load(write_folder(tmp_path, files)).handbook
    assert found is not None
    (problem,) = checked(REFERENCE_CHECKS, found)
    assert (problem.code, problem.address) == ("concert-on-closure", (CONCERT, "rain", "date"))

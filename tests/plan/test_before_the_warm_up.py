"""Steps before the warm-up, and rooms that a turn names: from YAML to times, rooms and pages.

Common practice, no source; the times are reckoned by hand, back from the downbeat at 7 pm: in
place 6:55, walk 6:50, warm-up 6:30, and before it the steps.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.checks import PLAN_CHECKS
from handbook.cli.plan_json import plan_text
from handbook.pipeline import checked
from tests.content_folders import base_files, changed
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, planned
from tests.plan.test_concert_day import (
    HEAD,
    PROGRAM,
    RIDE,
    STEPS,
    clashes,
    clocks,
    day,
    group,
    with_room,
)

TURNS = """
program:
  - {ensemble: harbor, pieces: [tweed-kites], room: dock}
  - {ensemble: lantern, pieces: [button-comets], room: band-room}
"""
BEFORE = """
before:
  - {name: Meal, minutes: 30, room: cafeteria}
  - {name: Photo, minutes: 10, ensembles: [harbor], place: On the steps}
"""
EVENING = HEAD + TURNS + STEPS + BEFORE
ROOMS = with_room("dock", "cafeteria")


def test_they_are_counted_back_into_the_call_the_room_and_the_bus(tmp_path: Path) -> None:
    found = day(tmp_path, EVENING + RIDE, ROOMS)
    harbor, lantern = group(found, "harbor"), group(found, "lantern")
    assert [(row.item.name.read(), clocks(row.start, row.end)) for row in harbor.beforehand] == [
        ("Meal", "17:50:00 18:20:00"),
        ("Photo", "18:20:00 18:30:00"),
    ]
    # Lantern is in place when the stage is free for it, at 7:04:53: warm-up from 6:39:53 on.
    assert [(row.item.name.read(), clocks(row.start, row.end)) for row in lantern.beforehand] == [
        ("Meal", "18:09:53 18:39:53"),
    ]
    # Ten minutes to unpack before the meal.
    assert clocks(harbor.times.unpack, harbor.call) == "17:40:00 17:40:00"
    assert clocks(lantern.times.unpack, lantern.call) == "17:59:53 17:55:00"
    held = {use.room.id: clocks(use.start, use.end) for use in found.uses if use.group}
    assert held["dock"] == "17:40:00 19:14:53"
    # At the bus before the earliest call by unloading, driving and loading: 10 + 25.
    (ride,) = found.rides
    assert ride.there is not None
    assert clocks(ride.there.call) == "17:40:00"


def test_a_meal_that_two_bands_take_at_other_times_needs_its_room_twice(tmp_path: Path) -> None:
    found = day(tmp_path, EVENING, ROOMS)
    assert clashes(found) == [("room_twice", ("before", 0), ("before", 0))]
    together = BEFORE.replace("room: cafeteria", "room: cafeteria, starts: 5:45 pm")
    whole = day(tmp_path / "together", HEAD + TURNS + STEPS + together, ROOMS)
    assert clashes(whole) == []
    (use,) = [one for one in whole.uses if one.room.id == "cafeteria"]
    assert ([one.id for one in use.ensembles], use.step) == (["harbor", "lantern"], True)


@pytest.mark.parametrize(("starts", "late"), [("6:20 pm", 0), ("6:21 pm", 1), ("6:50 pm", 30)])
def test_a_stated_time_must_leave_its_minutes(starts: str, late: int, tmp_path: Path) -> None:
    stated = BEFORE.replace("ensembles: [harbor]", f"ensembles: [harbor], starts: {starts}")
    harbor = group(day(tmp_path, HEAD + TURNS + STEPS + stated, ROOMS), "harbor")
    assert harbor.beforehand[1].late == late
    # What comes before it stays where it was: the photo must begin at 6:20 pm.
    assert clocks(harbor.beforehand[0].end) == "18:20:00"


def test_a_section_goes_with_its_band(tmp_path: Path) -> None:
    calls = "calls: [{ensemble: harbor, section: brass}, {role: crew}]\ncrew: [{id: crew, name: Crew}]\n"
    found = day(tmp_path, EVENING + calls, ROOMS)
    assert len(group(found, "harbor/brass").beforehand) == 2
    assert group(found, "role/crew").beforehand == ()


def test_a_turn_s_room_is_its_bands_unless_calls_say_another(tmp_path: Path) -> None:
    joined = TURNS.replace("harbor, pieces", "harbor, joined_by: [lantern], pieces").replace(
        "  - {ensemble: lantern, pieces: [button-comets], room: band-room}\n", ""
    )
    found = day(tmp_path, HEAD + joined + STEPS, ROOMS)
    rooms = {one.id: one.room.id if one.room else None for one in found.groups}
    assert rooms == {"harbor": "dock", "lantern": "dock"}
    # They warm up there together, so the room is not needed twice.
    assert found.conflicts == ()
    (use,) = [one for one in found.uses if one.group]
    assert [one.id for one in use.ensembles] == ["harbor", "lantern"]
    booked = "bookings: [{room: dock, start: 6:30 pm, end: 6:40 pm, what: Choir}]\n"
    (clash,) = day(tmp_path / "booked", HEAD + joined + STEPS + booked, ROOMS).conflicts
    both = {clash.first.what, clash.second.what}
    assert any("Harbor Band with Lantern Band, from warm-up to packed" in one for one in both)
    calls = "calls: [{ensemble: harbor, room: cafeteria}]\n"
    own = group(day(tmp_path / "calls", HEAD + TURNS + STEPS + calls, ROOMS), "harbor")
    assert own.room is not None
    assert own.room.id == "cafeteria"


def test_a_place_with_a_room_s_name_is_that_room(tmp_path: Path) -> None:
    taken = "bookings: [{room: dock, start: 6:00 pm, end: 6:40 pm, what: Choir}]\n"
    words = TURNS.replace("room: dock", "place: The DOCK")
    files = changed(ROOMS, PROGRAM, "id: dock, name: dock", "id: dock, name: The dock")
    found = day(tmp_path, HEAD + words + STEPS + taken, files)
    assert clashes(found) == [("room_twice", ("bookings", 0), ("program", 0))]


def test_pages_and_the_plan_tell_them(tmp_path: Path) -> None:
    files = {**base_files(), **changed(ROOMS, PROGRAM, "name: cafeteria", "name: Cafeteria")}
    result = planned(tmp_path, {**files, CONCERT: EVENING})
    pages = {page.path: page for page in site_of(result.plan).pages}
    sheet = main_of(pages["winter/concert/"])
    assert '<b class="num">5:50 pm</b> <span>Meal, Cafeteria, 30 min</span>' in sheet
    assert (
        sheet.index("Unpack in dock")
        < sheet.index("Meal, Cafeteria")
        < sheet.index("Warm-up in dock")
    )
    crew = main_of(pages["winter/concert/crew/"])
    assert "Before the warm-up" in crew
    assert "</b> Harbor Band: Photo, On the steps" in crew
    text = plan_text(result.plan, result.plan.cycles)
    assert '"room": "cafeteria"' in text


@pytest.mark.parametrize("shares", ["{lantern: 4}", "{lantern: 9}", "[lantern]"])
def test_two_bands_in_one_room_that_share_some_players(shares: str, tmp_path: Path) -> None:
    """Harbor's cases are in the dock until 7:14:53, while Lantern unpacks there from 7:00:53.

    Cases are in nobody's way, whoever is in both bands: a small school has one such room.
    """
    pause = "before: [{what: intermission, minutes: 40}], room: dock"
    both = TURNS.replace("room: band-room", pause)
    files = changed(
        ROOMS,
        PROGRAM,
        "    instruments: {flute: 4,",
        f"    shares_players_with: {shares}\n    instruments: {{flute: 4,",
    )
    found = day(tmp_path, HEAD + both + STEPS, files)
    assert not [one for one in clashes(found) if one[0] in {"room_twice", "warm_ups_together"}]


@pytest.mark.parametrize(
    ("hours", "told"),
    [
        # Harbor holds the dock from 6:20 pm until it has packed at 7:14:53 pm.
        ("starts: 5 pm, ends: 6:30 pm", True),
        ("starts: 5 pm, ends: 6:15 pm", False),
        ("starts: 7 pm, ends: 9 pm", True),
        ("starts: 7:15 pm, ends: 9 pm", False),
    ],
)
def test_an_event_in_a_room_that_the_concert_needs(hours: str, told: bool, tmp_path: Path) -> None:
    event = (
        f"events: [{{id: game, name: Game, date: 2026-12-10, {hours}, room: dock, away: none}}]\n"
    )
    files = {**ROOMS, CONCERT: HEAD + TURNS + STEPS, "events.yaml": event}
    found = checked(PLAN_CHECKS, planned(tmp_path, files).plan)
    taken = [one.message for one in found if one.code == "event-room-taken"]
    assert bool(taken) is told
    assert all("is in dock while Winter concert needs it" in one for one in taken)


def test_the_steps_say_who_joins_when(tmp_path: Path) -> None:
    turns = """
program:
  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor]}
  - {ensemble: lantern, pieces: [button-comets]}
"""
    result = planned(tmp_path, {**base_files(), CONCERT: HEAD + turns + STEPS})
    pages = {page.path: page for page in site_of(result.plan).pages}
    card = main_of(pages["winter/concert/"]).partition('id="day-lantern"')[2].partition("</ol>")[0]
    # 76 s together, four minutes of changeover, then alone from 7:05:16 on.
    assert "7:00 pm</b> <span>First note with Harbor Band<" in card
    assert "7:05 pm</b> <span>Play on alone<" in card
    crew = main_of(pages["winter/concert/crew/"])
    assert 'scope="col">Unpack</th>' in crew
    assert "Set up" not in crew  # nobody has anything to set up

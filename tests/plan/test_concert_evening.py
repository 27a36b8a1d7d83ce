"""Concert day's rooms, steps after playing, joined bands, buses and classes, from YAML to times.

Common practice, no source; the expected times are reckoned by hand from the pieces: Tweed
Kites, 32 measures of 3/4 at quarter = 108, lasts 96 * 60 / 108 = 53 1/3 s, and Button Comets,
64 quarters at 96 and 48 dotted quarters at 80, lasts 40 + 36 = 76 s.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.checks.concert_times import crew_span
from tests.content_folders import base_files, changed
from tests.plan.test_concert_day import (
    HEAD,
    PROGRAM,
    RIDE,
    STEPS,
    TURNS,
    clashes,
    clocks,
    day,
    group,
    with_room,
)

# Harbor plays 19:00:00 to 19:00:53 and is off the stage 4 minutes later; Lantern plays
# 19:04:53 to 19:06:09 and is off the stage at 19:10:09.
EVENING = HEAD + TURNS + STEPS
ROOMS = """
calls:
  - {ensemble: harbor, room: dock}
  - {ensemble: harbor, section: brass, room: dock, minutes: {duties: 15, strike: 5}}
  - {ensemble: lantern, room: band-room}
"""


def test_a_room_is_held_from_ready_to_packed(tmp_path: Path) -> None:
    found = day(tmp_path, EVENING + ROOMS, with_room("dock"))
    held = {use.room.id: clocks(use.start, use.end) for use in found.uses}
    # The brass is ready 15 minutes before its band, and strikes 5 minutes longer.
    assert held["dock"] == "18:05:00 19:19:53"
    assert held["band-room"] == "18:25:00 19:20:09"


def test_a_room_is_not_held_for_who_has_no_call(tmp_path: Path) -> None:
    calls = "calls: [{ensemble: harbor, room: dock}, {role: crew, room: dock}]\n"
    crew = "crew: [{id: crew, name: Crew}]\n"
    found = day(tmp_path, HEAD + TURNS + calls + crew, with_room("dock"))
    assert [use for use in found.uses if use.room.id == "dock"] == []


def test_the_stage_is_a_bands_from_in_place_on(tmp_path: Path) -> None:
    booked = "bookings: [{room: stage, start: 6:00 pm, end: 6:56 pm, what: Set the stage}]\n"
    files = changed(base_files(), PROGRAM, "Quill Street\n", "Quill Street\n    stage: stage\n")
    files = changed(files, PROGRAM, "venues:\n", "  - {id: stage, name: Stage}\nvenues:\n")
    found = day(tmp_path, EVENING + booked, files)
    on_stage = [clocks(use.start, use.end) for use in found.uses if use.room.id == "stage"][1:]
    assert on_stage == ["18:55:00 19:00:53", "19:04:53 19:06:09"]
    assert clashes(found) == [("room_twice", ("bookings", 0), ("program", 0))]
    together = EVENING.replace("harbor, pieces", "harbor, joined_by: [lantern], pieces")
    (clash,) = day(tmp_path / "both", together + booked, files).conflicts
    assert (clash.first.what, clash.second.what, clash.room) == (
        "“Set the stage” (6:00 pm to 6:56 pm)",
        "the turn of Harbor Band with Lantern Band on stage (6:55 pm to 7:01 pm)",
        "Stage",
    )
    early = booked.replace("6:56", "6:55")
    assert clashes(day(tmp_path / "early", EVENING + early, files)) == []


AFTER = """
after:
  - {name: Sight-reading, minutes: 30, ensembles: [harbor], room: dock}
  - {name: Photo, minutes: 5, place: On the steps}
"""


def test_steps_after_playing_are_in_the_day_and_before_the_bus(tmp_path: Path) -> None:
    found = day(tmp_path, EVENING + AFTER + RIDE, with_room("dock"))
    harbor, lantern = group(found, "harbor"), group(found, "lantern")
    assert [
        (step.item.name.read(), clocks(step.start, step.end), step.room.id if step.room else None)
        for step in harbor.afterward
    ] == [
        ("Sight-reading", "19:04:53 19:34:53", "dock"),
        ("Photo", "19:34:53 19:39:53", None),
    ]
    assert [step.item.name.read() for step in lantern.afterward] == ["Photo"]
    # 10 minutes to pack, 3 to the bus: it waits for Harbor Band, and takes 10 minutes to load.
    assert clocks(harbor.times.packed, lantern.times.packed) == "19:49:53 19:25:09"
    (ride,) = found.rides
    assert clocks(ride.back.load, ride.back.depart) == "19:52:53 20:02:53"
    assert (ride.early, ride.last) == (None, "harbor")
    used = [clocks(use.start, use.end) for use in found.uses if use.room.id == "dock"]
    assert used == ["19:04:53 19:34:53"]


def test_a_step_in_a_room_that_is_taken(tmp_path: Path) -> None:
    taken = "bookings: [{room: dock, start: 7:30 pm, end: 8:00 pm, what: Choir}]\n"
    found = day(tmp_path, EVENING + AFTER + taken, with_room("dock"))
    assert clashes(found) == [("room_twice", ("after", 0), ("bookings", 0))]


@pytest.mark.parametrize(("starts", "late"), [("7:04 pm", 1), ("7:05 pm", 0), ("7:30 pm", 0)])
def test_a_step_waits_until_the_band_is_off_the_stage(
    starts: str, late: int, tmp_path: Path
) -> None:
    after = AFTER.replace("minutes: 30", f"minutes: 30, starts: {starts}")
    found = group(day(tmp_path, EVENING + after, with_room("dock")), "harbor")
    assert found.afterward[0].late == late


@pytest.mark.parametrize(("leaves", "early"), [("8:02 pm", 1), ("8:03 pm", None), ("9 pm", None)])
def test_a_bus_that_leaves_before_they_are_in_it(
    leaves: str, early: int | None, tmp_path: Path
) -> None:
    """All are in the bus at 20:02:53."""
    ride = RIDE.replace("adults: 4", f"adults: 4\n      leaves: {leaves}")
    (found,) = day(tmp_path, EVENING + AFTER + ride, with_room("dock")).rides
    assert (found.early.shortfall if found.early else None) == early
    assert found.back.depart.strftime("%-I:%M %p").lower().replace(":00", "") == leaves


def test_each_band_leaves_the_stage_at_its_own_time(tmp_path: Path) -> None:
    stay = "calls: [{ensemble: harbor, stays: yes}, {ensemble: lantern, stays: yes}]\n"
    found = day(tmp_path, EVENING + stay)
    harbor, lantern = group(found, "harbor").times, group(found, "lantern").times
    assert clocks(harbor.off_stage, harbor.packing) == "19:04:53 19:10:09"
    assert clocks(lantern.off_stage, lantern.packing) == "19:10:09 19:10:09"


JOINED = """
program:
  - {ensemble: harbor, pieces: [tweed-kites], joined_by: [lantern], call: 6:05 pm, place: Gym}
"""


@pytest.mark.parametrize("steps", ["", STEPS])
def test_who_joins_is_called_with_those_it_joins(steps: str, tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + JOINED + steps)
    lantern = group(found, "lantern")
    assert clocks(lantern.call, lantern.report) == "18:05:00 18:05:00"
    assert lantern.place is not None
    assert lantern.place.read() == "Gym"
    assert [one.id for one in lantern.stints[0].partners] == ["harbor"]
    assert clocks(lantern.times.first_note, lantern.times.last_note) == "19:00:00 19:00:53"


def test_a_joined_band_that_plays_by_itself_too_keeps_its_own_call(tmp_path: Path) -> None:
    both = """
program:
  - {ensemble: lantern, pieces: [button-comets], call: 6:20 pm, place: Gym}
  - {ensemble: harbor, pieces: [tweed-kites]}
  - {ensemble: harbor, pieces: [tweed-kites], joined_by: [lantern], call: 5:00 pm, place: Attic}
"""
    found = day(tmp_path, HEAD + both)
    lantern = group(found, "lantern")
    assert clocks(lantern.call) == "18:20:00"
    # 19:00:00 to 19:01:16, then, with Harbor Band, 19:05:16 + 53 s + 4 minutes of changeover.
    assert [clocks(one.start, one.end) for one in lantern.stints] == [
        "19:00:00 19:01:16",
        "19:10:09 19:11:02",
    ]
    assert [one.goes_on for one in group(found, "harbor").stints] == [False, True]


FESTIVAL = HEAD.replace("7:00 pm", "1:00 pm") + TURNS + 'during_school: "yes"\n'


@pytest.mark.parametrize(
    # Harbor Band rehearses on Thursdays in period 4, from 10:55 to 11:40.
    ("call", "missed"),
    [("11:39 am", ["harbor"]), ("11:40 am", []), ("9:00 am", ["harbor"])],
)
def test_classes_of_who_is_away_are_found(call: str, missed: list[str], tmp_path: Path) -> None:
    found = day(tmp_path, FESTIVAL.replace("[tweed-kites]", f"[tweed-kites], call: {call}"))
    assert [one.ensemble.id for one in found.missed] == missed
    for one in found.missed:
        assert clocks(one.start, one.end) == "10:55:00 11:40:00"


@pytest.mark.parametrize(
    ("pick_up", "missed"), [("10:55 am", []), ("10:56 am", ["harbor"]), ("11:40 am", ["harbor"])]
)
def test_a_class_that_begins_as_its_players_are_back_is_held(
    pick_up: str, missed: list[str], tmp_path: Path
) -> None:
    morning = FESTIVAL.replace("1:00 pm", "9:00 am").replace(
        "[tweed-kites]", "[tweed-kites], call: 8:30 am"
    )
    found = day(tmp_path, f"{morning}pick_up: {pick_up}\n")
    assert [one.ensemble.id for one in found.missed] == missed


def test_a_band_is_away_from_the_bus_on(tmp_path: Path) -> None:
    """The bus loads at 11:25 am for a call at 12:05 pm: 25 minutes on the road, 10 to load, 5 to unload."""
    concert = FESTIVAL.replace("[tweed-kites]", "[tweed-kites], call: 12:05 pm")
    assert day(tmp_path, concert).missed == ()
    (missed,) = day(tmp_path / "bus", concert + RIDE).missed
    assert clocks(missed.away[0]) == "11:25:00"


def test_classes_of_who_shares_players_with_them_are_found(tmp_path: Path) -> None:
    concert = FESTIVAL.replace("[button-comets]", "[button-comets], call: 10:00 am")
    assert day(tmp_path, concert).missed == ()
    files = changed(
        base_files(),
        PROGRAM,
        "  - id: harbor\n",
        "  - id: harbor\n    shares_players_with: [lantern]\n",
    )
    (missed,) = day(tmp_path / "shared", concert, files).missed
    assert (missed.ensemble.id, missed.because.id, missed.shared) == ("harbor", "lantern", None)
    files = changed(files, PROGRAM, "[lantern]", "{lantern: 4}")
    (missed,) = day(tmp_path / "counted", concert, files).missed
    assert missed.shared == 4


def test_a_concert_in_the_evening_takes_no_class(tmp_path: Path) -> None:
    assert day(tmp_path, EVENING).missed == ()


def test_the_crews_time_is_from_ready_to_done(tmp_path: Path) -> None:
    crew = """
calls: [{role: truck, call: 5:00 pm, minutes: {duties: 30, strike: 20}}]
crew: [{id: truck, name: Truck, tasks: [Unload, {what: Load, by: 5:30 pm}]}]
"""
    found = day(tmp_path, EVENING + crew)
    truck = group(found, "role/truck")
    # 20 minutes after the end at 19:06:09, to the next mark of 5 minutes.
    assert clocks(*crew_span(truck)) == "17:00:00 19:30:00"
    assert truck.role is not None
    assert [(task.what.read(), task.by is not None) for task in truck.role.tasks] == [
        ("Unload", False),
        ("Load", True),
    ]


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        pytest.param("", (0, 0), id="the usual changeover leaves no time to sit"),
        pytest.param("changeover: 0\n", (0, 0), id="nothing is reset"),
        pytest.param(
            "calls: [{ensemble: lantern, minutes: {in_place: 3}}]\n", (0, 3), id="but it is stated"
        ),
        pytest.param(
            "calls: [{ensemble: harbor, minutes: {in_place: 7}}]\n", (0, 0), id="the first to play"
        ),
        pytest.param("remarks 3, changeover 3", (0, 5), id="the reset waits for remarks"),
        pytest.param("remarks 1, changeover 3, remarks 3", (0, 2), id="and for some of them"),
        pytest.param("changeover 3, remarks 3", (0, 0), id="the reset comes first"),
    ],
)
def test_minutes_in_place_that_the_stage_takes(
    more: str, expected: tuple[int, int], tmp_path: Path
) -> None:
    """Told where the director can have them back: stated for this band, or lost to remarks."""
    concert = EVENING + more
    if more.startswith(("remarks", "changeover 3")):
        pauses = [one.split() for one in more.split(", ")]
        before = ", ".join(f"{{what: {what}, minutes: {minutes}}}" for what, minutes in pauses)
        concert = EVENING.replace("lantern, pieces", f"lantern, before: [{before}], pieces")
    found = day(tmp_path, concert)
    assert tuple(one.short_in_place for one in found.groups) == expected


def test_a_reset_that_waits_takes_no_minutes_from_another_band(tmp_path: Path) -> None:
    lantern = "  - {ensemble: lantern, pieces: [button-comets]}\n"
    pauses = "{what: remarks, minutes: 1}, {what: changeover, minutes: 4}"
    again = f"  - {{ensemble: harbor, before: [{pauses}], pieces: [tweed-kites]}}\n"
    found = day(tmp_path, EVENING.replace(lantern, lantern + again))
    assert [one.short_in_place for one in found.groups] == [0, 0]

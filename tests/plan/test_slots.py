"""Turns with an hour of their own: a festival with two slots and sight-reading, a matinee and an evening.

Common practice, no source; the times are reckoned by hand. Tweed Kites lasts 53 1/3 s, Button
Comets 76 s (see test_concert_evening).
"""

from __future__ import annotations

from datetime import time
from pathlib import Path

import pytest

from handbook.checks import PLAN_CHECKS, REFERENCE_CHECKS
from handbook.loader import load
from handbook.pipeline import checked, load_problems
from handbook.plan.concert_model import ConcertDay
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, planned, winter
from tests.plan.test_concert_day import PROGRAM, clocks, day, group, told, with_room

FESTIVAL = """
name: Valley festival
date: Thu 2026-12-10
downbeat: 10:20 am
venue: hall
during_school: "yes"
program:
  - {ensemble: harbor, pieces: [tweed-kites], first_note: 10:20 am}
  - {ensemble: lantern, pieces: [button-comets], first_note: 1:10 pm}
allowances:
  {unpack: 10, warm_up: 20, walk: 5, in_place: 5, walk_back: 4, pack: 10, to_door: 3}
calls:
  - {ensemble: harbor, room: dock}
  - {ensemble: lantern, room: dock}
after:
  - {name: Sight-reading, minutes: 25, room: sight-room}
travel:
  meet: Bus loop
  load: 15
  drive: 45
  rides:
    - {ensembles: [harbor], adults: 3, buses: [{id: bus-1, seats: 52}]}
    - {ensembles: [lantern], adults: 3, buses: [{id: bus-2, seats: 52}]}
"""


def festival(folder: Path, text: str = FESTIVAL) -> ConcertDay:
    return day(folder, text, with_room("dock", "sight-room"))


def test_each_band_has_its_hour_and_its_own_way_to_it(tmp_path: Path) -> None:
    found = festival(tmp_path)
    # The stage is reset in the usual changeover of 4 minutes, then they wait.
    assert told(found) == [
        "10:20:00 piece 53.3",
        "10:20:53 changeover 240.0",
        f"10:24:53 wait {2 * 3600 + 45 * 60 + 6 + 2 / 3:.1f}",
        "13:10:00 piece 76.0",
    ]
    harbor, lantern = group(found, "harbor"), group(found, "lantern")
    # 40 minutes before each first note; 4 + 25 + 10 minutes after the last one.
    assert clocks(harbor.times.call, harbor.times.packed) == "09:40:00 10:59:53"
    assert clocks(lantern.times.call, lantern.times.in_place) == "12:30:00 13:05:00"
    assert clocks(lantern.times.packed) == "13:50:16"
    assert clocks(harbor.report, lantern.report) == "08:40:00 11:30:00"
    # Packed, 3 minutes to the bus, 15 to load, 45 on the way.
    assert clocks(found.rides[1].back.arrive) == "14:53:16"
    assert (harbor.again, lantern.again, lantern.short_in_place) == ((), (), 0)
    rooms = [(use.room.id, clocks(use.start, use.end)) for use in found.uses]
    assert ("dock", "09:40:00 10:59:53") in rooms
    assert ("dock", "12:30:00 13:50:16") in rooms
    assert ("sight-room", "10:24:53 10:49:53") in rooms
    assert found.conflicts == ()


def test_a_morning_that_is_said_is_not_asked_about(tmp_path: Path) -> None:
    quiet = FESTIVAL.replace('during_school: "yes"\n', "")
    for name, text, codes in (
        ("hours", quiet, []),
        ("school", FESTIVAL.replace(", first_note: 10:20 am", ""), []),
        ("neither", quiet.replace(", first_note: 10:20 am", ""), ["morning-concert"]),
    ):
        files = {**with_room("dock", "sight-room"), CONCERT: text}
        found = load(write_folder(tmp_path / name, {**base_files(), **files})).handbook
        assert found is not None
        told_codes = [one.code for one in checked(REFERENCE_CHECKS, found)]
        assert told_codes == codes, name


@pytest.mark.parametrize(("hour", "short"), [("10:24 am", 1), ("10:25 am", None), ("9:00 am", 85)])
def test_what_comes_before_must_be_over_by_then(
    hour: str, short: int | None, tmp_path: Path
) -> None:
    """Harbor's last note sounds at 10:20:53, and the stage is reset at 10:24:53."""
    found = festival(tmp_path, FESTIVAL.replace("1:10 pm", hour))
    late = [turn.short for turn in found.late_turns]
    assert late == ([] if short is None else [short])


def test_the_first_hour_is_the_downbeat_if_none_is_stated(tmp_path: Path) -> None:
    unsaid = FESTIVAL.replace("downbeat: 10:20 am\n", "")
    found = festival(tmp_path, unsaid)
    assert told(found)[0] == "10:20:00 piece 53.3"
    assert found.late_turns == ()
    # It stands before the usual one of the program.
    usual = "usual: {concert: {downbeat: 7:00 pm}}\n"
    files = with_room("dock", "sight-room")
    files[PROGRAM] += usual
    assert told(day(tmp_path / "usual", unsaid, files))[0] == "10:20:00 piece 53.3"
    # One that cannot be read is told once, where it is written.
    odd = {**files, CONCERT: unsaid.replace("first_note: 10:20 am", "first_note: ten")}
    problems = load(write_folder(tmp_path / "odd", {**base_files(), **odd})).problems
    assert [one.address[-1] for one in problems if one.code == "unreadable-time"] == ["first_note"]
    # What is wrong with it is told at its own line.
    late = unsaid + "opens: 11:00 am\n"
    outcome = load_problems(
        write_folder(tmp_path / "late", {**base_files(), **files, CONCERT: late})
    )
    (problem,) = [one for one in outcome.problems if one.code == "venue-hours-backward"]
    assert [note.address for note in problem.notes] == [(CONCERT, "program", 0, "first_note")]


def test_no_turn_begins_before_the_downbeat(tmp_path: Path) -> None:
    found = festival(tmp_path, FESTIVAL.replace("downbeat: 10:20", "downbeat: 10:30"))
    (late,) = found.late_turns
    assert (late.stated.time(), late.short, late.address[-2:]) == (
        time(10, 20),
        10,
        (0, "first_note"),
    )


def test_remarks_before_a_slot_end_with_its_first_note(tmp_path: Path) -> None:
    text = FESTIVAL.replace(
        "first_note: 1:10 pm",
        "first_note: 1:10 pm, before: [{what: changeover, minutes: 5}, {what: remarks, minutes: 2}]",
    )
    rows = told(festival(tmp_path, text))
    assert [row.split()[1] for row in rows] == ["piece", "changeover", "wait", "remarks", "piece"]
    assert rows[-2:] == ["13:08:00 remarks 120.0", "13:10:00 piece 76.0"]


# Lantern plays a matinee and in the evening; Harbor in the evening alone.
TWICE = """
name: Winter shows
date: Thu 2026-12-10
downbeat: 2:00 pm
venue: hall
during_school: "yes"
program:
  - {ensemble: lantern, pieces: [button-comets], call: 1:15 pm}
  - {ensemble: harbor, pieces: [tweed-kites], first_note: 7:00 pm}
  - {ensemble: lantern, pieces: [button-comets], first_note: 7:30 pm, call: 6:45 pm}
allowances:
  {duties: 5, unpack: 10, warm_up: 20, walk: 5, in_place: 5, walk_back: 4, pack: 10}
calls:
  - {ensemble: lantern, room: dock}
"""


def test_a_band_with_two_hours_gathers_again(tmp_path: Path) -> None:
    lantern = group(festival(tmp_path, TWICE), "lantern")
    (again,) = lantern.again
    times = again.times
    assert clocks(lantern.call, again.call) == "13:15:00 18:45:00"
    # Nothing to set up a second time: 40 minutes before 7:30 pm.
    assert clocks(times.call, times.unpack, times.warm_up) == "18:50:00 18:50:00 19:00:00"
    assert clocks(times.walk, times.in_place, times.first_note) == "19:20:00 19:25:00 19:30:00"
    assert clocks(times.off_stage) == "14:05:16"
    assert again.late_call is None
    assert clocks(lantern.times.packed) == "19:45:16"
    assert [clocks(stint.start, stint.end) for stint in lantern.stints] == [
        "14:00:00 14:01:16",
        "19:30:00 19:31:16",
    ]


def test_its_room_is_free_in_between(tmp_path: Path) -> None:
    found = festival(tmp_path, TWICE)
    held = [clocks(use.start, use.end) for use in found.uses if use.room.id == "dock"]
    assert held == ["13:15:00 14:05:16", "18:50:00 19:45:16"]
    booked = TWICE + "bookings: [{room: dock, start: 2:30 pm, end: 6:30 pm, what: Choir}]\n"
    assert festival(tmp_path / "booked", booked).conflicts == ()
    late = booked.replace("6:30 pm", "6:55 pm")
    assert len(festival(tmp_path / "late", late).conflicts) == 1


def test_a_second_call_that_is_too_late_is_told(tmp_path: Path) -> None:
    files = with_room("dock", "sight-room") | {CONCERT: TWICE.replace("6:45 pm", "7:00 pm")}
    result = planned(tmp_path, files)
    (problem,) = [one for one in checked(PLAN_CHECKS, result.plan) if one.code == "call-too-late"]
    assert "ready in the room again at 7:00 pm, has 10 minutes too few" in problem.message
    assert problem.address[-3:] == ("program", 2, "call")


def test_who_stays_on_stage_is_not_called_again(tmp_path: Path) -> None:
    soon = TWICE.replace("first_note: 7:30 pm, call: 6:45 pm", "first_note: 2:20 pm").replace(
        "  - {ensemble: harbor, pieces: [tweed-kites], first_note: 7:00 pm}\n", ""
    )
    lantern = group(festival(tmp_path, soon), "lantern")
    assert lantern.again == ()
    assert len(lantern.stints) == 2


def test_who_is_back_before_school_is_out_goes_to_class(tmp_path: Path) -> None:
    """Harbor is back at 12:05 pm and Lantern at 2:55 pm; school is out at 3:10 pm."""
    files = with_room("dock", "sight-room")
    found = festival(tmp_path)
    assert [one.to_class for one in found.groups] == [True, True]
    stated = festival(tmp_path / "stated", FESTIVAL + "pick_up: 3:30 pm\n")
    assert [one.to_class for one in stated.groups] == [False, False]
    result = planned(tmp_path / "pages", {**files, CONCERT: FESTIVAL})
    sheet = main_of(
        next(one for one in site_of(result.plan).pages if one.path == "winter/concert/")
    )
    assert "<h2>Back at school, then class</h2>" in sheet
    assert "Then class</span>" in sheet
    assert "Pick-up" not in sheet


def test_pages_tell_both_hours(tmp_path: Path) -> None:
    files = with_room("dock", "sight-room") | {CONCERT: TWICE}
    files = changed(
        {**base_files(), **files}, PROGRAM, "id: dock, name: dock", "id: dock, name: Dock"
    )
    cycle = winter(planned(tmp_path, files))
    pages = {page.path: page for page in site_of(planned(tmp_path, files).plan).pages}
    sheet = main_of(pages["winter/concert/"])
    assert "Lantern Band, again" in sheet
    assert "Ready in the room again, Dock" in sheet
    assert "First note again" in sheet
    assert '<span class="small num">7:00 pm</span>' in sheet
    crew = main_of(pages["winter/concert/crew/"])
    assert "Pause until the next hour" in crew
    assert "Changeover" not in crew  # each is a part of the pause that follows it
    assert "The concert ends at about" not in sheet
    assert "Lantern Band, again" in crew
    top, stages, _ = main_of(pages["winter/harbor/"]).partition('<h2 id="stages">')
    assert stages
    assert '<span class="next-time">7:00 pm</span>' in top
    assert "<b>Thu, Dec 10, 7:00 pm</b>" in top
    assert cycle.concert is not None

"""The year sheet, reckoned by hand from the bells of the shared folder.

Its periods are p3, 10:05 to 10:50, and p4, 10:55 to 11:40, and school is out at 3:10 pm; Lantern
Band (21 players) meets in p3 on Mondays and Wednesdays, Harbor Band (9) in p4 on Tuesdays and
Thursdays.
"""

from __future__ import annotations

from pathlib import Path

from handbook.plan.year_sheet import year_sheets
from handbook.plan.year_sheet_model import BandAway, OfficeKind, OfficeRow, YearSheet
from tests.content_folders import base_files, changed
from tests.plan.planning import CONCERT, CYCLE, YEAR, planned

PROGRAM = "program.yaml"
EVENTS = """events:
  - {id: visit, name: Visit, date: Wed 2026-11-04, who: [lantern], starts: 10 am, ends: 11:10 am}
  - {id: fanfare, name: Fanfare, date: Wed 2026-11-11, who: [lantern], players: [trumpet], starts: 11 am, ends: 11:20 am, room: band-room}
  - {id: trip, name: Trip, from: Thu 2026-11-19, to: Fri 2026-11-20, who: [harbor], away: all day}
  - {id: picnic, name: Picnic, date: Tue 2027-05-04, who: [harbor, lantern], starts: 4 pm, ends: 6 pm}
  - {id: parade, name: Parade, date: Tue 2027-05-11, who: [lantern], starts: 10 am, ends: 11 am, cancelled: Storm}
  - {id: later, name: Later, date: Tue 2027-09-07, who: [lantern], starts: 10 am, ends: 11 am}
  - {id: forms, name: Forms, due: Fri 2026-11-06}
"""
EXTRA = """extra:
  - {ensemble: lantern, date: Tue 2026-12-01, start: 3:00 pm, end: 4:30 pm, name: Late}
  - {ensemble: lantern, date: Thu 2026-12-03, start: 1 pm, end: 2 pm, name: Early}
  - ensemble: lantern
    date: Tue 2026-12-08
    start: 11:15
    end: 12:00
    name: Away
    ride: {meet: Bus loop, leaves: "11:00", back: "12:30"}
    pick_up: 12:45
"""


def sheet(folder: Path, **more: str) -> YearSheet:
    files = base_files()
    shares = changed(
        files,
        PROGRAM,
        "    room: band-room\n    instruments: {flute: 4",
        "    room: band-room\n    shares_players_with: {lantern: 3}\n    instruments: {flute: 4",
    )
    found = {
        "events.yaml": EVENTS,
        CYCLE: files[CYCLE] + EXTRA,
        PROGRAM: shares[PROGRAM],
        **more,
    }
    (only,) = year_sheets(planned(folder, found).plan)
    return only


def rows(found: YearSheet) -> dict[str, OfficeRow]:
    return {str(row.name): row for row in found.rows}


def missed(band: BandAway) -> list[tuple[int, str, int, bool]]:
    return [
        (one.period.start.day, one.period.id, one.minutes, one.period.own) for one in band.missed
    ]


def test_classes_of_other_teachers_are_told_from_the_bands_own(tmp_path: Path) -> None:
    (lantern,) = rows(sheet(tmp_path))["Visit"].bands
    assert missed(lantern) == [(4, "p3", 45, True), (4, "p4", 15, False)]
    assert (lantern.minutes, lantern.own_minutes, lantern.players) == (15, 45, 21)


def test_only_those_who_are_asked_for_are_counted(tmp_path: Path) -> None:
    row = rows(sheet(tmp_path))["Fanfare"]
    (lantern,) = row.bands
    assert (lantern.players, lantern.some, row.players, lantern.minutes) == (7, True, 7, 20)


def test_a_trip_of_two_days_misses_the_classes_of_both(tmp_path: Path) -> None:
    (harbor,) = rows(sheet(tmp_path))["Trip"].bands
    assert missed(harbor) == [
        (19, "p3", 45, False),
        (19, "p4", 45, True),
        (20, "p3", 45, False),
        (20, "p4", 45, False),
    ]


def test_a_period_has_its_name(tmp_path: Path) -> None:
    year = base_files()[YEAR].replace("{id: p4, ", "{id: p4, name: Fourth hour, ")
    (lantern,) = rows(sheet(tmp_path, **{YEAR: year}))["Visit"].bands
    assert [str(one.period.name) for one in lantern.missed] == ["None", "Fourth hour"]


def test_a_period_without_class_is_not_missed(tmp_path: Path) -> None:
    year = base_files()[YEAR].replace("{id: p4, ", "{id: p4, class_time: no, ")
    (lantern,) = rows(sheet(tmp_path, **{YEAR: year}))["Visit"].bands
    assert missed(lantern) == [(4, "p3", 45, True)]


def test_players_of_two_bands_are_counted_once(tmp_path: Path) -> None:
    assert rows(sheet(tmp_path))["Picnic"].players == 21 + 9 - 3


def test_what_is_cancelled_calls_nobody_and_what_is_of_another_year_is_left_out(
    tmp_path: Path,
) -> None:
    found = rows(sheet(tmp_path))
    assert (found["Parade"].bands, found["Parade"].rooms) == ((), ())
    assert found["Parade"].cancelled is not None
    assert "Later" not in found
    assert "Forms" not in found


def test_rooms_after_hours(tmp_path: Path) -> None:
    found = rows(sheet(tmp_path))
    told = {name: [(one.room.id, one.after_hours) for one in found[name].rooms] for name in found}
    assert told["Late"] == [("band-room", True)]
    assert told["Early"] == [("band-room", False)]
    assert told["Fanfare"] == [("band-room", False)]


def test_what_ends_as_school_does_is_not_after_hours(tmp_path: Path) -> None:
    for minute, late in ((10, False), (11, True)):
        cycle = base_files()[CYCLE] + EXTRA.replace("end: 2 pm", f"end: 3:{minute} pm")
        found = rows(sheet(tmp_path / f"{minute}", **{CYCLE: cycle}))
        assert [one.after_hours for one in found["Early"].rooms] == [late]


def test_who_rides_back_after_a_rehearsal_is_away_until_then(tmp_path: Path) -> None:
    """Of p4, 10:55 to 11:40, the bus at 11 takes 40 minutes; the one back at 11:30 takes 35, and all of p3."""
    ride = EXTRA.replace("    pick_up: 12:45\n", "")
    early = ride.replace('"11:00", back: "12:30"', '"10:00", back: "11:30"').replace(
        "start: 11:15\n    end: 12:00", "start: 10:15\n    end: 10:45"
    )
    for extra, over, told in (
        (ride, "12:30", [(8, "p4", 40, False)]),
        (early, "11:30", [(8, "p3", 45, False), (8, "p4", 35, False)]),
    ):
        row = rows(sheet(tmp_path / over[:2], **{CYCLE: base_files()[CYCLE] + extra}))["Away"]
        assert row.over is not None
        assert f"{row.over:%H:%M}" == over
        assert missed(row.bands[0]) == told


def test_a_ride_is_part_of_the_time_away(tmp_path: Path) -> None:
    row = rows(sheet(tmp_path))["Away"]
    assert row.kind is OfficeKind.REHEARSAL
    assert [f"{moment:%H:%M}" for moment in (row.begins, row.starts, row.over) if moment] == [
        "11:00",
        "11:15",
        "12:45",
    ]
    assert missed(row.bands[0]) == [(8, "p4", 40, False)]


def test_a_band_in_sum(tmp_path: Path) -> None:
    """Other classes: 15 of p4 for all 21, 20 for seven trumpets, 40 for all; own 45."""
    lantern = sheet(tmp_path).bands[0]
    assert (lantern.periods, lantern.minutes, lantern.own_minutes) == (3, 15 + 20 + 40, 45)
    assert lantern.player_minutes == 15 * 21 + 20 * 7 + 40 * 21
    assert (lantern.beside, lantern.beside_minutes) == (3, 90 + 60 + 45)
    # By a wall calendar from October 19 to December 9, Fall break and the day of the visit left
    # out: October 19, 26, November 2, 9, 16, 30, December 7, and October 21, 28, November 11, 18,
    # December 2, 9.
    assert lantern.in_class == 13


def test_a_concert_has_its_hours_rooms_and_players(tmp_path: Path) -> None:
    row = next(one for one in sheet(tmp_path).rows if one.kind is OfficeKind.CONCERT)
    assert row.starts is not None
    assert f"{row.starts:%H:%M}" == "19:00"
    assert row.players == 27
    assert {one.band for one in row.bands} == {"lantern", "harbor"}


CREW = """\
name: Winter concert
date: Thu 2026-12-10
downbeat: 11:30
venue: hall
program: [{ensemble: lantern, pieces: [button-comets]}]
not_playing: [{ensemble: harbor, why: It is the crew}]
crew: [{id: stage-crew, name: Stage crew, people: 4, ensemble: harbor}]
calls:
  - {ensemble: lantern, minutes: {unpack: 5, warm_up: 20, walk: 5, pack: 10}, call: "10:50"}
  - {role: stage-crew, minutes: {duties: 60, strike: 15}, call: "10:20"}
pick_up: 1 pm
during_school: yes
"""


def test_a_band_that_is_the_crew_is_there_too(tmp_path: Path) -> None:
    found = sheet(tmp_path, **{CONCERT: CREW})
    row = next(one for one in found.rows if one.kind is OfficeKind.CONCERT)
    told = {one.band: (one.players, one.some, missed(one)) for one in row.bands}
    assert row.players == 21 + 4
    assert told["lantern"] == (21, False, [(10, "p4", 45, False)])
    assert told["harbor"] == (4, True, [(10, "p3", 30, False), (10, "p4", 45, True)])


HALL = """\
    name: Great Hall
    stage: great-stage
    rooms: [{id: great-stage, name: Great stage}, {id: dock, name: Dock}]
"""
EVENING = """\
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
program: [{ensemble: lantern, pieces: [button-comets], room: band-room, call: 6:15 pm}]
not_playing: [{ensemble: harbor, why: It is the crew}]
crew:
  - {id: stage-crew, name: Stage crew, people: 4, ensemble: harbor}
  - {id: loaders, name: Loading adults, people: 2}
calls:
  - {ensemble: lantern, minutes: {unpack: 5, warm_up: 20, walk: 5, walk_back: 5, pack: 10}}
  - {role: stage-crew, minutes: {duties: 60, strike: 15}, call: 5:45 pm, pick_up: 7:40 pm}
  - {role: loaders, room: store, minutes: {duties: 90, strike: 30}, call: 5:30 pm, pick_up: 7:50 pm}
equipment: [{id: drum, name: Drum, from: store, to: great-stage, who: loaders}]
pick_up: 8 pm
pick_up_place: Band room
"""


def evening(folder: Path, concert: str, old: str = "", new: str = "") -> OfficeRow:
    assert not old or concert.count(old) == 1
    program = base_files()[PROGRAM].replace("    name: Great Hall\n", HALL)
    program = program.replace(
        "    name: Band room\n", "    name: Band room\n  - {id: store, name: Store}\n"
    )
    found = sheet(folder, **{PROGRAM: program, CONCERT: concert.replace(old, new)})
    return next(one for one in found.rows if one.kind is OfficeKind.CONCERT)


def hours(row: OfficeRow) -> dict[str, tuple[str, str]]:
    return {one.room.id: (f"{one.start:%H:%M}", f"{one.end:%H:%M}") for one in row.rooms}


def test_a_room_is_needed_as_long_as_anybody_is_in_it(tmp_path: Path) -> None:
    """The adults load from the store to the stage from 5:30 to 7:50 pm; players wait till 8."""
    assert hours(evening(tmp_path, EVENING)) == {
        "store": ("17:30", "19:50"),  # nobody but the adults
        "great-stage": ("17:30", "19:50"),  # the adults first and last; its crew from 5:45 to 7:40
        "band-room": ("18:15", "20:00"),  # from the call of the band; all are collected there
    }


def test_a_room_is_open_to_a_band_that_has_duties_before_its_call(tmp_path: Path) -> None:
    """Walk 5, warm up 20, unpack 5 and duties 30 before 7 pm are an hour; its call says 6:15."""
    own = "{ensemble: lantern, minutes: {"
    assert hours(evening(tmp_path, EVENING, own, f"{own}duties: 30, "))["band-room"] == (
        *("18:00", "20:00"),
    )


def test_a_crew_without_a_room_is_on_the_stage(tmp_path: Path) -> None:
    """It strikes till 8:10 pm, its own hour, after the adults at 7:50 pm; it came after them."""
    row = evening(tmp_path, EVENING, "pick_up: 7:40 pm", "pick_up: 8:10 pm")
    assert hours(row)["great-stage"] == ("17:30", "20:10")


def test_who_is_collected_elsewhere_has_left_the_room(tmp_path: Path) -> None:
    """Sixty-four beats at 96 are 40 s, forty-eight at 80 are 36 s: packed 15 min after 7:01:16."""
    row = evening(tmp_path, EVENING, "pick_up_place: Band room", "pick_up_place: Front door")
    assert hours(row)["band-room"] == ("18:15", "19:17")


def test_where_no_place_is_named_players_wait_in_their_room(tmp_path: Path) -> None:
    row = evening(tmp_path, EVENING, "pick_up_place: Band room\n")
    assert hours(row)["band-room"] == ("18:15", "20:00")


def test_players_are_there_from_their_own_time_and_adults_do_not_count(tmp_path: Path) -> None:
    """The adults come at 5:30 pm, four of Harbor Band as the crew at 5:45, Lantern Band at 6:15."""
    row = evening(tmp_path, EVENING)
    assert [f"{at:%H:%M}" for at in (row.begins, row.over) if at] == ["17:45", "20:00"]
    assert {one.band: f"{one.begins:%H:%M}" for one in row.bands if one.begins} == {
        "lantern": "18:15",
        "harbor": "17:45",
    }


TRUCK = """\
bookings:
  - {room: dock, start: 6:20 pm, end: 6:40 pm, what: Load-in, who: loaders}
  - {room: dock, start: 7:15 pm, end: 7:45 pm, what: Load-out, who: loaders}
travel: {meet: Bus loop, load: 10, drive: 20, unload: 5, rides: [{ensembles: [lantern], buses: [{id: a, seats: 40}]}]}
"""


def test_a_crew_that_drives_on_holds_its_room_only_before(tmp_path: Path) -> None:
    """It loads in the store from 5:30 pm, and is at the dock from 6:20, as is booked for it.

    The bus of Lantern Band is called 35 minutes before 6:15 pm, at 5:40; all are collected at 8.
    """
    row = evening(tmp_path, EVENING + TRUCK, "to: great-stage", "to: dock")
    told = hours(row)
    assert (told["store"], told["dock"]) == (("17:30", "18:20"), ("18:20", "19:45"))
    assert [str(one.crew[0]) for one in row.rooms if one.crew] == ["Loading adults"] * 2
    assert row.begins is not None
    assert f"{row.begins:%H:%M}" == "17:40"


def test_a_room_is_open_until_those_who_rehearsed_are_collected(tmp_path: Path) -> None:
    """From 3:00 to 4:30 pm, collected at 5; those who ride at 12:30 leave the room at 12."""
    late = EXTRA.replace("end: 4:30 pm, name: Late", "end: 4:30 pm, pick_up: 5 pm, name: Late")
    assert late != EXTRA
    found = rows(sheet(tmp_path, **{CYCLE: base_files()[CYCLE] + late}))
    assert hours(found["Late"]) == {"band-room": ("15:00", "17:00")}
    assert hours(found["Away"]) == {"band-room": ("11:15", "12:00")}

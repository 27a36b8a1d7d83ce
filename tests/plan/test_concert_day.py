"""Concert day from YAML to reckoned times.

The order of a concert evening, its allowances and the rounding of calls to 5 minutes are
common practice, no source; the expected times are reckoned by hand from the pieces:
Tweed Kites, 32 measures of 3/4 at quarter = 108, lasts 96 * 60 / 108 = 53 1/3 s, and Button
Comets, 64 quarters at 96 and 48 dotted quarters at 80, lasts 40 + 36 = 76 s.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from fractions import Fraction
from pathlib import Path

import pytest

from handbook.domain.run_of_show import ItemKind
from handbook.domain.seating import Setup
from handbook.plan.concert_model import ConcertDay, GroupDay
from tests.content_folders import base_files, changed
from tests.plan.planning import CONCERT, YEAR, planned, winter

PROGRAM = "program.yaml"
HEAD = """
name: Winter concert
date: Thu 2026-12-10
downbeat: 7:00 pm
venue: hall
"""
TURNS = """
program:
  - {ensemble: harbor, pieces: [tweed-kites]}
  - {ensemble: lantern, pieces: [button-comets]}
"""
STEPS = """
allowances:
  {unpack: 10, warm_up: 20, walk: 5, in_place: 5, walk_back: 4, pack: 10, to_door: 3}
"""


def day(folder: Path, concert: str, changes: dict[str, str] | None = None) -> ConcertDay:
    found = winter(planned(folder, {**(changes or {}), CONCERT: concert})).concert
    assert found is not None
    return found.day


def group(found: ConcertDay, name: str) -> GroupDay:
    return next(one for one in found.groups if one.id == name)


def clocks(*moments: datetime | None) -> str:
    return " ".join(f"{moment:%H:%M:%S}" if moment else "-" for moment in moments)


def told(found: ConcertDay) -> list[str]:
    return [f"{row.start:%H:%M:%S} {row.kind} {float(row.seconds):.1f}" for row in found.rows]


def with_room(*rooms: str) -> dict[str, str]:
    more = "".join(f"  - {{id: {room}, name: {room}}}\n" for room in rooms)
    return changed(base_files(), PROGRAM, "venues:\n", f"{more}venues:\n")


@pytest.mark.parametrize(
    ("concert", "expected"),
    [
        pytest.param(
            HEAD + TURNS,
            ["19:00:00 piece 53.3", "19:00:53 changeover 240.0", "19:04:53 piece 76.0"],
            id="the usual changeover between two bands",
        ),
        pytest.param(
            HEAD + TURNS + "changeover: 0\n",
            ["19:00:00 piece 53.3", "19:00:53 piece 76.0"],
            id="none if the director wants none",
        ),
        pytest.param(
            HEAD
            + """
program:
  - {ensemble: harbor, pieces: [tweed-kites, tweed-kites]}
  - ensemble: lantern
    before: [{what: remarks, minutes: 2}, {what: intermission, minutes: 10}]
    pieces: [button-comets]
closing: [{what: remarks, minutes: 1}]
gap_seconds: 15
""",
            [
                "19:00:00 piece 53.3",
                "19:00:53 gap 15.0",
                "19:01:08 piece 53.3",
                "19:02:01 remarks 120.0",
                "19:04:01 intermission 600.0",
                "19:14:01 piece 76.0",
                "19:15:17 remarks 60.0",
            ],
            id="what the director writes stands in place of the changeover",
        ),
        pytest.param(
            HEAD
            + """
program:
  - ensemble: harbor
    before: [{what: remarks, minutes: 3}]
    pieces: [tweed-kites]
  - {ensemble: harbor, pieces: [tweed-kites]}
""",
            [
                "19:00:00 remarks 180.0",
                "19:03:00 piece 53.3",
                "19:03:53 gap 20.0",
                "19:04:13 piece 53.3",
            ],
            id="two turns of one band need no changeover",
        ),
    ],
)
def test_the_run_of_show(concert: str, expected: list[str], tmp_path: Path) -> None:
    found = day(tmp_path, concert)
    assert told(found) == expected
    assert found.seconds == sum(row.seconds for row in found.rows)


def test_nothing_is_rounded_before_the_sum(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + TURNS)
    assert float(found.seconds) == pytest.approx(53 + 1 / 3 + 240 + 76, abs=1e-9)
    assert found.rows[1].seconds == Fraction(240)


def test_each_piece_is_named(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + TURNS)
    assert [row.piece for row in found.rows] == ["tweed-kites", None, "button-comets"]


def test_a_combined_piece_is_played_by_all_of_them(tmp_path: Path) -> None:
    concert = (
        HEAD
        + """
program:
  - {ensemble: lantern, pieces: [button-comets]}
  - {ensemble: harbor, joined_by: [lantern], pieces: [tweed-kites]}
"""
    )
    found = day(tmp_path, concert)
    assert [ensemble.id for ensemble in found.rows[-1].ensembles] == ["harbor", "lantern"]
    assert found.seating is not None
    # 9 players of one and 21 of the other, and the director's own stand.
    assert found.seating.turns[-1].setup.of("chair") == 30
    assert found.seating.turns[-1].setup.of("stand") == 31
    assert clocks(group(found, "lantern").times.last_note) == clocks(found.ends)


def test_players_of_both_bands_sit_and_ride_once(tmp_path: Path) -> None:
    """21 and 9 players, 4 of them the same: 26 chairs where they play together, 26 riders and 4 adults."""
    together = """
program:
  - {ensemble: lantern, pieces: [button-comets]}
  - {ensemble: harbor, joined_by: [lantern], pieces: [tweed-kites]}
"""
    by_number = SHARED.replace("[lantern]", "{lantern: 4}")
    files = changed(
        base_files(), PROGRAM, "    room: band-room\n    instruments: {flute: 4", by_number
    )
    found = day(tmp_path, HEAD + together + RIDE, files)
    assert found.seating is not None
    assert [turn.setup.of("chair") for turn in found.seating.turns] == [21, 26]
    assert found.rides[0].riders == 30
    listed = changed(
        base_files(), PROGRAM, "    room: band-room\n    instruments: {flute: 4", SHARED
    )
    assert day(tmp_path / "listed", HEAD + together + RIDE, listed).rides[0].riders == 34


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        # call, unpack, warm-up, walk, in place, first note
        ("harbor", "18:20:00 18:20:00 18:30:00 18:50:00 18:55:00 19:00:00"),
        # The changeover ends with its first note: it is in place then, and no sooner.
        ("lantern", "18:25:00 18:29:53 18:39:53 18:59:53 19:04:53 19:04:53"),
    ],
)
def test_backward_from_the_first_note(name: str, expected: str, tmp_path: Path) -> None:
    times = group(day(tmp_path, HEAD + TURNS + STEPS), name).times
    assert (
        clocks(
            times.call, times.unpack, times.warm_up, times.walk, times.in_place, times.first_note
        )
        == expected
    )


@pytest.mark.parametrize(
    ("stays", "expected"),
    [
        # last note, begins to pack, packed, at the door, pick-up
        ("no", "19:00:53 19:04:53 19:14:53 19:17:53 19:20:00"),
        ("yes", "19:00:53 19:10:09 19:20:09 19:23:09 19:25:00"),
    ],
)
def test_forward_from_the_last_note(stays: str, expected: str, tmp_path: Path) -> None:
    concert = HEAD + TURNS + STEPS + f'calls: [{{ensemble: harbor, stays: "{stays}"}}]\n'
    found = group(day(tmp_path, concert), "harbor")
    times = found.times
    assert (
        clocks(times.last_note, times.packing, times.packed, times.ready, found.pick_up) == expected
    )


def test_a_section_and_a_role_have_their_own_steps(tmp_path: Path) -> None:
    concert = (
        HEAD
        + TURNS
        + STEPS
        + """
calls:
  - {ensemble: harbor, minutes: {warm_up: 30}}
  - {ensemble: harbor, section: percussion, minutes: {duties: 15}}
  - {role: stage-crew, minutes: {duties: 30, in_place: 5, strike: 20}}
crew: [{id: stage-crew, name: Stage crew}]
"""
    )
    found = day(tmp_path, concert)
    assert clocks(group(found, "harbor").call) == "18:10:00"
    # 15 minutes of setting up before the steps of the band, warm-up of 30 included.
    assert clocks(group(found, "harbor/percussion").call) == "17:55:00"
    # The crew serves the whole show: 30 + 5 minutes before the downbeat; struck 20 minutes
    # after the end at 19:06:09. It neither unpacks nor warms up.
    crew = group(found, "role/stage-crew")
    assert clocks(crew.call, crew.times.packed, crew.pick_up) == "18:25:00 19:26:09 19:30:00"
    assert [one.id for one in found.sections_of("harbor")] == ["harbor/percussion"]


def test_an_evening_without_pick_ups_has_no_limit_to_pass(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + TURNS + "evening_ends: 7:00 pm\n")
    assert not any(one.collect for one in found.groups)
    assert clashes(found) == []


def test_a_section_may_be_collected_later_than_its_band(tmp_path: Path) -> None:
    """Of several stated pick-ups the closest holds: the section's, its band's, the concert's."""
    calls = """calls:
  - {ensemble: harbor, pick_up: 7:30 pm}
  - {ensemble: harbor, section: percussion, pick_up: 7:50 pm}
  - {ensemble: harbor, section: brass}
"""
    found = day(tmp_path, HEAD + STEPS + TURNS + calls + "pick_up: 7:40 pm\n")
    assert [
        clocks(group(found, name).pick_up)
        for name in ("harbor/percussion", "harbor/brass", "harbor", "lantern")
    ] == ["19:50:00", "19:30:00", "19:30:00", "19:40:00"]


def test_without_any_minutes_only_stated_times_are_shown(tmp_path: Path) -> None:
    concert = (
        HEAD + "pick_up: 7:30 pm\n" + TURNS.replace("[tweed-kites]", "[tweed-kites], call: 6:15 pm")
    )
    found = day(tmp_path, concert)
    assert (
        clocks(group(found, "harbor").call, group(found, "harbor").pick_up) == "18:15:00 19:30:00"
    )
    assert group(found, "lantern").call is None
    assert not any(one.reckoned for one in found.groups)


@pytest.mark.parametrize(
    ("call", "shortfall"), [("6:20 pm", None), ("6:10 pm", None), ("6:21 pm", 1), ("6:45 pm", 25)]
)
def test_a_stated_call_is_checked(call: str, shortfall: int | None, tmp_path: Path) -> None:
    concert = HEAD + STEPS + TURNS.replace("[tweed-kites]", f"[tweed-kites], call: {call}")
    late = group(day(tmp_path, concert), "harbor").late_call
    assert (late.shortfall if late else None) == shortfall


@pytest.mark.parametrize(
    # Lantern Band is at the door at 19:23:09.
    ("pick_up", "shortfall"),
    [("7:25 pm", None), ("7:23 pm", 1), ("7:10 pm", 14)],
)
def test_a_stated_pick_up_is_checked(pick_up: str, shortfall: int | None, tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + STEPS + TURNS + f"pick_up: {pick_up}\n")
    early = group(found, "lantern").early_pick_up
    assert (early.shortfall if early else None) == shortfall


def test_a_pick_up_past_midnight_is_on_the_next_day(tmp_path: Path) -> None:
    concert = HEAD.replace("7:00 pm", "11:30 pm") + STEPS + TURNS + "pick_up: 12:10 am\n"
    found = group(day(tmp_path, concert), "lantern")
    assert found.pick_up is not None
    assert found.pick_up.isoformat() == "2026-12-11T00:10:00-06:00"
    assert found.early_pick_up is None


RIDE = """
travel:
  meet: Bus loop
  load: 10
  drive: 25
  unload: 5
  rides:
    - ensembles: [harbor, lantern]
      adults: 4
      buses: [{id: bus-1, seats: 28}, {id: bus-2, seats: 20, held: 6}]
"""


def test_one_ride_waits_for_its_earliest_call_and_its_last_player(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + TURNS + STEPS + RIDE)
    (ride,) = found.rides
    assert ride.there is not None
    # The earlier call is Harbor Band's, 18:20: 5 minutes to unload, 25 to drive, 10 to load.
    assert clocks(ride.there.report, ride.there.depart, ride.there.arrive) == (
        "17:40:00 17:50:00 18:15:00"
    )
    # Lantern Band is at the bus at 19:23:09.
    assert clocks(ride.back.depart, ride.back.arrive, ride.back.pick_up) == (
        "19:33:09 19:58:09 20:05:00"
    )
    assert [clocks(one.report, one.call, one.collect) for one in found.groups] == [
        "17:40:00 18:20:00 20:05:00",
        "17:40:00 18:25:00 20:05:00",
    ]


def test_riders_are_counted_from_the_program(tmp_path: Path) -> None:
    (ride,) = day(tmp_path, HEAD + TURNS + RIDE).rides
    # 6 + 8 + 7 players, 4 + 5 players, 4 adults; 28 seats and 20 less 6.
    assert (ride.riders, ride.seats, ride.short) == (34, 42, None)
    fewer = RIDE.replace("seats: 28", "seats: 18")
    (ride,) = day(tmp_path / "fewer", HEAD + TURNS + fewer).rides
    assert ride.short is not None
    assert (ride.short.seats, ride.short.short) == (32, 2)
    stated = RIDE.replace("adults: 4", "adults: 4\n      students: 26")
    assert day(tmp_path / "stated", HEAD + TURNS + stated).rides[0].riders == 30


def test_without_a_known_call_there_is_a_way_back_only(tmp_path: Path) -> None:
    (ride,) = day(tmp_path, HEAD + TURNS + RIDE).rides
    assert ride.there is None
    assert clocks(ride.back.load) == "19:06:09"


SEATS = """
seating:
  rules:
    - {instruments: [flute], thing: stand, players: 2}
    - {instruments: [trumpet], thing: stand, players: 0}
  extra: [{ensemble: lantern, thing: riser, count: 2}]
  once: {podium: 1}
  opening: {chair: 12, stand: 4}
"""


def test_set_ups_and_resets(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + TURNS + SEATS).seating
    assert found is not None
    # Harbor: 4 flutes at two a stand, 5 trumpets from memory. Lantern: 6, 8 and 7 players.
    assert [turn.setup for turn in found.turns] == [
        Setup((("chair", 9), ("podium", 1), ("stand", 2))),
        Setup((("chair", 21), ("podium", 1), ("riser", 2), ("stand", 11))),
    ]
    first, second = (turn.change for turn in found.turns)
    assert (first.add, first.strike) == (
        Setup((("podium", 1),)),
        Setup((("chair", 3), ("stand", 2))),
    )
    assert second.strike == Setup()
    # 12 chairs stand there before anybody plays, but 21 is the most at once.
    assert found.largest == Setup((("chair", 21), ("podium", 1), ("riser", 2), ("stand", 11)))


def test_seats_go_by_any_name_of_an_instrument(tmp_path: Path) -> None:
    """Common practice, no source: a drummer sits on a stool at a station, whatever it is called."""
    files = base_files()
    named = files[PROGRAM].replace("instruments: {flute: 4", "instruments: {drums: 1, flute: 4")
    assert named != files[PROGRAM]
    rules = "\nseating: {once: {}, rules: [{instruments: [drum-set], thing: stand, players: 0}]}\n"
    found = day(tmp_path, HEAD + TURNS + rules, {PROGRAM: named}).seating
    assert found is not None
    stands = found.turns[0].setup
    assert (stands.of("stool"), stands.of("percussion-station")) == (1, 1)
    assert (stands.of("chair"), stands.of("stand")) == (9, 9)


@pytest.mark.parametrize(
    ("before", "changeover", "short"),
    [
        ("[{what: remarks, minutes: 1}]", 4, 3),
        ("[{what: remarks, minutes: 1}, {what: intermission, minutes: 2}]", 4, 1),
        ("[{what: remarks, minutes: 4}]", 4, 0),
        ("[{what: intermission, minutes: 10}]", 4, 0),
        ("[{what: remarks, minutes: 1}]", 0, 0),
        # what is stated for this changeover is enough for it
        ("[{what: changeover, minutes: 1}, {what: remarks, minutes: 1}]", 4, 0),
        ("[]", 4, 0),
    ],
)
def test_a_reset_that_lacks_minutes(
    before: str, changeover: int, short: int, tmp_path: Path
) -> None:
    turns = TURNS.replace("[button-comets]", f"[button-comets], before: {before}")
    found = day(tmp_path, f"{HEAD}changeover: {changeover}\n{turns}").seating
    assert found is not None
    assert [turn.short for turn in found.turns] == [0, short]
    assert [turn.address[-2:] for turn in found.turns] == [("program", 0), ("program", 1)]


def test_a_stage_that_stays_as_it_is_needs_no_minutes(tmp_path: Path) -> None:
    """Guests who say nothing of chairs and stands perform on the stage as it is."""
    guests = (
        "guests: [{id: choir, name: Choir, minutes: 4}]\nprogram:\n"
        "  - {ensemble: harbor, pieces: [tweed-kites]}\n"
        "  - {guest: choir, before: [{what: remarks, minutes: 1}]}\n"
    )
    found = day(tmp_path, HEAD + guests).seating
    assert found is not None
    assert [turn.short for turn in found.turns] == [0, 0]


def test_what_the_venue_has(tmp_path: Path) -> None:
    files = base_files()
    files[PROGRAM] = files[PROGRAM].rstrip("\n") + "\n    stock: {chair: 20, stand: 30}\n"
    found = day(tmp_path, HEAD + TURNS, files).seating
    assert found is not None
    assert [(one.thing, one.needed, one.has, one.short) for one in found.stock.short] == [
        ("chair", 21, 20, 1)
    ]
    assert found.stock.unstated == ("podium",)


LOADS = """
lifting: {two_adults_over: 35 lb, wheels_over: 50 lb}
carriers: [{id: cart, name: Cart, pieces: 3, weight: 150 lb}]
equipment:
  - {id: timpani, name: Timpani, count: 2, weight: 85 lb, from: band-room, to: dock, carrier: cart}
  - {id: chimes, name: Chimes, weight: 50 lb, from: band-room, to: dock, carrier: cart}
  - {id: trunk, name: Trunk, count: 3, from: band-room, to: dock}
  - {id: rack, name: Rack, weight: 20 kg, from: dock, to: band-room}
"""


def test_loads(tmp_path: Path) -> None:
    found = day(tmp_path, HEAD + TURNS + LOADS, with_room("dock")).load
    assert found is not None
    assert found.totals.pieces == 7
    # 2 * 85 + 50 lb and 20 kg; a pound is 0.45359237 kg exactly (NIST SP 811, Appendix B).
    assert found.totals.kg == 220 * Fraction("0.45359237") + 20
    assert found.totals.unweighed == ("trunk",)
    # 20 kg is 44.1 lb; the limit of 50 lb itself is not over it.
    assert found.findings.two_adults == ("timpani", "chimes", "rack")
    assert found.findings.wheels == ("timpani",)
    assert [(route.start.id, route.end.id, route.totals.pieces) for route in found.routes] == [
        ("band-room", "dock", 3),
        ("band-room", "dock", 3),
        ("dock", "band-room", 1),
    ]
    plan = found.routes[0].trips
    assert plan is not None
    # 85 + 50 lb fit under 150 lb, 85 + 85 do not.
    assert [trip.pieces for trip in plan.trips] == [
        (("timpani", 1), ("chimes", 1)),
        (("timpani", 1),),
    ]
    assert found.routes[1].trips is None


def test_without_a_stated_limit_nothing_is_found(tmp_path: Path) -> None:
    loads = LOADS.replace("lifting: {two_adults_over: 35 lb, wheels_over: 50 lb}\n", "")
    found = day(tmp_path, HEAD + TURNS + loads, with_room("dock")).load
    assert found is not None
    assert not found.limits_stated
    assert found.findings.two_adults == found.findings.wheels == ()


def test_what_is_absent_leaves_its_part_out(tmp_path: Path) -> None:
    without = changed(base_files(), PROGRAM, "    instruments: {flute: 4, trumpet: 5}\n", "")
    without = changed(
        without, PROGRAM, "    instruments: {flute: 6, clarinet: 8, trumpet: 7}\n", ""
    )
    found = day(tmp_path, HEAD + TURNS, without)
    assert (found.rides, found.seating, found.load, found.conflicts) == ((), None, None, ())
    assert (found.doors, found.opens, found.closes) == (None, None, None)


def clashes(found: ConcertDay) -> list[tuple[str, Sequence[str | int], Sequence[str | int]]]:
    return [
        (conflict.clash.value, conflict.first.address[1:], conflict.second.address[1:])
        for conflict in found.conflicts
    ]


SHARED = "    shares_players_with: [lantern]\n    room: band-room\n    instruments: {flute: 4"


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: band-room}\n  - {ensemble: lantern, room: dock}\n",
            [],
            id="two bands, two rooms",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\n  - {ensemble: lantern, room: dock}\n",
            [("warm_ups_together", ("calls", 0), ("calls", 1))],
            id="two bands, one room",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\n  - {ensemble: harbor, section: brass, room: dock}\n",
            [],
            id="a section in the room of its band",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\n  - {ensemble: harbor, section: brass, room: band-room}\n",
            [],
            id="a section warms up elsewhere",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\nbookings:\n  - {room: dock, start: 5:30 pm, end: 6:20 pm, what: Coats}\n",
            [],
            id="a booked room, free just before the band is ready in it",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\nbookings:\n  - {room: dock, start: 5:30 pm, end: 6:21 pm, what: Coats}\n",
            [("room_twice", ("bookings", 0), ("calls", 0))],
            id="a booked room, a minute too long",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\nbookings:\n  - {room: dock, start: 6:55 pm, end: 7:00 pm, what: Coats}\n",
            [("room_twice", ("calls", 0), ("bookings", 0))],
            id="a room that holds the cases of those on stage",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\nbookings:\n  - {room: dock, start: 7:14 pm, end: 7:30 pm, what: Coats}\n",
            [("room_twice", ("calls", 0), ("bookings", 0))],
            id="a room in which a band still packs",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\nbookings:\n  - {room: dock, start: 7:15 pm, end: 7:30 pm, what: Coats}\n",
            [],
            id="a booked room, free when the band has packed",
        ),
        pytest.param(
            "calls:\n  - {ensemble: harbor, room: dock}\nbookings:\n  - {room: dock, start: 7:05 pm, end: 7:10 pm, what: Coats, ensembles: [harbor]}\n",
            [],
            id="a band's own cases are not in its way",
        ),
        pytest.param(
            "opens: 6:30 pm\n",
            [
                ("outside_opening", ("program", 0), ("opens",)),
                ("outside_opening", ("program", 1), ("opens",)),
            ],
            id="the venue opens too late",
        ),
        pytest.param("opens: 6:20 pm\ncloses: 7:21 pm\n", [], id="the venue is open long enough"),
        pytest.param(
            "opens: 6:20 pm\ncloses: 7:20 pm\n",
            [("outside_opening", ("program", 1), ("closes",))],
            id="the venue closes nine seconds too early",
        ),
        pytest.param(
            "evening_ends: 7:20 pm\n",
            [("past_evening_limit", ("program", 1), ("evening_ends",))],
            id="one band is home too late",
        ),
        pytest.param(
            "calls: [{ensemble: lantern, pick_up: 7:30 pm}]\nevening_ends: 7:25 pm\n",
            [("past_evening_limit", ("calls", 0, "pick_up"), ("evening_ends",))],
            id="and is so by its own stated time",
        ),
        pytest.param(
            "calls: [{ensemble: lantern, call: 6:00 pm}]\nopens: 6:20 pm\n",
            [("outside_opening", ("calls", 0), ("opens",))],
            id="a band is called before the venue opens",
        ),
    ],
)
def test_conflicts_name_both_places(
    entries: str,
    expected: list[tuple[str, Sequence[str | int], Sequence[str | int]]],
    tmp_path: Path,
) -> None:
    found = day(tmp_path, HEAD + TURNS + STEPS + entries, with_room("dock"))
    assert clashes(found) == expected


def test_shared_players_cannot_warm_up_while_they_play(tmp_path: Path) -> None:
    files = with_room("dock")
    files = changed(files, PROGRAM, "    room: band-room\n    instruments: {flute: 4", SHARED)
    calls = "calls:\n  - {ensemble: lantern, room: dock, minutes: {walk: 1, in_place: 1}}\n"
    found = day(tmp_path, HEAD + TURNS + STEPS + calls, files)
    assert clashes(found) == [("warm_up_over_performance", ("calls", 0), ("program", 0))]
    # Said by one side only, it holds for both; without it there is no conflict.
    assert clashes(day(tmp_path / "alone", HEAD + TURNS + STEPS + calls, with_room("dock"))) == []


@pytest.mark.parametrize(
    ("when", "call", "expected"),
    [
        ("Thu 2026-12-10", "3:09 pm", [("call_before_school_out", ("program", 0, "call"))]),
        ("Thu 2026-12-10", "3:10 pm", []),
        ("Sat 2026-12-12", "2:00 pm", []),  # no school
        ("Fri 2026-11-27", "2:00 pm", []),  # in the fall break
        ("Fri 2026-12-11", "12:59 pm", [("call_before_school_out", ("program", 0, "call"))]),
        ("Fri 2026-12-11", "1:30 pm", []),  # school is out at 1 pm that day
    ],
)
def test_calls_wait_for_the_end_of_that_days_school(
    when: str, call: str, expected: list[tuple[str, Sequence[str]]], tmp_path: Path
) -> None:
    year = base_files()[YEAR].replace(
        "closures:\n",
        "  - id: early  # which does not say when school ends: with its last period\n"
        "    periods: [{id: p4, start: 10:55, end: 13:00}, {id: p3, start: 09:05, end: 10:50}]\n"
        "altered:\n  - {date: Fri 2026-12-11, name: Early release, bells: early}\nclosures:\n",
    )
    concert = HEAD.replace("Thu 2026-12-10", when).replace("7:00 pm", "5:00 pm") + TURNS.replace(
        "[tweed-kites]", f"[tweed-kites], call: {call}"
    )
    found = day(tmp_path, concert, {YEAR: year})
    assert [(clash, first) for clash, first, _ in clashes(found)] == expected
    meant = day(tmp_path / "meant", concert + 'during_school: "yes"\n', {YEAR: year})
    assert meant.conflicts == ()


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        # The bus loads 40 minutes before the call.
        ("", ["Harbor Band, ready in the room at 3:05 pm,"]),
        (RIDE, ["Harbor Band, at the bus at 2:25 pm,"]),
        (
            "calls: [{ensemble: harbor, section: low-brass, call: 3:00 pm}, {ensemble: harbor, section: reeds, name: Clarinets, call: 3:09 pm}]\n",
            [
                "Harbor Band, low brass, ready in the room at 3:00 pm,",
                "Harbor Band, ready in the room at 3:05 pm,",
                "Harbor Band, Clarinets, ready in the room at 3:09 pm,",
            ],
        ),
    ],
)
def test_a_call_is_told_by_where_it_is(more: str, expected: list[str], tmp_path: Path) -> None:
    concert = HEAD.replace("7:00 pm", "5:00 pm") + TURNS.replace(
        "[tweed-kites]", "[tweed-kites], call: 3:05 pm"
    )
    found = day(tmp_path, concert + more).conflicts
    assert sorted(conflict.first.what for conflict in found) == sorted(expected)
    assert {conflict.second.what for conflict in found} == {"the end of school (3:10 pm)"}


def test_kinds_of_pauses_are_those_of_the_run_of_show() -> None:
    from handbook.schema.concert import PauseKind  # noqa: PLC0415 - named once

    assert {kind.value for kind in PauseKind} <= {kind.value for kind in ItemKind}

"""Events that cannot be so, beside what tests/broken shows."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.checks import PLAN_CHECKS
from handbook.checks.check import code_of
from tests.checks.checking import checked
from tests.content_folders import base_files, changed
from tests.plan.planning import CONCERT, CYCLE, planned

EVENTS = "events.yaml"


def told(folder: Path, *events: str) -> list[str]:
    return checked(
        folder, (EVENTS, "", "".join(["events:\n", *(f"  - {one}\n" for one in events)]))
    )


def told_of_plan(folder: Path, code: str, event: str, **files: str) -> list[str]:
    result = planned(folder, {EVENTS: f"events: [{event}]\n", **files})
    (run,) = [check for check in PLAN_CHECKS if code_of(check) == code]
    return [f"{one.severity.value} {one.message}" for one in run(result.plan)]


GAME = "{id: game, name: Game, date: Sat 2026-12-05, starts: 6 pm, ends: 8 pm, who: [lantern]}"


@pytest.mark.parametrize(
    ("other", "severity"),
    [
        ("who: [lantern, harbor]", "error"),
        ("who: [lantern], players: [trumpet]", "warning"),
        ("name: For everyone", "warning"),
        ("who: [harbor]", ""),
    ],
)
def test_how_grave_it_is_that_two_events_want_the_same_players(
    other: str, severity: str, tmp_path: Path
) -> None:
    fair = f"{{id: fair, name: Fair, date: Sat 2026-12-05, starts: 7 pm, ends: 9 pm, {other}}}"
    found = told(tmp_path, GAME, fair.replace("name: Fair, ", "") if "name: F" in other else fair)
    assert [("warning" if " warning " in one else "error") for one in found] == (
        [severity] if severity else []
    )


def test_players_on_other_instruments_are_not_wanted_twice(tmp_path: Path) -> None:
    brass = GAME.replace("}", ", players: [trumpet]}")
    winds = brass.replace("id: game", "id: recital").replace("[trumpet]", "[flute]")
    assert told(tmp_path, brass, winds) == []


def test_events_in_one_room_are_told(tmp_path: Path) -> None:
    here = GAME.replace("}", ", room: band-room}")
    other = here.replace("id: game", "id: fair").replace("[lantern]", "[harbor]")
    (only,) = told(tmp_path, here, other)
    assert "want `band-room` from 6:00 pm to 8:00 pm" in only


def test_what_an_event_is_like_is_pointed_at_where_it_is_said(tmp_path: Path) -> None:
    """The wrong time stands in the first event, and is told once for all that are like it."""
    wrong = GAME.replace("starts: 6 pm", "starts: 9 pm")
    found = told(tmp_path, wrong, "{id: again, like: game, date: Sat 2027-01-09}")
    assert len(found) == 1
    assert found[0].startswith("events.yaml:2:")


def test_an_event_told_after_its_day(tmp_path: Path) -> None:
    (only,) = told(tmp_path, GAME.replace("}", ", told: Sun 2026-12-06}"))
    assert "told-after-day: this is told on Sun 2026-12-06" in only


def test_venues_and_rooms_and_players_are_known_ones(tmp_path: Path) -> None:
    wrong = "{id: game, name: Game, date: Sat 2026-12-05, venue: hal, who: [lantern], players: [tuba], rain: {room: gym}}"
    found = "\n".join(told(tmp_path, wrong))
    for code in ("unknown-venue", "unknown-instrument", "unknown-room"):
        assert code in found


@pytest.mark.parametrize(
    ("more", "severity"),
    [
        (", who: [lantern]", "error"),
        ("", "warning"),
        (", who: [lantern], players: [flute]", "warning"),
    ],
)
def test_an_event_during_a_concert(more: str, severity: str, tmp_path: Path) -> None:
    game = f"{{id: game, name: Game, date: Thu 2026-12-10, starts: 6 pm, ends: 8 pm{more}}}"
    found = told_of_plan(tmp_path, "event-during-concert", game)
    assert {one.split()[0] for one in found} == {severity}


def test_an_event_before_a_concert_is_none_of_its_business(tmp_path: Path) -> None:
    game = "{id: game, name: Game, date: Thu 2026-12-10, starts: 4 pm, ends: 5 pm, who: [lantern]}"
    assert told_of_plan(tmp_path, "event-during-concert", game) == []
    assert base_files()[CONCERT]


def test_an_extra_of_one_instrument_away(tmp_path: Path) -> None:
    extra = changed(
        base_files(),
        CYCLE,
        "ensembles: [lantern, harbor]\n",
        "ensembles: [lantern, harbor]\nextra: [{ensemble: lantern, date: Fri 2026-11-20, start: 6 pm, end: 7 pm}]\n",
    )
    game = "{id: game, name: Game, date: Fri 2026-11-20, starts: 6:30 pm, ends: 8 pm, who: [lantern], players: [flute]}"
    (only,) = told_of_plan(tmp_path, "event-over-extra", game, **{CYCLE: extra[CYCLE]})
    assert (
        only
        == "warning 6 players of Lantern Band are at Game from 6:30 pm to 8:00 pm, while this rehearsal is held"
    )


def test_a_place_that_is_a_room_is_told(tmp_path: Path) -> None:
    (only,) = told(tmp_path, GAME.replace("}", ", place: Band room}"))
    assert "place-is-a-room: this place is the room `band-room`" in only


def test_what_is_cancelled_is_in_nobodys_way(tmp_path: Path) -> None:
    off = GAME.replace("}", ", cancelled: Too icy}")
    assert told(tmp_path / "a", off, GAME.replace("id: game", "id: other")) == []
    concert = off.replace("Sat 2026-12-05", "Thu 2026-12-10")
    assert told_of_plan(tmp_path / "b", "event-during-concert", concert) == []


def test_an_event_lasts_some_time(tmp_path: Path) -> None:
    (only,) = told(tmp_path, GAME.replace("ends: 8 pm", "ends: 6 pm"))
    assert "event-times-out-of-order: this ends at 6:00 pm, but this starts at 6:00 pm" in only


@pytest.mark.parametrize(
    ("times", "unclear"),
    [
        ("pick_up: 10:05 am", False),  # it is over as the rehearsal begins
        ("pick_up: 10:10 am", True),
        ("starts: 10:50 am", False),
        ("starts: 10:45 am", True),
        ("starts: 10:45 am, away: none", False),
        ("starts: 10:45 am, cancelled: Rain", False),
        ("place: Somewhere", True),
    ],
)
def test_what_may_fall_into_class(times: str, unclear: bool, tmp_path: Path) -> None:
    """Lantern rehearses on Wednesday, November 4, from 10:05 to 10:50 am."""
    talk = f"{{id: talk, name: Talk, date: Wed 2026-11-04, who: [lantern], {times}}}"
    assert bool(told_of_plan(tmp_path, "event-away-unclear", talk)) is unclear


def test_all_bands_that_are_wanted_at_a_concert_are_named_with_their_numbers(
    tmp_path: Path,
) -> None:
    """Lantern has 21 players, Harbor 9, 4 of whom are in both."""
    shared = changed(
        base_files(),
        "program.yaml",
        "    name: Harbor Band\n",
        "    name: Harbor Band\n    shares_players_with: {lantern: 4}\n",
    )
    game = "{id: game, name: Game, date: Thu 2026-12-10, starts: 6 pm, ends: 8 pm, who: [lantern]}"
    (only,) = told_of_plan(
        tmp_path, "event-during-concert", game, **{"program.yaml": shared["program.yaml"]}
    )
    assert (
        "error 4 players of Harbor Band who are in Lantern Band too and 21 players of Lantern Band are at Game"
        in only
    )


@pytest.mark.parametrize("late", [True, False])
def test_an_event_on_a_snow_day_is_off_or_moved_first_of_all(late: bool, tmp_path: Path) -> None:
    snow = "closures:\n  - {name: Snow day, date: Tue 2026-12-01"
    closure = ("years/2026-27.yaml", "closures:", f"{snow}{', told: 2026-12-01' if late else ''}}}")
    trip = "events: [{id: game, name: Game, date: Tue 2026-12-01, starts: 6 pm, who: [lantern]}]\n"
    for said in ("", ", cancelled: Snow"):
        event = (EVENTS, "", trip.replace("}", f"{said}}}"))
        found = [one for one in checked(tmp_path / said, closure, event) if "is closed" in one]
        if said:
            assert not found
        else:
            assert "school is closed then: Snow day" in found[0]
            hint = found[0].partition(" | ")[2]
            assert hint.startswith("if it is off, write `cancelled:`" if late else "choose another")
            assert ("`moved_from:`" in hint) == late

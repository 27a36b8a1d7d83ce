"""Events take their players out of rehearsal: Lantern meets on Mondays and Wednesdays, 10:05 to 10:50."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from handbook.outputs.components.event_words import missing_words
from handbook.outputs.page import Context
from handbook.plan.absences import absences
from handbook.plan.model import EnsemblePlan
from handbook.plan.players import Players
from tests.content_folders import base_files, changed
from tests.plan.planning import CYCLE, ensemble, lantern, planned, winter

WEDNESDAY = date(2026, 11, 4)
TRIP = "{id: trip, name: Trip, date: Wed 2026-11-04, call: 8 am, pick_up: 3 pm, who: [lantern]}"


def band(folder: Path, event: str, **more: str) -> EnsemblePlan:
    return lantern(planned(folder, {"events.yaml": f"events: [{event}]\n", **more}))


def days(plan: EnsemblePlan) -> list[date]:
    return [row.rehearsal.day for row in plan.rehearsals]


def test_a_rehearsal_whose_band_is_away_is_not_held(tmp_path: Path) -> None:
    plan, usual = band(tmp_path / "a", TRIP), lantern(planned(tmp_path / "b"))
    assert days(plan) == [day for day in days(usual) if day != WEDNESDAY]
    assert [
        (one.day, one.reason("en"), one.cause) for one in plan.missed if one.cause == "event"
    ] == [(WEDNESDAY, "Trip", "event")]
    assert [row.rehearsal.n for row in plan.rehearsals] == [*range(1, len(days(usual)))]
    assert sum(stage.count for stage in plan.stages) == len(days(usual)) - 1


@pytest.mark.parametrize(
    ("event", "held"),
    [
        (TRIP.replace("8 am", "10:50 am"), True),  # it begins as the rehearsal ends
        (TRIP.replace("8 am", "10:49 am"), False),
        (TRIP.replace("3 pm", "10:05 am"), True),
        (TRIP.replace("3 pm", "10:06 am"), False),
        (TRIP.replace("}", ", away: none}"), True),
        (TRIP.replace("}", ", cancelled: Flooded}"), True),
        (TRIP.replace("}", ", away: all day, cancelled: Flooded}"), True),
        (TRIP.replace("call: 8 am, pick_up: 3 pm", "away: all day"), False),
        (TRIP.replace("call: 8 am, pick_up: 3 pm", "starts: 6 pm, ends: 8 pm"), True),
        (TRIP.replace("}", ", away: {from: 11 am, to: 3 pm}}"), True),
        (TRIP.replace("[lantern]", "[harbor]"), True),
        (TRIP.replace(", who: [lantern]", ""), False),  # everyone
        (TRIP.replace("date: Wed 2026-11-04", "from: Tue 2026-11-03, to: Thu 2026-11-05"), False),
        (TRIP.replace("pick_up: 3 pm, ", ""), True),  # nobody knows until when
    ],
)
def test_only_while_they_are_away(event: str, held: bool, tmp_path: Path) -> None:
    assert (WEDNESDAY in days(band(tmp_path, event))) is held


def test_where_some_players_are_away_it_is_held_and_says_who(tmp_path: Path) -> None:
    plan = band(tmp_path, TRIP.replace("}", ", players: [trumpet]}"))
    (row,) = [row for row in plan.rehearsals if row.missing]
    assert row.rehearsal.day == WEDNESDAY
    (missing,) = row.missing
    assert (missing.players, missing.because, missing.event.item.id) == (("trumpet",), None, "trip")


def test_players_who_are_all_of_a_band_are_the_band(tmp_path: Path) -> None:
    winds = TRIP.replace("}", ", players: [woodwinds, brass]}")
    assert WEDNESDAY not in days(band(tmp_path / "a", winds))
    nobody = band(tmp_path / "b", TRIP.replace("}", ", players: [percussion]}"))
    assert not any(row.missing for row in nobody.rehearsals)


def test_shared_players_are_missing_in_the_other_band(tmp_path: Path) -> None:
    sharing = changed(
        base_files(),
        "program.yaml",
        "    name: Harbor Band\n",
        "    name: Harbor Band\n    shares_players_with: [lantern]\n",
    )
    plan = band(
        tmp_path, TRIP.replace("[lantern]", "[harbor]"), **{"program.yaml": sharing["program.yaml"]}
    )
    (row,) = [row for row in plan.rehearsals if row.missing]
    assert row.rehearsal.day == WEDNESDAY
    (missing,) = row.missing
    assert missing.because is not None
    assert missing.because.id == "harbor"


def test_a_band_all_of_whose_players_are_shared_is_away_with_them(tmp_path: Path) -> None:
    """Harbor Band has 9 players; it meets on Tuesdays and Thursdays in period 4."""
    trip = TRIP.replace("Wed 2026-11-04", "Thu 2026-11-05")
    old = "    name: Harbor Band\n"
    for number, held in ((8, True), (9, False)):
        shared = f"{old}    shares_players_with: {{lantern: {number}}}\n"
        files = changed(base_files(), "program.yaml", old, shared)
        result = planned(
            tmp_path / str(number),
            {"events.yaml": f"events: [{trip}]\n", "program.yaml": files["program.yaml"]},
        )
        plan = ensemble(winter(result), "harbor")
        assert (date(2026, 11, 5) in days(plan)) is held
        missing = [one for row in plan.rehearsals for one in row.missing]
        assert [(one.because and one.because.id, one.shared) for one in missing] == (
            [("lantern", 8)] if held else []
        )
        words = missing_words(Context(result.plan, "en"), missing)
        assert [one.partition(":")[0] for one in words] == (
            ["8 players who are in Lantern Band too"] if held else []
        )


def test_an_extra_rehearsal_stays(tmp_path: Path) -> None:
    cycle = (
        base_files()[CYCLE]
        + "extra: [{ensemble: lantern, date: Wed 2026-11-04, start: 1 pm, end: 2 pm}]\n"
    )
    plan = band(tmp_path, TRIP, **{CYCLE: cycle})
    assert days(plan).count(WEDNESDAY) == 1


def test_what_is_told_late_leaves_the_past_as_it_was(tmp_path: Path) -> None:
    tour = "{id: tour, name: Tour, from: Mon 2026-11-09, to: Wed 2026-11-18, away: all day, who: [lantern]}"
    known = band(tmp_path / "a", tour)
    told = band(tmp_path / "b", tour.replace("}", ", told: Thu 2026-11-05}"))
    usual = lantern(planned(tmp_path / "c"))
    past = sum(row.rehearsal.day < date(2026, 11, 5) for row in usual.rehearsals)
    blocks = [[row.blocks for row in plan.rehearsals[:past]] for plan in (usual, told, known)]
    assert blocks[0] == blocks[1] != blocks[2]
    assert days(told) == days(known)


def test_groups_of_a_band_are_away_with_it_or_by_their_instruments(tmp_path: Path) -> None:
    groups = "    groups: [{id: brass, name: Brass, instruments: {trumpet: 7}}, {id: winds, name: Winds, instruments: {flute: 6, clarinet: 8}}]\n"
    program = changed(
        base_files(),
        "program.yaml",
        "    name: Lantern Band\n",
        "    name: Lantern Band\n" + groups,
    )
    text = f"events: [{TRIP.replace('}', ', players: [brass]}')}]\n"
    result = planned(tmp_path, {"events.yaml": text, "program.yaml": program["program.yaml"]})
    brass, winds = (ensemble(winter(result), f"lantern-{name}") for name in ("brass", "winds"))
    assert WEDNESDAY not in days(brass)
    assert WEDNESDAY in days(winds)
    assert not any(row.missing for row in winds.rehearsals)


def test_an_event_that_takes_no_rehearsal_away_is_no_news(tmp_path: Path) -> None:
    saturday = "{id: fair, name: Fair, date: Sat 2026-11-07, away: all day, who: [lantern], told: Mon 2026-11-02}"
    plan, usual = band(tmp_path / "a", saturday), lantern(planned(tmp_path / "b"))
    assert plan.rehearsals == usual.rehearsals
    assert plan.stages == usual.stages


def test_absences_are_in_the_order_of_time_whatever_the_order_of_events(tmp_path: Path) -> None:
    later = TRIP.replace("id: trip", "id: later").replace("2026-11-04", "2026-11-05")
    plan = planned(
        tmp_path, {"events.yaml": f"events: [{TRIP}, {later.replace('Wed', 'Thu')}]\n"}
    ).plan
    players = Players(plan.program.ensembles[0])
    for events in (plan.events, plan.events[::-1]):
        found = absences(events, players, plan.program)
        assert [one.start.day for one in found] == [4, 5]

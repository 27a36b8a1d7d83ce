"""Groups of one band: rehearsals apart, music once, one concert.

The calendar was written out by hand for October and November 2026: A and B days take
turns from August 24, and Monday, October 19 is the 40th day of school (eight weeks of five
days without Labor Day, and itself), so a B day. Half-classes on alternate days are common practice.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from handbook.pipeline import load_plan
from handbook.plan.model import CyclePlan, EnsemblePlan
from tests.content_folders import base_files, write_folder

GROUPS = """    groups:
      - {id: brass, name: {en: brass class, es: clase de metales}, instruments: {trumpet: 7}}
      - {id: winds, name: woodwind class, instruments: {flute: 6, clarinet: 8}}
"""
MEETINGS = """  - {ensemble: lantern, group: brass, labels: [A], period: p3}
  - {ensemble: lantern, group: winds, labels: [B], period: p3}
  - {ensemble: lantern, weekdays: [Fri], period: p4}
"""


def with_groups(**cycle: str) -> dict[str, str]:
    files = dict(base_files())

    def change(name: str, old: str, new: str) -> None:
        text = files[name]
        assert old in text
        files[name] = text.replace(old, new, 1)

    instruments = "    instruments: {flute: 6, clarinet: 8, trumpet: 7}\n"
    change("program.yaml", instruments, instruments + GROUPS)
    change("program.yaml", "time_zone:", "languages: [en, es]\ntime_zone:")
    old = "  - ensemble: lantern\n    weekdays: [Mon, Wed]\n    period: p3\n"
    change("years/2026-27.yaml", old, MEETINGS)
    change("years/2026-27.yaml", "bells:", "day_labels: [A, B]\nbells:")
    more = "".join(f"{field}:\n{text}" for field, text in cycle.items())
    files["cycles/winter/cycle.yaml"] += more
    return files


def planned(folder: Path, **cycle: str) -> CyclePlan:
    outcome = load_plan(write_folder(folder, with_groups(**cycle)))
    assert outcome.plan is not None, outcome.problems
    return outcome.plan.cycles[0]


def days(plan: EnsemblePlan, until: date) -> list[str]:
    return [f"{one.rehearsal.day:%m-%d}" for one in plan.rehearsals if one.rehearsal.day <= until]


def test_each_group_has_its_own_rehearsals_and_those_of_all(tmp_path: Path) -> None:
    cycle = planned(tmp_path)
    brass, winds, harbor = cycle.ensembles
    assert [one.item.id for one in cycle.ensembles] == ["lantern-brass", "lantern-winds", "harbor"]
    assert (brass.band, winds.band, harbor.band) == ("lantern", "lantern", "harbor")
    # Weeks of October 19 and 26: B A B A B, then A B A B A; Fridays are for all.
    until = date(2026, 10, 30)
    assert days(brass, until) == ["10-20", "10-22", "10-23", "10-26", "10-28", "10-30", "10-30"]
    assert days(winds, until) == ["10-19", "10-21", "10-23", "10-23", "10-27", "10-29", "10-30"]
    assert {row.rehearsal.of for row in brass.rehearsals} == {len(brass.rehearsals)}


def test_a_group_is_named_after_its_band_and_has_its_own_parts(tmp_path: Path) -> None:
    brass, winds, _ = planned(tmp_path).ensembles
    assert brass.item.name.read("es") == "Lantern Band, clase de metales"
    assert winds.item.name.read("es") == "Lantern Band, woodwind class"
    assert [part.id for part in brass.parts] == ["trumpet"]
    assert [part.id for part in winds.parts] == ["flute", "clarinet"]


def test_the_music_is_the_bands_and_each_group_climbs_by_itself(tmp_path: Path) -> None:
    brass, winds, _ = planned(tmp_path).ensembles
    assert [one.item.id for one in brass.pieces] == [one.item.id for one in winds.pieces]
    for one in (brass, winds):
        for piece in one.pieces:
            assert all(len(passage.at_goal) >= 2 for passage in piece.passages)


def test_the_concert_is_one_turn_of_the_whole_band(tmp_path: Path) -> None:
    cycle = planned(tmp_path)
    assert cycle.concert is not None
    (turn,) = (one for one in cycle.concert.appearances if one.item.band == "lantern")
    assert turn.ensemble is not None
    assert turn.ensemble.instruments == {"flute": 6, "clarinet": 8, "trumpet": 7}
    assert [piece.item.id for piece in turn.pieces] == list(turn.item.pieces)
    assert cycle.concert.day.group_of("lantern") is not None
    assert [one.item.id for one in cycle.of_band("lantern")] == ["lantern-brass", "lantern-winds"]


def test_an_entry_may_be_for_one_group(tmp_path: Path) -> None:
    cycle = planned(
        tmp_path,
        cancelled="  - {ensemble: lantern, group: brass, date: 2026-10-20, why: Trip}\n"
        "  - {ensemble: lantern, date: 2026-10-21, why: Trip}\n",
        extra="  - {ensemble: lantern, group: winds, date: 2026-10-24, start: 9 am, end: 10 am}\n",
        days="  - {ensemble: lantern, group: brass, date: 2026-10-23, notices: [Bring oil]}\n",
    )
    brass, winds, _ = cycle.ensembles
    until = date(2026, 10, 25)
    assert days(brass, until) == ["10-22", "10-23"]
    assert days(winds, until) == ["10-19", "10-23", "10-23", "10-24"]
    told = {
        one.item.id: [row.rehearsal.day.day for row in one.rehearsals if row.notices]
        for one in (brass, winds)
    }
    assert told == {"lantern-brass": [23], "lantern-winds": []}


@pytest.mark.parametrize(
    ("day", "told"),
    [("2026-10-22", False), ("2026-10-24", True)],
    ids=["one group meets", "nobody meets"],
)
def test_a_cancelled_day_is_missing_only_if_no_group_meets(
    tmp_path: Path, day: str, *, told: bool
) -> None:
    entry = f"  - {{ensemble: lantern, date: {day}, why: Trip}}\n"
    folder = write_folder(tmp_path, with_groups(cancelled=entry))
    found = [one for one in load_plan(folder).problems if one.code == "cancelled-nothing"]
    assert len(found) == told


def test_sections_of_the_whole_band_are_in_their_rooms_once(tmp_path: Path) -> None:
    sections = (
        "  - {ensemble: lantern, date: 2026-10-24, start: 9 am, end: 10 am, kind: sectional, sections: "
        "{brass: {who: [trumpet]}, winds: {who: [flute, clarinet], room: side-room}}}\n"
    )
    files = with_groups(extra=sections)
    files["program.yaml"] = files["program.yaml"].replace(
        "rooms:\n", "rooms:\n  - {id: side-room, name: Side room}\n", 1
    )
    problems = load_plan(write_folder(tmp_path, files)).problems
    assert [one for one in problems if one.code != "missing-translation"] == []


def test_a_band_counts_as_many_players_as_its_groups(tmp_path: Path) -> None:
    files = with_groups()
    own = "    instruments: {flute: 6, clarinet: 8, trumpet: 7}\n"
    assert own in files["program.yaml"]
    files["program.yaml"] = files["program.yaml"].replace(own, "", 1)
    plan = load_plan(write_folder(tmp_path, files)).plan
    assert plan is not None
    assert plan.program.ensembles[0].instruments == {"trumpet": 7, "flute": 6, "clarinet": 8}


def test_new_players_begin_anew_in_each_group(tmp_path: Path) -> None:
    files = with_groups()
    files["years/2026-27.yaml"] += "new_players: [lantern]\n"
    files["program.yaml"] = files["program.yaml"].replace(
        "    groups:\n", "    starts_at: 2\n    groups:\n", 1
    )
    plan = load_plan(write_folder(tmp_path, files)).plan
    assert plan is not None
    assert [one.reached.cycles for one in plan.cycles[0].ensembles] == [2, 2, 1]

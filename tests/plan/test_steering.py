"""What the director asks of single days, and which rehearsal each entry is about.

The rules are the project's own, as the schema describes them; the expected plans were
written by hand from the entries.
"""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.day_kinds import DayKind
from handbook.domain.meetings import Rehearsal, RehearsalKind
from handbook.domain.minutes import FixedSlots
from handbook.plan.players import Players
from handbook.plan.steering import DayPlan, WishedPassage, day_entries, day_plans
from handbook.schema.cycle import Cycle
from handbook.schema.music import Piece
from handbook.schema.program import Ensemble
from tests.content_folders import base_files
from tests.plan.planning import CYCLE, MUSIC, lantern, planned
from tests.plan.test_past import ANOTHER

ZONE = ZoneInfo("America/Chicago")
CLASS, EVENING = time(10, 0), time(18, 30)
BEACON = Players(Ensemble.model_validate({"id": "beacon", "name": "Beacon Band"}))
DAY, NEXT = "2026-12-08", "2026-12-09"


def cycle(days: object = (), extra: object = (), **fields: object) -> Cycle:
    stage = {
        "id": "build",
        "name": "Build",
        "purpose": "Join",
        "tempo": "50-90",
        "minutes": {"fundamentals": "1", "music": "1"},
        "goals": ["Play it"],
    }
    return Cycle.model_validate(
        {
            "name": "Winter",
            "year": "2026-27",
            "starts": "2026-10-26",
            "ensembles": ["beacon"],
            "stages": [stage],
            "days": list(days),  # type: ignore[call-overload]
            "extra": list(extra),  # type: ignore[call-overload]
            **fields,
        }
    )


def piece(name: str, *passages: str) -> Piece:
    part = {"name": "Whole", "measures": "1-32", "meter": "4/4", "tempo": "quarter = 96"}
    return Piece.model_validate(
        {
            "id": name,
            "title": name.title(),
            "ensemble": "beacon",
            "form": [part],
            "passages": [
                {"id": one, "name": one.title(), "measures": "1-8", "goal": "quarter = 96"}
                for one in passages
            ],
        }
    )


PIECES = (piece("fires", "spark", "finale"), piece("train", "wheel", "finale"))


def held(day: str, start: time, *, extra: int | None = None) -> Rehearsal:
    begins = datetime.combine(date.fromisoformat(day), start, ZONE)
    kind = RehearsalKind.REGULAR if extra is None else RehearsalKind.EXTRA
    return Rehearsal(begins, begins.replace(minute=50), 1, 1, kind, index=extra)


def evening(**fields: object) -> dict[str, object]:
    return {
        "ensemble": "beacon",
        "date": DAY,
        "start": "6:30 pm",
        "end": "7:30 pm",
        **fields,
    }


def only(written: Cycle, rehearsal: Rehearsal | None = None) -> DayPlan:
    (plan,) = day_plans(written, BEACON, [rehearsal or held(DAY, CLASS)], PIECES, {})
    return plan


def test_a_day_without_a_wish_is_like_any_other() -> None:
    assert only(cycle()) == DayPlan(slots=FixedSlots(4, 6, 3, 3))
    other_day = cycle([{"date": NEXT, "kind": "dress"}])
    other_band = cycle([{"date": DAY, "ensemble": "harbor", "kind": "dress"}])
    assert only(other_day) == only(other_band) == only(cycle())


def test_wishes_are_unpacked_as_they_stand() -> None:
    wish = {
        "date": DAY,
        "run": ["train"],
        "passages": ["spark", {"passage": "train/finale", "minutes": "10"}],
        "fundamentals": "7",
        "slots": {"set_up": "8"},
    }
    assert only(cycle([wish], slots={"close": "2"})) == DayPlan(
        DayKind.ORDINARY,
        runs=("train",),
        passages=(WishedPassage(("fires", "spark"), None), WishedPassage(("train", "finale"), 10)),
        fundamentals=7,
        slots=FixedSlots(8, 6, 3, 2),
    )


def test_a_dress_rehearsal_runs_the_program_in_order_unless_it_says_otherwise() -> None:
    assert only(cycle([{"date": DAY, "kind": "dress"}])).runs == ("fires", "train")
    stated = cycle([{"date": DAY, "kind": "dress", "run": ["train", "fires"]}])
    assert only(stated).runs == ("train", "fires")
    for_another_band = cycle([{"date": DAY, "kind": "dress", "run": ["sleds"]}])
    assert only(for_another_band).runs == ("fires", "train")


@pytest.mark.parametrize("kind", ["assembly", "event"])
def test_nothing_is_rehearsed_in_an_assembly_or_at_an_event(kind: str) -> None:
    plan = only(cycle([{"date": DAY, "kind": kind, "run": ["train"], "slots": {"set_up": "0"}}]))
    assert plan == DayPlan(DayKind(kind), fundamentals=0, slots=FixedSlots(0, 6, 3, 3))


def test_reading_at_sight_takes_all_of_the_music_time() -> None:
    plan = only(cycle([{"date": DAY, "kind": "sight-reading", "run": ["train"]}]))
    assert plan == DayPlan(DayKind.SIGHT_READING)


def test_sections_make_a_sectional_with_the_music_in_their_own_rooms() -> None:
    low = {"who": ["trombone", "tuba"], "room": "band-room", "passages": ["wheel"]}
    plan = only(cycle([{"date": DAY, "run": ["train"], "sections": {"low-brass": low}}]))
    (section,) = plan.sections
    assert (plan.kind, plan.runs, plan.fundamentals) == (DayKind.SECTIONAL, (), None)
    assert (section.id, section.who, section.room) == (
        "low-brass",
        ("trombone", "tuba"),
        "band-room",
    )
    assert section.passages == (WishedPassage(("train", "wheel"), None),)
    stated = cycle([{"date": DAY, "kind": "ordinary", "sections": {"low-brass": low}}])
    assert only(stated) == DayPlan()


def test_a_passage_is_kept_once_and_one_of_two_pieces_is_that_of_the_first() -> None:
    wishes = ["finale", {"passage": "fires/finale", "minutes": "5"}, "nowhere", "train/spark"]
    assert only(cycle([{"date": DAY, "passages": wishes}])).passages == (
        WishedPassage(("fires", "finale"), None),
    )


@pytest.mark.parametrize(("written", "minutes"), [("none", 0), ("None", 0), ("0", 0), ("12", 12)])
def test_fundamentals_are_none_or_minutes(written: str, minutes: int) -> None:
    assert only(cycle([{"date": DAY, "fundamentals": written}])).fundamentals == minutes


def kinds(written: Cycle, rehearsals: list[Rehearsal]) -> list[str]:
    return [plan.kind.value for plan in day_plans(written, BEACON, rehearsals, PIECES, {})]


BOTH = [held(DAY, CLASS), held(DAY, EVENING, extra=0)]


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({}, ["dress", "ordinary"]),
        ({"start": "10:00 am"}, ["dress", "ordinary"]),
        ({"start": "6:30 pm"}, ["ordinary", "dress"]),
        ({"start": "6:45 pm"}, ["ordinary", "ordinary"]),
    ],
)
def test_an_entry_is_about_the_class_unless_it_names_a_start(
    fields: dict[str, str], expected: list[str]
) -> None:
    written = cycle([{"date": DAY, "kind": "dress", **fields}], [evening()])
    assert kinds(written, BOTH) == expected


def test_an_entry_is_about_the_extra_where_there_is_no_class() -> None:
    written = cycle([{"date": DAY, "kind": "dress"}], [evening()])
    assert kinds(written, [held(DAY, EVENING, extra=0), held(NEXT, CLASS)]) == ["dress", "ordinary"]


def test_an_extra_is_known_among_those_of_other_ensembles() -> None:
    other = {**evening(kind="event"), "ensemble": "harbor"}
    assert kinds(cycle(extra=[other, evening(kind="dress")]), BOTH) == ["ordinary", "dress"]


def test_the_nearest_entry_goes_first_field_by_field() -> None:
    days: list[dict[str, Any]] = [
        {"date": DAY, "kind": "assembly", "fundamentals": "1", "slots": {"set_up": "1"}},
        {"date": DAY, "start": "6:30 pm", "fundamentals": "2", "slots": {"warm_up": "2"}},
        {"date": DAY, "ensemble": "beacon", "fundamentals": "3", "run": ["fires"]},
        {"date": DAY, "ensemble": "beacon", "start": "6:30 pm", "kind": "dress"},
    ]
    written = cycle(days, [evening(slots={"close": "9"})])
    alone = [held(DAY, EVENING, extra=0)]
    entries = day_entries(written, BEACON, alone)[0]
    assert [(entry.field, entry.place) for entry in entries] == [
        ("extra", 0),
        ("days", 3),
        ("days", 2),
        ("days", 1),
        ("days", 0),
    ]
    assert day_plans(written, BEACON, alone, PIECES, {}) == (
        DayPlan(DayKind.DRESS, ("fires",), (), 3, FixedSlots(1, 2, 3, 9)),
    )


def test_a_passage_that_is_asked_for_comes_before_others(tmp_path: Path) -> None:
    """Common practice, no source: the day's purpose comes while heads are fresh."""
    wish = "days:\n  - {date: Wed 2026-10-28, ensemble: lantern, passages: [%s]}\n"
    music = base_files()[MUSIC] + ANOTHER
    for asked in ("opening", "chase", "stir"):
        files = {MUSIC: music, CYCLE: base_files()[CYCLE] + wish % asked}
        rows = lantern(planned(tmp_path / asked, files)).rehearsals
        row = next(row for row in rows if row.rehearsal.day == date(2026, 10, 28))
        played = [block.passage.id for block in row.blocks if block.passage]
        assert played[0] == asked
        assert len(set(played)) > 1

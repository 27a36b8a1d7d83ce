"""What is asked of single days that no rehearsal can give.

The shared folder's Lantern Band meets Mon and Wed from 10:05 to 10:50 in the band room,
Harbor Band Tue and Thu from 10:55 to 11:40; slots are the usual 4 + 6 + 3 + 3 minutes.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from handbook.checks.day_minutes import (
    day_without_rehearsal,
    minutes_over_rehearsal,
    section_room_taken,
)
from handbook.checks.purposes import purpose_without_minutes
from handbook.checks.rehearsals import room_used_twice
from handbook.plan.model import Plan
from handbook.problems import Problem
from tests.checks.checking import CYCLE, FUNDAMENTALS, PROGRAM, Change, checked
from tests.content_folders import base_files, changed
from tests.plan.planning import lantern, planned

ROOMS: Change = (
    PROGRAM,
    "    name: Band room\n",
    "    name: Band room\n  - {id: choir-room, name: Choir room}\n",
)
ALL = "sections: {all: {who: [flute, clarinet, trumpet], room: band-room, passages: [%s]}}"


def day(fields: str, head: str = "date: 2026-11-02, ensemble: lantern") -> Change:
    return CYCLE, "starts:", f"days:\n  - {{{head}, {fields}}}\nstarts:"


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (day("passages: [chase, {passage: chace, minutes: 5}]"), "unknown-passage: no passage of this ensemble is called `chace` | did you mean `chase`?"),
        (day("passages: [round]"), "unknown-passage: no passage of this ensemble is called `round` | there are `chase` and `opening`; others are added to the piece in the cycle's music under passages"),
        (day(ALL % "nowhere/refrain"), "unknown-passage: no passage of this ensemble is called `nowhere/refrain` | there are "),
        (day("run: [lost]"), "unknown-piece: no piece is called `lost`"),
        (day("sections: {all: {who: [flute, clarinet, trumpet], room: hall}}"), "unknown-room: no room is called `hall`"),
        (day("sections: {all: {who: [flute, clarinet, trumpet, tuba]}}"), "unknown-instrument: no instrument of lantern is called `tuba`"),
        (day("sections: {all: {who: [flute, tuba, clarinet, trumpet]}}", "date: 2026-11-02"), "unknown-instrument: no instrument of the program is called `tuba`"),
        (day("kind: event, fundamentals: 5"), "warning wish-without-minutes: a rehearsal of the kind `event` has no minutes for `fundamentals` | remove `fundamentals`, or choose another kind"),
        (day("kind: dress, " + ALL % "chase"), "warning wish-without-minutes: a rehearsal of the kind `dress` has no minutes for `sections`"),
        (day("passages: [chase], " + ALL % "chase"), "warning wish-without-minutes: a rehearsal of the kind `sectional` has no minutes for `passages`"),
        (day("kind: sectional"), "warning sectional-without-sections: "),
        (day("sections: {one: {who: [flute]}, two: {who: [trumpet]}}"), "warning instrument-without-section: `clarinet` is in no section of this rehearsal | add it "),
        (day("sections: {one: {who: [flute, clarinet, trumpet]}, two: {who: [flute]}}"), "warning instrument-in-two-sections: `flute` is in two sections, `one` and `two`"),
    ],
)  # fmt: skip
def test_a_wish_that_leads_nowhere_is_told(change: Change, told: str, tmp_path: Path) -> None:
    (found,) = checked(tmp_path, change)
    assert told in found


@pytest.mark.parametrize(
    "fields",
    [
        "passages: [chase, opening]",
        "kind: event, fundamentals: none",
        "kind: assembly, slots: {warm_up: 0}",
        ALL % "opening",
        "kind: sectional, " + ALL % "opening",
        "kind: sight-reading, fundamentals: 10",
    ],
)
def test_a_wish_that_holds_is_not_told(fields: str, tmp_path: Path) -> None:
    assert checked(tmp_path, day(fields)) == []


def test_an_entry_for_all_may_name_what_only_one_ensemble_has(tmp_path: Path) -> None:
    wish = day("passages: [round, chase]", "date: 2026-11-02")
    assert checked(tmp_path, wish) == []


def test_a_piece_of_another_ensemble_cannot_be_run(tmp_path: Path) -> None:
    piece = "tweed-kites"
    (found,) = checked(tmp_path, day(f"run: [{piece}]"))
    assert f"piece-of-other-ensemble: `{piece}` is a piece of `harbor`, not of `lantern`" in found
    assert "move it to a day of `harbor`" in found
    assert checked(tmp_path / "all", day(f"run: [{piece}]", "date: 2026-11-02")) == []


def told(
    check: Callable[[Plan], tuple[Problem, ...]], folder: Path, *changes: Change
) -> list[Problem]:
    files = base_files()
    for name, old, new in changes:
        files = changed(files, name, old, new) if old else {**files, name: new}
    return list(check(planned(folder, files).plan))


@pytest.mark.parametrize(
    ("head", "field"),
    [
        ("date: 2026-11-01", "date"),
        ("date: 2026-11-03, ensemble: lantern", "date"),
        ("date: 2026-11-01, start: 10:05 am", "date"),
        ("date: 2026-11-02, start: 10:55 am", "start"),
        ("date: 2026-11-02, start: 10:05 am, ensemble: harbor", "date"),
    ],
)
def test_an_entry_without_a_rehearsal_is_told(head: str, field: str, tmp_path: Path) -> None:
    (found,) = told(day_without_rehearsal, tmp_path, day("thanks: Well done", head))
    assert found.address == (CYCLE, "days", 0, field)


@pytest.mark.parametrize("head", ["date: 2026-11-02", "date: 2026-11-02, start: 10:05 am"])
def test_an_entry_with_a_rehearsal_is_not_told(head: str, tmp_path: Path) -> None:
    assert told(day_without_rehearsal, tmp_path, day("thanks: Well done", head)) == []


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        # 45 minutes are there, and 16 of them in slots unless said otherwise: 29 are left.
        ("passages: [{passage: chase, minutes: 29}]", None),
        ("passages: [{passage: chase, minutes: 20}, {passage: opening, minutes: 10}]", "passages"),
        ("fundamentals: 29", None),
        ("fundamentals: 30", "fundamentals"),
        ("fundamentals: 10, passages: [{passage: chase, minutes: 20}]", "passages"),
        ("slots: {set_up: 33}", None),
        ("slots: {set_up: 34}", "slots"),
        ("slots: {close: 0}, fundamentals: 33", "slots"),
        ("slots: {close: 0}, fundamentals: 32", None),
        ("sections: {a: {who: [flute], passages: [{passage: chase, minutes: 20}]}, b: {who: [trumpet], passages: [{passage: chase, minutes: 29}]}}", None),
        ("sections: {a: {who: [flute], passages: [{passage: chase, minutes: 30}]}}", "sections"),
    ],
)  # fmt: skip
def test_minutes_are_held_against_the_rehearsal(
    fields: str, field: str | None, tmp_path: Path
) -> None:
    found = told(minutes_over_rehearsal, tmp_path, day(fields))
    assert [one.address for one in found] == ([(CYCLE, "days", 0, field)] if field else [])


def sections(*rooms: str) -> str:
    names = zip(("flute", "clarinet", "trumpet"), rooms, strict=True)
    inside = ", ".join(f"{name}s: {{who: [{name}]{room}}}" for name, room in names)
    return f"sections: {{{inside}}}"


OWN, BAND, CHOIR = "", ", room: band-room", ", room: choir-room"
MEANWHILE = ("10:20 am", "11:20 am")


def at_once(times: tuple[str, str], room: str = "") -> Change:
    start, end = times
    entry = f"{{ensemble: harbor, date: 2026-11-02, start: {start}, end: {end}{room}}}"
    return CYCLE, "stages:", f"extra:\n  - {entry}\nstages:"


@pytest.mark.parametrize(
    ("rooms", "who"),
    [((BAND, CHOIR, CHOIR), "trumpets"), ((OWN, CHOIR, BAND), "trumpets")],
)
def test_two_sections_cannot_share_a_room(
    rooms: tuple[str, str, str], who: str, tmp_path: Path
) -> None:
    (found,) = told(section_room_taken, tmp_path, ROOMS, day(sections(*rooms)))
    assert found.address == (CYCLE, "days", 0, "sections", who, "room")


def test_a_room_that_another_ensemble_needs_is_taken(tmp_path: Path) -> None:
    wish = day("sections: {all: {who: [flute, clarinet, trumpet], room: choir-room}}")
    meets = at_once(MEANWHILE, CHOIR)
    (found,) = told(section_room_taken, tmp_path, ROOMS, wish, meets)
    assert (found.address[-1], found.notes[0].address) == ("room", (CYCLE, "ensembles", 1))
    for name, times in (("later", ("10:50 am", "11:20 am")), ("earlier", ("9:20 am", "10:05 am"))):
        assert told(section_room_taken, tmp_path / name, ROOMS, wish, at_once(times, CHOIR)) == []
    # The band room is free meanwhile, since all of the sections are elsewhere.
    band = at_once(MEANWHILE)
    for check in (section_room_taken, room_used_twice):
        assert told(check, tmp_path / check.__name__, ROOMS, wish, band) == []
    assert told(room_used_twice, tmp_path / "whole", ROOMS, day("kind: dress"), band) != []


def short(purpose: str, more: str = "") -> Change:
    """An extra of 20 minutes: 4 for music, all of one passage where no other is asked for."""
    more = more or ", passages: [{passage: opening, minutes: 4}]"
    entry = f"{{ensemble: lantern, date: 2026-11-03, start: 3:30 pm, end: 3:50 pm, purpose: {purpose}{more}}}"
    return CYCLE, "starts:", f"extra:\n  - {entry}\nstarts:"


@pytest.mark.parametrize(
    ("purpose", "more", "problems"),
    [
        ("Play the chase into the Opening", "", 1),
        ("Play the chase into the Opening", ", passages: [chase, opening]", 0),
        ("Play the chase into the Opening", ", run: [button-comets]", 0),
        ("Play the chase into the Opening", ", kind: event", 0),
        ("From 4/4 into 6/8", "", 1),
        ("6/8 out of 4/4", "", 1),
        ("Due on 11/4/4 or 11/6/8", "", 0),
        ("From 4/4 into 6/8", ", kind: dress", 0),
        ("From 4/4 into 6/8", ", sections: {all: {who: [flute], passages: [chase, opening]}}", 0),
        ("Keep 7/8 of the breath", "", 0),
        ("{en: Breathe, es: Pasar de la persecución}", "", 0),
    ],
)
def test_a_purpose_is_held_against_the_minutes(
    purpose: str, more: str, problems: int, tmp_path: Path
) -> None:
    found = told(purpose_without_minutes, tmp_path, short(purpose, more))
    assert [one.address for one in found] == [(CYCLE, "extra", 0, "purpose")] * problems


def test_a_join_or_a_run_holds_what_a_purpose_names(tmp_path: Path) -> None:
    days = [row.rehearsal.day for row in lantern(planned(tmp_path / "days")).rehearsals]
    wishes = "".join(
        f"  - {{ensemble: lantern, date: {day}, purpose: Play the chase into the Opening}}\n"
        for day in days
    )
    files = changed(base_files(), CYCLE, "stages:\n", f"days:\n{wishes}stages:\n")
    plan = planned(tmp_path / "wished", files).plan
    assert purpose_without_minutes(plan) == ()
    by_themselves = [
        {block.passage.id for block in row.blocks if block.passage}
        for row in lantern(planned(tmp_path / "again", files)).rehearsals
    ]
    assert {"chase", "opening"} not in by_themselves[-2:]  # the last ones join them or run


def test_a_purpose_is_read_in_each_language_and_told_once(tmp_path: Path) -> None:
    files = changed(base_files(), PROGRAM, "contact:", "languages: [en, es]\ncontact:")
    music = "cycles/winter/music.yaml"
    for old, new in (
        ("name: Opening", "name: {en: Open sea, es: Mar abierto}"),
        ("name: The chase", "name: {en: The chase, es: La caza larga}"),
    ):
        files = changed(files, music, old, new)
    for name, purpose, problems in (
        ("both", "{en: Open sea and the chase, es: Mar abierto y la caza larga}", 1),
        ("spanish", "{en: Breathe, es: Mar abierto y la caza larga}", 1),
        ("english", "{en: Mar abierto y la caza larga}", 0),
        ("wrong", "{en: Mar abierto y la caza larga, es: Open sea and the chase}", 0),
    ):
        plan = planned(tmp_path / name, changed(files, *short(purpose))).plan
        assert len(purpose_without_minutes(plan)) == problems, name


RHYTHM = """\
strands:
  - id: rhythm
    name: Rhythm
    why: It holds the band together
    exercises: [{id: gallop, name: Gallop, level: 1, rhythm: q e q e, meter: 6/8}]
"""


def test_a_meter_of_the_fundamentals_is_in_the_minutes(tmp_path: Path) -> None:
    wish = short("Feel the 6/8", ", fundamentals: 4")
    found = told(purpose_without_minutes, tmp_path / "with", wish, (FUNDAMENTALS, "", RHYTHM))
    assert found == []
    other = (FUNDAMENTALS, "", RHYTHM.replace("q e q e, meter: 6/8", "q q q, meter: 3/4"))
    assert len(told(purpose_without_minutes, tmp_path / "other", wish, other)) == 1


def test_goals_of_a_stage_are_not_read(tmp_path: Path) -> None:
    goal = (CYCLE, "- Play each passage in rhythm", "- Play the chase into the Opening in 6/8")
    extra = (CYCLE, "starts:", short("x")[2].replace(", purpose: x", ""))
    assert told(purpose_without_minutes, tmp_path, goal, extra) == []

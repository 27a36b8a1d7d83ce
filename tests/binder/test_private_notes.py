"""Every private note stands in the binder, and beside the rehearsal it is about."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from datetime import date
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from handbook.binder.assemble import binder_files
from handbook.binder.model import Binder
from handbook.binder.private_notes import PATH, notes_of_day, notes_of_rehearsal
from handbook.binder.stand_concerts import concerts_data
from handbook.plan.model import RehearsalRow
from tests.binder.conftest import binder_of
from tests.binder.test_binder import pages_of
from tests.test_no_leaks import MARK, read, rewritten, with_private

TWO_BANDS = Path(__file__).parents[1] / "sites" / "two-bands" / "content"
_MARKS = re.compile(rf"{MARK}\d+")


@pytest.fixture(scope="module")
def seeded(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    """Lay ready a binder of content with a private note in every entry that may have one."""
    content = tmp_path_factory.mktemp("seeded") / "content"
    shutil.copytree(TWO_BANDS, content)
    numbers = count()
    for file in sorted(content.rglob("*.yaml")):
        rewritten(file, with_private(read(file), numbers))
    assert next(numbers) > 140  # entries that were seeded
    return binder_of(content)


def test_every_note_of_every_entry_stands_in_the_binder(seeded: Binder) -> None:
    written = {
        mark
        for file in seeded.content.rglob("*.yaml")
        for mark in _MARKS.findall(file.read_text("utf-8"))
    }
    page = pages_of(binder_files(seeded))[PATH]
    assert {*_MARKS.findall(page)} == written


@pytest.fixture(scope="module")
def noted(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    """Lay ready a binder of content with a note of a day, of pieces and of passages."""
    content = tmp_path_factory.mktemp("noted") / "content"
    shutil.copytree(TWO_BANDS, content)
    winter = content / "cycles" / "winter"
    for name, old, new in (
        ("cycle.yaml", "run: [ferry-song],", "run: [ferry-song], private: tune,"),
        ("music.yaml", "    by: The band office\n", "    by: The band office\n    private: solo\n"),
        (
            "music.yaml",
            "        name: The landing\n",
            "        name: The landing\n        private: low\n",
        ),
        ("music.yaml", "{id: gates, ", "{id: gates, private: slow, "),
        ("music.yaml", "id: tow-path\n", "id: tow-path\n    private: of another band\n"),
    ):
        text = (winter / name).read_text("utf-8")
        assert text.count(old) == 1, old
        (winter / name).write_text(text.replace(old, new), encoding="utf-8")
    (winter / "log").mkdir(exist_ok=True)
    (winter / "log" / "2026-11-16-ferry.yaml").write_text(
        "date: 2026-11-16\nensemble: ferry\nprivate: late bus\n", encoding="utf-8"
    )
    return binder_of(content)


Noted = list[tuple[RehearsalRow, list[tuple[str, ...]]]]


def notes_by_day(binder: Binder) -> Noted:
    cycle = next(one for one in binder.plan.cycles if one.id == "winter")
    ensemble = next(one for one in cycle.ensembles if one.item.id == "ferry")
    with binder.context.speaking():
        found = [
            (row, notes_of_rehearsal(binder, cycle, ensemble, row)) for row in ensemble.rehearsals
        ]
    return [(row, [(one.about, *one.lines) for one in notes]) for row, notes in found]


def test_a_rehearsal_has_the_notes_of_its_day_and_of_what_is_played(noted: Binder) -> None:
    found = {f"{row.rehearsal.day}": notes for row, notes in notes_by_day(noted)}
    assert found["2026-11-16"] == [
        ("This day", "tune"),
        ("What was logged", "late bus"),
        ("Ferry Song", "solo"),
        ("Ferry Song, The landing", "low"),
    ]


def test_a_note_of_a_passage_stands_where_that_is_played_and_nowhere_else(noted: Binder) -> None:
    told, plays, of_piece = [], [], []
    for row, notes in notes_by_day(noted):
        told.append(("Ferry Song, The landing", "low") in notes)
        of_piece.append(("Ferry Song", "solo") in notes)
        passages = [
            passage.id
            for block in row.blocks
            for passage in (block.passage, *(block.stretch.passages if block.stretch else ()))
            if passage
        ]
        plays.append("landing" in passages)
    assert told == plays
    assert told != of_piece, "another passage of the piece is no reason to show it"


@pytest.fixture(scope="module")
def event_notes(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    """Lay ready a binder of content with notes of a concert and what is in it, and of an event and its days."""
    content = tmp_path_factory.mktemp("events") / "content"
    shutil.copytree(TWO_BANDS, content)
    concert, events = content / "cycles" / "winter" / "concert.yaml", content / "events.yaml"
    for file, old, new in (
        (concert, "downbeat: 7:00 pm\n", "downbeat: 7:00 pm\nprivate: tuner in the pocket\n"),
        (
            concert,
            "  - ensemble: ferry\n",
            "  - ensemble: ferry\n    private: stand for the solo\n",
        ),
        (
            events,
            "    kind: Game\n    on: [",
            "    kind: Game\n    private: ask for a bench\n    on: [",
        ),
        (events, "Fri 2026-12-04, {", "{date: Tue 2026-12-08, private: short}, {"),
        (events, "name: Rivals, ", "name: Rivals, private: crowded, "),
    ):
        text = file.read_text("utf-8")
        assert text.count(old) == 1, old
        file.write_text(text.replace(old, new), encoding="utf-8")
    return binder_of(content)


@pytest.mark.parametrize(
    ("day", "band", "told"),
    [
        (date(2026, 12, 8), "ferry", ["ask for a bench", "short"]),
        (date(2027, 1, 16), "ferry", ["ask for a bench", "crowded"]),
        (date(2026, 12, 8), "brass", []),
        (date(2026, 12, 5), "ferry", []),
        (date(2026, 12, 10), "ferry", ["tuner in the pocket", "stand for the solo"]),
    ],
)
def test_a_day_has_the_notes_of_its_concert_and_its_events(
    event_notes: Binder, day: date, band: str, told: list[str]
) -> None:
    cycle = next(one for one in event_notes.cycles if one.id == "winter")
    with event_notes.context.speaking():
        found = notes_of_day(event_notes, cycle, day, band)
    assert [line for note in found for line in note.lines] == told


def test_the_concert_on_the_stand_has_the_notes_of_all_its_bands_once(event_notes: Binder) -> None:
    cycle = next(one for one in event_notes.cycles if one.id == "winter")
    with event_notes.context.speaking():
        concert: Any
        (concert,) = concerts_data(event_notes, cycle)
    assert len(cycle.held_concerts[0].item.players) > 1
    steps = [step[0] for _, _, steps, *_ in concert["bands"] for step in steps]
    ends = cycle.held_concerts[0].day.ends
    assert ends.timestamp() < concert["over"] == max(steps)  # who packs up is not done yet
    name = event_notes.context.say(cycle.held_concerts[0].item.name)
    assert concert["private"] == [[name, "tuner in the pocket"], [name, "stand for the solo"]]


def test_a_rehearsal_on_the_day_of_an_event_has_its_notes(event_notes: Binder) -> None:
    with_event = [
        f"{row.rehearsal.day}"
        for row, notes in notes_by_day(event_notes)
        if any("ask for a bench" in note for note in notes)
    ]
    days = [f"{row.rehearsal.day}" for row, _ in notes_by_day(event_notes)]
    assert with_event == [day for day in days if day == "2026-12-08"]
    assert with_event


def test_what_a_band_joins_in_has_its_notes_where_it_is_played(noted: Binder) -> None:
    """The hour of the band to which the piece belongs, told to the one that joins in."""
    cycle = next(one for one in noted.plan.cycles if one.id == "winter")
    ferry, brass = (
        next(one for one in cycle.ensembles if one.item.id == name) for name in ("ferry", "brass")
    )
    assert [one.piece.item.id for one in brass.joined] == ["ferry-song"]
    row = next(one for one in ferry.rehearsals if f"{one.rehearsal.day}" == "2026-11-16")
    with noted.context.speaking():
        notes = notes_of_rehearsal(noted, cycle, brass, row)
    assert ("solo",) in [one.lines for one in notes if one.about == "Ferry Song"]


def test_the_newest_cycle_is_the_first_on_the_page(seeded: Binder) -> None:
    page = pages_of(binder_files(seeded))[PATH]
    assert 0 < page.index("cycles/winter/cycle.yaml") < page.index("cycles/fall/cycle.yaml")


def test_without_notes_there_is_no_page(small_binder: Binder) -> None:
    assert PATH not in pages_of(binder_files(small_binder))


def test_notes_of_a_cycle_that_was_not_asked_for_are_left_out(seeded: Binder) -> None:
    fall = replace(seeded, cycles=tuple(one for one in seeded.cycles if one.id == "fall"))
    page = pages_of(binder_files(fall))[PATH]
    assert "cycles/fall/cycle.yaml" in page
    assert "cycles/winter/" not in page

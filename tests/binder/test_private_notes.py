"""Every private note stands in the binder, and beside the rehearsal it is about."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from itertools import count
from pathlib import Path

import pytest

from handbook.binder.assemble import binder_files
from handbook.binder.model import Binder
from handbook.binder.private_notes import PATH, notes_of_rehearsal
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


def test_a_rehearsal_has_the_notes_of_its_day_and_of_what_is_played(tmp_path: Path) -> None:
    content = tmp_path / "content"
    shutil.copytree(TWO_BANDS, content)
    cycle_file = content / "cycles" / "winter" / "cycle.yaml"
    text = cycle_file.read_text("utf-8")
    cycle_file.write_text(text.replace("run: [ferry-song],", "run: [ferry-song], private: tune,"))
    music = content / "cycles" / "winter" / "music.yaml"
    text = music.read_text("utf-8")
    text = text.replace("    by: The band office\n", "    by: The band office\n    private: solo\n")
    text = text.replace(
        "        name: The landing\n", "        name: The landing\n        private: low\n"
    )
    text = text.replace("id: tow-path\n", "id: tow-path\n    private: of another band\n")
    music.write_text(text)
    binder = binder_of(content)
    cycle = next(one for one in binder.plan.cycles if one.id == "winter")
    ensemble = next(one for one in cycle.ensembles if one.item.id == "ferry")
    row = next(one for one in ensemble.rehearsals if f"{one.rehearsal.day}" == "2026-11-16")
    with binder.context.speaking():
        found = notes_of_rehearsal(binder, cycle, ensemble, row)
    assert [(one.about, *one.lines) for one in found] == [
        ("This day", "tune"),
        ("Ferry Song", "solo"),
        ("Ferry Song, The landing", "low"),
    ]


def test_without_notes_there_is_no_page(small_binder: Binder) -> None:
    assert PATH not in pages_of(binder_files(small_binder))


def test_notes_of_a_cycle_that_was_not_asked_for_are_left_out(seeded: Binder) -> None:
    fall = replace(seeded, cycles=tuple(one for one in seeded.cycles if one.id == "fall"))
    page = pages_of(binder_files(fall))[PATH]
    assert "cycles/fall/cycle.yaml" in page
    assert "cycles/winter/" not in page

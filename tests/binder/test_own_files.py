"""What the director wrote into a binder's files stays, however often a new binder takes its place."""

from __future__ import annotations

import os
from pathlib import Path
from shutil import copy2, copytree

import pytest

from handbook.binder.model import BinderFile
from handbook.binder.writing import write_binder
from handbook.cli.sites import tell_left
from handbook.publishing.manifest import BINDER
from tests.content_folders import write_folder
from tests.published_sites import snapshot

SHEET = "winter/beacon-rehearsals.pdf"
YOURS = "winter/beacon-rehearsals, yours.pdf"
NOTED = b"%PDF with a note in the margin"


def files(said: str) -> tuple[BinderFile, ...]:
    return (BinderFile("index.html", b"<p>Mine"), BinderFile(SHEET, f"%PDF {said}".encode()))


@pytest.fixture
def content(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "band" / "content", {"program.yaml": "name: Band\n"})


@pytest.fixture
def place(tmp_path: Path, content: Path) -> Path:
    place = tmp_path / "private" / "binder"
    write_binder(files("one"), place, content=content)
    return place


def words(place: Path) -> dict[str, bytes]:
    found = snapshot(place)
    del found[BINDER.name]
    return found


@pytest.mark.parametrize("said", ["one", "two"])
def test_a_note_in_a_sheet_is_set_aside_and_told_once(
    place: Path, content: Path, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (place / SHEET).write_bytes(NOTED)
    written = write_binder(files(said), place, content=content)
    assert written.aside == ((SHEET, YOURS),)
    tell_left(written, "binder")
    assert capsys.readouterr().err == (
        f"handbook: {SHEET} was changed since it was written; as you left it, it is now {YOURS}\n"
    )
    expected = {"index.html": b"<p>Mine", SHEET: f"%PDF {said}".encode(), YOURS: NOTED}
    assert words(place) == expected
    # It stays from then on, whatever else is new, and with what is written into it later.
    again = write_binder(files("three"), place, content=content)
    assert again.aside == ()
    assert words(place) == {**expected, SHEET: b"%PDF three"}
    (place / YOURS).write_bytes(NOTED + b" and another")
    assert write_binder(files("four"), place, content=content).aside == ()
    assert words(place)[YOURS] == NOTED + b" and another"
    # A second sheet with notes takes the place of none.
    (place / SHEET).write_bytes(b"%PDF noted anew")
    second = YOURS.replace("yours", "yours 2")
    assert write_binder(files("five"), place, content=content).aside == ((SHEET, second),)
    assert words(place)[YOURS] == NOTED + b" and another"
    assert words(place)[second] == b"%PDF noted anew"
    # What the director throws away is gone.
    (place / YOURS).unlink()
    write_binder(files("six"), place, content=content)
    assert set(words(place)) == {"index.html", SHEET, second}


def test_a_note_in_a_sheet_that_is_no_longer_made_stays(place: Path, content: Path) -> None:
    (place / SHEET).write_bytes(NOTED)
    write_binder(files("one")[:1], place, content=content)
    assert words(place) == {"index.html": b"<p>Mine", YOURS: NOTED}


def test_a_binder_that_was_copied_or_touched_is_not_changed(place: Path, content: Path) -> None:
    copytree(place, place.with_name("copy"))
    for one in place.with_name("copy").rglob("*.*"):
        os.utime(one, (1, 1))
    written = write_binder(files("two"), place.with_name("copy"), content=content)
    assert written.aside == ()
    assert set(words(place.with_name("copy"))) == {"index.html", SHEET}


def test_what_says_the_same_as_the_new_one_is_not_set_aside(place: Path, content: Path) -> None:
    (place / SHEET).write_bytes(b"%PDF two")
    assert write_binder(files("two"), place, content=content).aside == ()
    assert set(words(place)) == {"index.html", SHEET}


def test_a_folder_with_a_copied_marker_loses_nothing(
    tmp_path: Path, place: Path, content: Path
) -> None:
    mine = write_folder(tmp_path / "other" / "mine", {"index.html": "<p>My own page"})
    copy2(place / BINDER.name, mine)
    write_binder(files("two"), mine, content=content)
    assert words(mine)["index, yours.html"] == b"<p>My own page"

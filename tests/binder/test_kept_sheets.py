"""Sheets of a binder that say what they said are not typeset again, and nothing of them lies elsewhere."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from shutil import copytree

import pytest

from handbook.binder.taken import taken_files
from handbook.binder.writing import write_binder
from handbook.cli import main
from handbook.making import kept_sheets
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import Printed, printed
from handbook.store import Store, user_store
from tests.binder.conftest import binder_of
from tests.publications import edit
from tests.published_sites import snapshot

TWO_BANDS = Path(__file__).parents[1] / "sites" / "two-bands" / "content"
DAY = date(2026, 11, 18)
FERRY, BRASS = "ferry-2026-11-18", "brass-2026-11-18"
ALL = {f"{band}{end}.pdf" for band in (FERRY, BRASS) for end in ("", "-substitute")}
NOTE = "The old parts lie below the window."

Write = Callable[[Path, Store], set[str]]


@pytest.fixture
def content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return copytree(TWO_BANDS, tmp_path / "band" / "content")


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Gather the paths of all sheets that are typeset."""
    paths = set[str]()

    def counted(sheet: MadeSheet, imprint: Imprint) -> Printed:
        paths.add(sheet.path)
        return printed(sheet, imprint)

    monkeypatch.setattr(kept_sheets, "printed", counted)
    return paths


@pytest.fixture
def write(content: Path, made: set[str]) -> Write:
    """Write the binder of a day on which both bands rehearse; give which sheets were typeset."""

    def writing(place: Path, store: Store) -> set[str]:
        made.clear()
        write_binder(taken_files(binder_of(content), DAY), place, content=content, store=store)
        return set(made)

    return writing


def test_only_what_says_something_new_is_typeset(
    tmp_path: Path, content: Path, write: Write
) -> None:
    place = tmp_path / "private" / "binder"
    place.parent.mkdir()
    assert write(place, user_store(content, "binder")) == ALL
    first = snapshot(place)
    assert not write(place, user_store(content, "binder"))
    assert snapshot(place) == first
    day = "kind: sight-reading, purpose: Read something new"
    edit(content / "cycles" / "winter" / "cycle.yaml", day, f"{day}, private: {NOTE}")
    assert write(place, user_store(content, "binder")) == {f"{FERRY}.pdf"}
    after = snapshot(place)
    assert {name for name in ALL if first[name] != after[name]} == {f"{FERRY}.pdf"}
    # Without what is kept every byte is the same.
    other = tmp_path / "private" / "other"
    assert write(other, Store()) == ALL
    assert {name: after[name] for name in ALL} == {name: snapshot(other)[name] for name in ALL}


def test_what_is_kept_holds_no_words_and_no_sheet(
    tmp_path: Path, content: Path, write: Write
) -> None:
    day = "kind: sight-reading, purpose: Read something new"
    edit(content / "cycles" / "winter" / "cycle.yaml", day, f"{day}, private: {NOTE}")
    store = user_store(content, "binder")
    write(tmp_path / "private", store)
    folder = store._folder
    assert folder is not None
    assert not folder.stat().st_mode & 0o077
    kept = {one.name: one.read_bytes() for one in folder.iterdir()}
    assert kept.pop("content").decode() == str(content)
    assert len(kept) == len(ALL)
    assert (
        max(map(len, kept.values())) < 200
    )  # of a digest in hex are 64, and the sum and frame of it


def test_a_sheet_that_is_gone_or_changed_is_made_again(
    tmp_path: Path, content: Path, write: Write
) -> None:
    place = tmp_path / "private"
    write(place, user_store(content, "binder"))
    before = snapshot(place)
    (place / f"{FERRY}.pdf").unlink()
    (place / f"{BRASS}.pdf").write_bytes(b"%PDF of somebody's")
    assert write(place, user_store(content, "binder")) == {f"{FERRY}.pdf", f"{BRASS}.pdf"}
    after = snapshot(place)
    assert {name: after[name] for name in ALL} == {name: before[name] for name in ALL}


def test_the_command_keeps_what_it_made(tmp_path: Path, content: Path, made: set[str]) -> None:
    command = ["binder", str(content), "--to", str(tmp_path / "b"), "--take", f"{DAY}:ferry"]
    for expected in (2, 0):
        made.clear()
        with pytest.raises(SystemExit) as ended:
            main(command)
        assert ended.value.code == 0
        assert len(made) == expected

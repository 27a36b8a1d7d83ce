"""The marker that guards a folder from being replaced: only what a build of ours listed is ours."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.publishing.manifest import MARKER, foreign_files, marker_text


def folder_with(folder: Path, marker: bytes | None) -> Path:
    (folder / "winter").mkdir()
    (folder / "index.html").write_text("<p>")
    (folder / "winter" / "index.html").write_text("<p>")
    if marker is not None:
        (folder / MARKER).write_bytes(marker)
    return folder


def test_what_we_wrote_is_ours(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, marker_text(["winter/index.html", "index.html"]))
    assert foreign_files(folder) == ()
    (folder / "notes.txt").write_text("mine")
    assert foreign_files(folder) == ("notes.txt",)


@pytest.mark.parametrize(
    "first", ["", "# Made by hand", "# Made by handbook build", "index.html", "\ufeff# Made"]
)
def test_a_marker_that_begins_otherwise_guards_nothing(first: str, tmp_path: Path) -> None:
    """A file of the same name by somebody else, though it lists every file, is no marker."""
    ours = marker_text(["winter/index.html", "index.html"])
    folder = folder_with(tmp_path, first.encode() + b"\n" + ours.partition(b"\n")[2])
    assert foreign_files(folder) == (MARKER, "index.html", "winter/index.html")


@pytest.mark.parametrize("marker", [None, b"", b"\xff\xfe"])
def test_without_a_marker_that_can_be_read_all_is_foreign(
    marker: bytes | None, tmp_path: Path
) -> None:
    folder = folder_with(tmp_path, marker)
    assert set(foreign_files(folder)) >= {"index.html", "winter/index.html"}


def test_what_file_managers_leave_is_not_counted(tmp_path: Path) -> None:
    folder = folder_with(tmp_path, marker_text(["winter/index.html", "index.html"]))
    for name in (".DS_Store", "winter/Thumbs.db"):
        (folder / name).write_bytes(b"")
    assert foreign_files(folder) == ()

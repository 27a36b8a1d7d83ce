"""The marker that guards a folder from being replaced: only one of ours is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.publishing.manifest import MARKER, Listed, Written, read_marker, write_marker

OURS: Listed = {"index.html": Written("a" * 64, 12, 1_795_600_000), "winter/index.html": None}


def test_what_was_written_is_read(tmp_path: Path) -> None:
    write_marker(tmp_path, OURS)
    assert read_marker(tmp_path) == OURS


def test_a_site_of_an_earlier_build_is_known(tmp_path: Path) -> None:
    """The first line must stay as it is: sites with it stand on people's disks."""
    marker = "# Made by handbook build, which replaces this folder whole. Keep nothing of your own in it.\nindex.html\n"
    (tmp_path / ".handbook-site").write_text(marker, encoding="utf-8")
    assert read_marker(tmp_path) == {"index.html": None}


@pytest.mark.parametrize(
    "first", ["", "# Made by hand", "# Made by handbook build", "index.html", "\ufeff# Made"]
)
def test_a_file_that_begins_otherwise_is_no_marker(first: str, tmp_path: Path) -> None:
    """Though it has our name and lists the very files."""
    write_marker(tmp_path, OURS)
    marker = tmp_path / MARKER
    rest = marker.read_bytes().partition(b"\n")[2]
    marker.write_bytes(first.encode() + b"\n" + rest)
    assert read_marker(tmp_path) is None


@pytest.mark.parametrize("content", [None, b"", b"\xff\xfe"])
def test_without_a_marker_that_can_be_read_there_is_none(
    content: bytes | None, tmp_path: Path
) -> None:
    if content is not None:
        (tmp_path / MARKER).write_bytes(content)
    assert read_marker(tmp_path) is None

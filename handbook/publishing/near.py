"""What of ours stands near a folder: readers of a site must not come upon a binder."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from handbook.disk import is_folder
from handbook.publishing.manifest import BINDER, SITE, Marker, read_marker

_LEVELS, _MOST_FOLDERS = 3, 500
"""How deep, and among how many folders, is looked below what lies beside: it is done at each build."""


def bears(folder: Path, marker: Marker) -> bool:
    """Whether a folder was made by handbook, and is of this kind."""
    return read_marker(folder, marker) is not None


def made_folder(place: Path) -> tuple[Path, str] | None:
    """Give the site or binder in which a place lies, and what of both it is; each is replaced whole."""
    for folder in (place, *place.parents):
        for marker, what in ((SITE, "site"), (BINDER, "binder")):
            if bears(folder, marker):
                return folder, what
    return None


def inside(folder: Path, marker: Marker) -> Iterator[Path]:
    """Give what lies in a folder and is of this kind, in order."""
    return (one for one in _folders(folder) if bears(one, marker))


def beside(real: Path, marker: Marker) -> Iterator[Path]:
    """Give what is of this kind and lies beside `real`, beside a folder above it, or below one beside it.

    Whoever publishes one folder may publish what it lies in, and so all that lies there. Folders
    that hold everything of a person are where the search ends: the home folder, that for
    temporary files and the root of a disk, of which only what lies right beside `real` counts.
    """
    most = _of_everything()
    yield from inside(real.parent, marker)
    if real.parent in most:
        return
    yield from (one for one in _below(real) if bears(one, marker))
    for folder in real.parent.parents:
        if folder in most:
            return
        yield from inside(folder, marker)


def _below(real: Path) -> Iterator[Path]:
    """Give the folders in those beside `real`, some levels deep, the upper ones first; no hidden ones."""
    level, left = [one for one in _folders(real.parent) if one != real], _MOST_FOLDERS
    for _ in range(_LEVELS):
        shown = [one for one in level if not one.name.startswith(".")]
        level = [inner for one in shown[:left] for inner in _folders(one)]
        left -= min(left, len(shown))
        yield from level


def _folders(folder: Path) -> list[Path]:
    with suppress(OSError):
        return [one for one in sorted(folder.iterdir()) if is_folder(one)]
    return []


def _of_everything() -> frozenset[Path]:
    found = {Path(tempfile.gettempdir()).resolve()}
    with suppress(OSError, RuntimeError):
        found.add(Path.home().resolve())
    return frozenset({*found, *(Path(one.anchor) for one in found)})

"""The marker: the hidden file by which a folder is known as a site that we made.

It lists the files we wrote, so that a file put there by someone else is never deleted
with the old site. It holds nothing that is not public: only addresses of the site.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

MARKER = ".handbook-site"
_FIRST_LINE = (
    "# Made by handbook build, which replaces this folder whole. Keep nothing of your own in it."
)
_LEFT_BY_SYSTEMS = frozenset({".DS_Store", "Thumbs.db", "desktop.ini"})  # by file managers, unasked


def marker_text(files: Iterable[str]) -> bytes:
    """Give the marker's content: one line of explanation, then the files in order."""
    return "\n".join((_FIRST_LINE, *sorted(files), "")).encode()


def foreign_files(folder: Path) -> tuple[str, ...]:
    """Name the files of `folder` that no build of ours put there, in order.

    Without a marker every file is foreign; an empty folder has none.
    """
    ours = _listed(folder)
    return tuple(sorted(name for name in files_in(folder) if _is_foreign(name, ours)))


def files_in(folder: Path) -> set[str]:
    """Name all files below `folder`, relative, with forward slashes; links are not followed."""
    found = set()
    for place, folders, names in os.walk(folder):
        linked = [name for name in folders if (Path(place) / name).is_symlink()]
        base = Path(place).relative_to(folder).as_posix()
        found |= {name if base == "." else f"{base}/{name}" for name in (*names, *linked)}
    return found


def _listed(folder: Path) -> frozenset[str]:
    try:
        first, *lines = (folder / MARKER).read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return frozenset()
    return frozenset((*lines, MARKER)) if first == _FIRST_LINE else frozenset()


def _is_foreign(name: str, ours: frozenset[str]) -> bool:
    return name not in ours and name.rpartition("/")[2] not in _LEFT_BY_SYSTEMS

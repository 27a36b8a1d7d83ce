"""The marker: the hidden file by which a folder is known as a site that we made.

It lists the files we wrote, so that a file put there by someone else is never deleted
with the old site, and how each looked on the disk, so that one that has not changed need
not be written again. It is published with the site: it holds nothing that is not public.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from handbook.disk import write_new
from handbook.records import dataclass

MARKER = ".handbook-site"
MARKER_IN_WORK = ".handbook-site.part"
"""The marker while it is written; by its name alone it counts as ours."""

_FIRST_LINE = (
    "# Made by handbook build, which replaces this folder whole. Keep nothing of your own in it."
)
_PARTS = 4  # of a line: name, digest, size, time


@dataclass(frozen=True, slots=True)
class Written:
    """A file as a build left it: SHA-256, size in bytes, time of change in ns since 1970."""

    digest: str
    size: int
    changed: int


Listed = Mapping[str, Written | None]
"""Names of files; None for one not written yet, or written by a build that noted only names."""


def write_marker(folder: Path, listed: Listed) -> None:
    """Put the marker into `folder`, whole or not at all: one line of explanation, then the files."""
    lines = [_line(name, listed[name]) for name in sorted(listed)]
    part = folder / MARKER_IN_WORK
    write_new(part, "\n".join((_FIRST_LINE, *lines, "")).encode(), lasting=True)
    os.replace(part, folder / MARKER)  # noqa: PTH105 - patched in tests by this name


def read_marker(folder: Path) -> Listed | None:
    """Give what the marker of `folder` lists; None without a marker of ours, or for a link."""
    marker = folder / MARKER
    try:
        if not stat.S_ISREG(marker.lstat().st_mode):
            return None
        raw = marker.read_bytes()
    except OSError:
        return None
    return _listed(raw)


@lru_cache(maxsize=2)  # the old site's and the new one's are asked for at every step
def _listed(raw: bytes) -> Listed | None:
    try:
        first, *lines = raw.decode().split("\n")
    except ValueError:
        return None
    return dict(map(_parsed, filter(None, lines))) if first == _FIRST_LINE else None


def _line(name: str, written: Written | None) -> str:
    if written is None:
        return name
    return f"{name}\t{written.digest}\t{written.size}\t{written.changed}"


def _parsed(line: str) -> tuple[str, Written | None]:
    name, *parts = line.split("\t")
    if len(parts) != _PARTS - 1 or not (parts[1].isdigit() and parts[2].isdigit()):
        return name, None
    return name, Written(parts[0], int(parts[1]), int(parts[2]))

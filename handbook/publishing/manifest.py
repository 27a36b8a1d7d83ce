"""The marker: the hidden file by which a folder is known as a site, or a binder, that we made.

It lists the files we wrote, so that a file put there by someone else is never deleted
with the old site, and how each looked on the disk, so that one that has not changed need
not be written again. A site's is published with it: it holds nothing that is not public.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from handbook.disk import write_new
from handbook.records import dataclass

_PARTS = 4  # of a line: name, digest, size, time


@dataclass(frozen=True, slots=True)
class Marker:
    """A kind of marker: its file's name, the line that it begins with, and the rights of its folder."""

    name: str
    first_line: str
    rights: int = 0o777

    @property
    def in_work(self) -> str:
        """The file while it is written; by its name alone it counts as ours."""
        return f"{self.name}.part"


SITE = Marker(
    ".handbook-site",
    "# Made by handbook build, which replaces this folder whole. Keep nothing of your own in it.",
)
BINDER = Marker(
    ".handbook-binder",
    "# Made by handbook binder, which replaces this folder whole. Keep nothing of your own in it.",
    rights=0o700,
)
MARKER = SITE.name


@dataclass(frozen=True, slots=True)
class Written:
    """A file as a build left it: SHA-256, size in bytes, time of change in ns since 1970."""

    digest: str
    size: int
    changed: int


Listed = Mapping[str, Written | None]
"""Names of files; None for one not written yet, or written by a build that noted only names."""


def write_marker(folder: Path, listed: Listed, marker: Marker = SITE) -> None:
    """Put the marker into `folder`, whole or not at all: one line of explanation, then the files."""
    lines = [_line(name, listed[name]) for name in sorted(listed)]
    part = folder / marker.in_work
    write_new(part, "\n".join((marker.first_line, *lines, "")).encode(), lasting=True)
    os.replace(part, folder / marker.name)  # noqa: PTH105 - patched in tests by this name


def read_marker(folder: Path, marker: Marker = SITE) -> Listed | None:
    """Give what the marker of `folder` lists; None without a marker of ours, or for a link."""
    place = folder / marker.name
    try:
        if not stat.S_ISREG(place.lstat().st_mode):
            return None
        raw = place.read_bytes()
    except OSError:
        return None
    return _listed(raw, marker)


@lru_cache(maxsize=2)  # the old site's and the new one's are asked for at every step
def _listed(raw: bytes, marker: Marker) -> Listed | None:
    try:
        first, *lines = raw.decode().split("\n")
    except ValueError:
        return None
    return dict(map(_parsed, filter(None, lines))) if first == marker.first_line else None


def _line(name: str, written: Written | None) -> str:
    if written is None:
        return name
    return f"{name}\t{written.digest}\t{written.size}\t{written.changed}"


def _parsed(line: str) -> tuple[str, Written | None]:
    name, *parts = line.split("\t")
    if len(parts) != _PARTS - 1 or not (parts[1].isdigit() and parts[2].isdigit()):
        return name, None
    return name, Written(parts[0], int(parts[1]), int(parts[2]))

"""The bytes of a content folder, read once, so that what is read is what was looked at."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from handbook.loader.discover import Folder, FoundFile, look_into
from handbook.loader.folder_walk import read_bytes
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.schema.handbook import MediaFile

_OF_CYCLES = frozenset({"cycle", "music", "concert", "log"})


@dataclass(frozen=True, slots=True)
class Contents:
    """The files that were found, and the bytes of those that are read; None where that failed.

    `digest` is the SHA-256 of the bytes, empty where there are none. Media are not read: they
    may be large. `media_files` is what is known of them, if anybody
    has looked.
    """

    folder: Path
    found: Folder
    raw: Mapping[str, bytes | None]
    digest: Mapping[str, str]
    media_files: Mapping[str, MediaFile] | None = None

    def shared(self) -> Contents:
        """Leave out the files of all cycles."""
        return self._only(lambda file: file.topic not in _OF_CYCLES)

    def of_cycle(self, cycle_id: str) -> Contents:
        """Leave out all files but those of one cycle."""
        return self._only(lambda file: file.topic in _OF_CYCLES and file.owner == cycle_id)

    def of_topics(self, *topics: str) -> Contents:
        """Leave out all files but those of some topics."""
        return self._only(lambda file: file.topic in topics)

    def digests(self) -> tuple[tuple[str, str], ...]:
        """Give the names of the files but media, each with its digest."""
        names = (file.name for file in self.found.files if file.topic != "media")
        return tuple((name, self.digest[name]) for name in names)

    def _only(self, wanted: Callable[[FoundFile], bool]) -> Contents:
        files = tuple(file for file in self.found.files if wanted(file))
        return replace(self, found=Folder(files, ()))


def read_contents(folder: Path) -> Contents:
    """Find and read the files of a content folder."""
    found = look_into(folder)
    names = (file.name for file in found.files if file.topic != "media")
    return with_texts(folder, found, {name: read_bytes(folder / name) for name in names})


def with_texts(folder: Path, found: Folder, raw: Mapping[str, bytes | None]) -> Contents:
    """Give contents of which the bytes are known, whatever is on the disk."""
    return Contents(folder, found, raw, {name: _digest(known) for name, known in raw.items()})


def _digest(raw: bytes | None) -> str:
    return "" if raw is None else hashlib.sha256(raw).hexdigest()

"""What the director wrote into files of a binder: it is set aside when a new binder takes their place."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Iterator
from functools import partial
from pathlib import Path

from handbook.disk import read_bytes
from handbook.outputs.model import SiteFile
from handbook.publishing.contents import unchanged
from handbook.publishing.manifest import BINDER, read_marker
from handbook.publishing.refusal import NotPublishedError
from handbook.records import dataclass

_YOURS = ", yours"
_IS_YOURS = re.compile(rf"{_YOURS}( \d+)?(\.[^./]*)?$")
_MOST_BYTES = 500_000_000


@dataclass(frozen=True, slots=True)
class OwnFile:
    """A file of the director's: where it stands in the old binder, and how it is called in the new one."""

    before: str
    file: SiteFile

    @property
    def moved(self) -> bool:
        """Whether it is set aside now, and was not so before."""
        return self.before != self.file.path


def own_files(place: Path, new: Collection[SiteFile]) -> tuple[OwnFile, ...]:
    """Give what in the binder at `place` is no longer as it was written, unless the `new` one says the same.

    `winter/a.pdf` becomes `winter/a, yours.pdf`, and is kept under that name from then on, with
    all that is written into it. Raises NotPublishedError for what cannot be read.
    """
    digests = {file.path: file.digest for file in new}
    taken = {path.casefold() for path in digests}
    found = list[OwnFile]()
    for name, content in _changed(place):
        digest = hashlib.sha256(content).hexdigest()
        if digests.get(name) == digest:
            continue
        path = name if _IS_YOURS.search(name) and name not in digests else _free(name, taken)
        taken.add(path.casefold())
        found.append(OwnFile(name, SiteFile(path, digest, partial(_read, place / name))))
    return tuple(found)


def _changed(place: Path) -> Iterator[tuple[str, bytes]]:
    """Give what was set aside before, then what was changed since; what only looks so is left out."""
    listed, same = read_marker(place, BINDER) or {}, unchanged(place, BINDER)
    for name in sorted(listed, key=lambda one: not _IS_YOURS.search(one)):
        if name in same and not _IS_YOURS.search(name):
            continue
        if not (place / name).is_symlink() and (place / name).is_file():
            content, noted = _read(place / name), listed[name]
            if _IS_YOURS.search(name) or not noted or not _has(content, noted.digest):
                yield name, content


def _has(content: bytes, digest: str) -> bool:
    return hashlib.sha256(content).hexdigest() == digest


def _free(name: str, taken: Collection[str]) -> str:
    """Give a name for what is set aside: the first one that nothing has."""
    stem, dot, end = name.rpartition(".")
    if not dot or "/" in end:
        stem, dot, end = name, "", ""
    number, path = 1, f"{stem}{_YOURS}{dot}{end}"
    while path.casefold() in taken:
        number += 1
        path = f"{stem}{_YOURS} {number}{dot}{end}"
    return path


def _read(file: Path) -> bytes:
    content = read_bytes(file, _MOST_BYTES)
    if content is None or len(content) > _MOST_BYTES:
        raise NotPublishedError(
            f"{file} is not as the last binder left it, and cannot be read to be kept: move it away"
        )
    return content

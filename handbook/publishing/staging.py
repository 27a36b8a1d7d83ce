"""A whole new site, written beside the live one; of a file that did not change, only the name is new."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from handbook.disk import make_last, make_names_last, write_new
from handbook.outputs.model import SiteFile
from handbook.publishing.contents import folders_of, looks_like
from handbook.publishing.manifest import SITE, Marker, Written, write_marker
from handbook.publishing.refusal import NotPublishedError


def stage(
    files: Sequence[SiteFile],
    folder: Path,
    live: Path,
    kept: Mapping[str, Written],
    *,
    link: bool = True,
    marker: Marker = SITE,
) -> None:
    """Make `folder`, with all of `files` and the marker in it.

    `kept` are the files of the site `live` that look as its build left them. One of the
    same content is linked from there (a second name for the same bytes on the disk), unless
    `link` is off. It is written where the disk has no such links, and where the file has
    another name already: whoever changes that one in place must not change this one too.
    Either way its time of change stays.
    All is on the disk at the end, so that a power cut leaves no empty file.
    """
    os.mkdir(folder, marker.rights)  # noqa: PTH102 - patched in tests by this name
    write_marker(folder, {file.path: None for file in files}, marker)
    _make_folders(files, folder)
    written, fresh = {}, []
    for file in files:
        before = kept.get(file.path)
        same = before if before and before.digest == file.digest else None
        if same and link and _linked(f"{live}/{file.path}", f"{folder}/{file.path}", same):
            written[file.path] = same
        else:
            written[file.path] = _write(file, folder / file.path, same)
            fresh.append(folder / file.path)
    make_last(fresh, folder)
    write_marker(folder, written, marker)
    make_names_last(folder)
    for name, noted in written.items():
        if not looks_like(f"{folder}/{name}", noted):
            raise _changed(name)


def _make_folders(files: Sequence[SiteFile], root: Path) -> None:
    for name in sorted(folders_of(file.path for file in files)):
        os.mkdir(f"{root}/{name}")  # noqa: PTH102


def _linked(live: str, staged: str, noted: Written) -> bool:
    try:
        if os.lstat(live).st_nlink > 1:
            return False
        os.link(live, staged)
    except OSError:
        return False  # such a disk, or too many links: writing tells if it is worse
    if looks_like(staged, noted):
        return True
    os.unlink(staged)  # noqa: PTH108 - changed in this moment
    return False


def _write(file: SiteFile, place: Path, same: Written | None) -> Written:
    content = file.read()
    if hashlib.sha256(content).hexdigest() != file.digest:
        raise _changed(file.path)
    write_new(place, content)
    if same:
        with suppress(OSError):
            os.utime(place, ns=(same.changed, same.changed))
    found = place.lstat()
    if found.st_size != len(content):
        raise _changed(file.path)
    return Written(file.digest, found.st_size, found.st_mtime_ns)


def _changed(name: str) -> NotPublishedError:
    return NotPublishedError(f"{name} was changed while the site was made: build again")

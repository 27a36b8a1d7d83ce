"""The site that stands in a folder: which one it is, and what of it was changed since it was put there."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from functools import partial
from pathlib import Path

from handbook.disk import is_folder, read_bytes
from handbook.outputs.model import SiteFile
from handbook.publishing.contents import unchanged
from handbook.publishing.manifest import Written, read_marker
from handbook.publishing.verify_files import leads_outside
from handbook.records import dataclass

_MOST_BYTES = 4_000_000_000


@dataclass(frozen=True, slots=True)
class StandingSite:
    """A site in a folder.

    `digest` is that of the site as it was put there; `changed` names the files that are other
    ones now, or gone. `files` are those that are there, as they are; `untouched` are those of
    them that look as they were left.
    """

    folder: Path
    digest: str
    changed: tuple[str, ...]
    files: tuple[SiteFile, ...]
    untouched: Mapping[str, Written]


def site_digest(files: Iterable[tuple[str, str]]) -> str:
    """Give the digest of a site from the paths and digests of its files, in whatever order."""
    lines = sorted(f"{path}\t{digest}\n" for path, digest in files)
    return hashlib.sha256("".join(lines).encode()).hexdigest()


def standing_site(folder: Path) -> StandingSite | None:
    """Look at the site in a folder; None if no build put one there, or its marker is not as a build writes it.

    Only files whose size or time of change is not as it was left are read.
    """
    listed = read_marker(folder) if is_folder(folder) else None
    if listed is None or any(map(leads_outside, listed)):
        return None
    untouched, files, changed = unchanged(folder), list[SiteFile](), list[str]()
    for path, written in listed.items():
        digest = written.digest if path in untouched and written else _digest(folder / path)
        if digest is None or (written and digest != written.digest):
            changed.append(path)
        if digest is not None:
            files.append(SiteFile(path, digest, partial(_read, folder / path)))
    actual = {file.path: file.digest for file in files}
    put = {
        path: written.digest if written else actual.get(path, "")
        for path, written in listed.items()
    }
    return StandingSite(
        folder, site_digest(put.items()), tuple(sorted(changed)), tuple(files), untouched
    )


def _digest(file: Path) -> str | None:
    content = read_bytes(file, _MOST_BYTES)
    return None if content is None else hashlib.sha256(content).hexdigest()


def _read(file: Path) -> bytes:
    content = read_bytes(file, _MOST_BYTES)
    if content is None:
        raise FileNotFoundError(2, "No such file", str(file))
    return content

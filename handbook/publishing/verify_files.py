"""Whether a finished site holds only what may be published."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import PurePosixPath

from handbook.outputs.model import SiteFile

PUBLISHED_SUFFIXES = frozenset(
    {
        *(".html", ".css", ".js", ".json", ".webmanifest", ".xml", ".txt", ".ics"),
        *(".svg", ".png", ".jpg", ".jpeg", ".webp", ".ico", ".woff2"),
        *(".mp3", ".ogg", ".m4a", ".wav", ".pdf"),
    }
)
"""Kinds of file a site may hold; whatever else turns up stops the build."""

_EMPTY = hashlib.sha256(b"").hexdigest()


def file_findings(files: Sequence[SiteFile]) -> tuple[str, ...]:
    """Name the files that are empty or of a kind we do not publish, in order.

    Raises ValueError if two things would stand at one address, or one leads outside
    the site: a fault of ours.
    """
    names = [file.path for file in files]
    twice = sorted(name for name, count in Counter(names).items() if count > 1)
    outside = sorted(filter(leads_outside, names))
    if twice or outside:
        raise ValueError(f"addresses given twice: {twice}; outside the site: {outside}")
    return tuple(finding for file in sorted(files, key=_by_path) for finding in _findings(file))


def _by_path(file: SiteFile) -> str:
    return file.path


def _findings(file: SiteFile) -> Iterator[str]:
    if PurePosixPath(file.path).suffix.lower() not in PUBLISHED_SUFFIXES:
        yield f"{file.path} is of a kind that is not published"
    if not file.path.isprintable():
        yield f"{file.path!r} has a sign in its name that cannot be printed"
    if file.digest == _EMPTY:
        yield f"{file.path} is empty"


def leads_outside(name: str) -> bool:
    """Whether a path is not one inside a site."""
    return name.startswith("/") or "\\" in name or ".." in name.split("/") or "//" in name

"""Noticing that somebody saved a file."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from threading import Event

LOOK_EVERY = 0.1  # seconds
_SETTLE = 0.05  # seconds in which nothing may change, so that a half-saved file is not read
_MOST_SETTLES = 40  # a folder that never comes to rest is read as it is

Fingerprint = frozenset[tuple[str, int, int, int]]


def fingerprint(folder: Path) -> Fingerprint:
    """Give each file's name, its times of change in nanoseconds, and size, but of hidden ones.

    The second time is the system's own, which no program can set back.
    """
    return frozenset(_entries(folder))


def changes(folder: Path, stop: Event, since: Fingerprint) -> Iterator[Fingerprint]:
    """Give the folder's fingerprint each time it has changed and settled, until `stop` is set."""
    known = since
    while not stop.wait(LOOK_EVERY):
        now = fingerprint(folder)
        if now == known:
            continue
        known = _settled(folder, stop, now)
        yield known


def _settled(folder: Path, stop: Event, now: Fingerprint) -> Fingerprint:
    for _ in range(_MOST_SETTLES):
        before = now
        if stop.wait(_SETTLE) or (now := fingerprint(folder)) == before:
            break
    return now


def _entries(folder: Path) -> Iterator[tuple[str, int, int, int]]:
    for place, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in names:
            if name.startswith("."):
                continue
            path = os.path.join(place, name)  # noqa: PTH118 - thousands of files, several times a second
            try:
                known = os.stat(path)  # noqa: PTH116
            except OSError:  # an editor's passing file
                continue
            yield path, known.st_mtime_ns, known.st_ctime_ns, known.st_size

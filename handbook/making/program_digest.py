"""Which program makes the site: its own files, what it is built on, the time zones it reads."""

from __future__ import annotations

import os
import sys
import zoneinfo
from collections.abc import Iterator
from pathlib import Path

from handbook.resources import templates_folder
from handbook.store import key_of

_PACKAGE = Path(__file__).resolve().parents[1]
_ZONE_LISTS = ("tzdata.zi", "+VERSION", "version")


def program_digest() -> str:
    """Give a digest that changes when the program does.

    Its own files, messages and templates count by size and time of change, installed packages by
    version, time zones by the time of change of their lists.
    """
    return key_of(
        sys.version,
        *_files(_PACKAGE, ".py"),
        *_files(_PACKAGE, ".po"),
        *_files(templates_folder(), ""),
        *sorted(_packages()),
        *_zones(),
    )


def _files(folder: Path, ending: str) -> Iterator[tuple[str, int, int]]:
    waiting = [str(folder)]
    while waiting:
        with os.scandir(waiting.pop()) as entries:
            for entry in sorted(entries, key=lambda one: one.name):
                if entry.name == "__pycache__":
                    continue
                if entry.is_dir():
                    waiting.append(entry.path)
                elif entry.name.endswith(ending):
                    found = entry.stat()
                    yield entry.path, found.st_size, found.st_mtime_ns


def _packages() -> Iterator[str]:
    """Name what is installed, with versions, as the folders of its records are called."""
    for folder in sys.path:
        try:
            yield from (name for name in os.listdir(folder or ".") if name.endswith(".dist-info"))  # noqa: PTH208
        except OSError:
            continue


def _zones() -> Iterator[tuple[str, int]]:
    for folder in zoneinfo.TZPATH:
        for name in ("", *_ZONE_LISTS):
            try:
                yield f"{folder}/{name}", os.stat(f"{folder}/{name}").st_mtime_ns  # noqa: PTH116
            except OSError:
                continue

"""Results kept between builds, each under the digest of all that it was made from.

A store can be thrown away at any time: whatever is missing, damaged or cannot be read is
made anew. It lies in the user's own cache folder, never beside the site, since problems
quote content that is not published.
"""

from __future__ import annotations

import hashlib
import os
import pickle
import re
import stat
import sys
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any, TypeVar

KeptT = TypeVar("KeptT")

_SUM = hashlib.sha256().digest_size
_OWN_ONLY = 0o077  # rights of others, of which a store has none
_USED, _CONTENT = "used", "content"
_STORE = re.compile("[0-9a-f]{32}")
_FILE = re.compile(rf"[0-9a-f]{{64}}(\.[a-z]+)?(\.\d+\.part)?|{_USED}|{_CONTENT}")
_LONGEST_UNUSED = 180 * 24 * 60 * 60  # s: over a summer, and the winter after it


class Store:
    """Values by key, in memory and, if there is a `folder`, on the disk.

    What is kept on the disk is read by unpickling, so a folder that others can write to is
    not used; see `user_store`.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = folder
        self._values: dict[str, Any] = {}
        self._used: set[str] = set()

    def get(self, key: str) -> Any | None:
        """Give what is kept, or None."""
        self._used.add(key)
        if key not in self._values and self._folder is not None:
            with suppress(Exception):  # whatever is wrong with it: it is made anew
                self._values[key] = _read(self._folder / key)
        return self._values.get(key)

    def kept(self, key: str, kind: type[KeptT], make: Callable[[], KeptT]) -> KeptT:
        """Give the value of a kind that is kept under a key; else make and keep it."""
        value = self.get(key)
        if not isinstance(value, kind):
            value = make()
            self.put(key, value)
        return value

    def using(self, *keys: str) -> None:
        """Say that values are still of use, though nobody has asked for them."""
        self._used.update(keys)

    def put(self, key: str, value: Any, *, on_disk: bool = True) -> None:
        """Keep a value; on the disk too, if that can be and is wanted."""
        self._used.add(key)
        self._values[key] = value
        if on_disk and self._folder is not None:
            with suppress(OSError):
                _write(self._folder / key, value)

    def tidy(self) -> None:
        """Drop what neither this build nor the one before it used."""
        self._values = {key: value for key, value in self._values.items() if key in self._used}
        if self._folder is not None:
            with suppress(OSError):
                _tidy(self._folder, self._used)
        self._used = set()


def user_store(content: Path, of: str = "") -> Store:
    """Give the store for a content folder, on the disk if the user has a safe place there.

    What is made beside a site has a store `of` its own, since each drops what it does not use.
    Whenever one is begun, those are cleared away whose content folder is gone or that were
    not used for half a year.
    """
    place = os.fsencode(content.resolve())
    named = f"\0{of}".encode() if of else b""
    folder = own_folder(hashlib.sha256(place + named).hexdigest()[:32])
    if folder is not None and not (folder / _CONTENT).exists():
        with suppress(OSError):
            (folder / _CONTENT).write_bytes(place)
            for store in {*folder.parent.iterdir()} - {folder}:
                if _STORE.fullmatch(store.name) and _is_own(store) and _is_left(store):
                    _clear_away(store)
    return Store(folder)


def own_folder(name: str) -> Path | None:
    """Make a folder of the handbook's in the user's cache that nobody else may look into.

    None if there is no such place.
    """
    try:
        folder = _cache_folder() / "cycle-handbook" / name
        for place in (folder.parent, folder):
            place.mkdir(mode=0o700, parents=True, exist_ok=True)
            if not _is_own(place):
                return None
    except (OSError, RuntimeError):
        return None
    return folder


def key_of(*parts: object) -> str:
    """Give the key of values that are written alike only if they are the same."""
    return hashlib.sha256(repr(parts).encode()).hexdigest()


def _cache_folder() -> Path:
    named = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or ""
    if Path(named).is_absolute():
        return Path(named)
    return Path.home() / ("Library/Caches" if sys.platform == "darwin" else ".cache")


def _is_own(folder: Path) -> bool:
    """Whether a folder is the user's and nobody else may look into it."""
    found = folder.lstat()
    if sys.platform == "win32":
        return stat.S_ISDIR(found.st_mode)
    own = found.st_uid == os.getuid() and not found.st_mode & _OWN_ONLY
    return stat.S_ISDIR(found.st_mode) and own


def _read(file: Path) -> Any:
    raw = file.read_bytes()
    if _sum(file.name, memoryview(raw)[_SUM:]) != raw[:_SUM]:
        raise ValueError("damaged")
    return pickle.loads(memoryview(raw)[_SUM:])  # noqa: S301 - the user's own, and its sum is right


def _write(file: Path, value: Any) -> None:
    """Write a file whole or not at all; with two at work on it, either's is the same."""
    raw = pickle.dumps(value, pickle.HIGHEST_PROTOCOL)
    part = file.with_name(f"{file.name}.{os.getpid()}.part")
    part.write_bytes(_sum(file.name, raw) + raw)
    os.replace(part, file)  # noqa: PTH105 - one call, hundreds of times


def _sum(name: str, raw: bytes | memoryview) -> bytes:
    """Sum up a file with its name, so that none is read in another's place."""
    return hashlib.sha256(b"".join((name.encode(), b"\0", raw))).digest()


def _is_left(store: Path) -> bool:
    """Whether a store is of no more use to anybody."""
    note, used = store / _CONTENT, store / _USED
    last = (used if used.exists() else store).stat().st_mtime
    gone = note.exists() and not Path(os.fsdecode(note.read_bytes())).is_dir()
    return gone or time.time() - last > _LONGEST_UNUSED


def _clear_away(store: Path) -> None:
    """Delete the files of a store, and its folder if nothing else is in it."""
    for file in store.iterdir():
        if _FILE.fullmatch(file.name) and file.is_file() and not file.is_symlink():
            file.unlink()
    with suppress(OSError):
        store.rmdir()


def _tidy(folder: Path, used: Iterable[str]) -> None:
    note = folder / _USED
    try:
        before = note.read_text().split()
    except (OSError, ValueError):
        before = []
    keep = {*used, *before, _USED, _CONTENT}
    for entry in os.scandir(folder):
        if entry.name not in keep:
            os.unlink(entry.path)  # noqa: PTH108
    note.write_text("\n".join(sorted(used)))

"""The few steps on the disk that must not follow a link, lose a file, or leave half of one."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

_MANY = 16
_JUNCTION = 0xA0000003  # IO_REPARSE_TAG_MOUNT_POINT: how Windows links a folder
_EXCHANGE = 2  # RENAME_EXCHANGE of Linux and RENAME_SWAP of macOS alike
_HERE = -100  # AT_FDCWD: paths count from the current folder
_NOT_THROUGH_LINKS = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_CLOEXEC", 0)
_OPEN = (
    os.O_RDONLY
    | _NOT_THROUGH_LINKS
    | getattr(os, "O_NONBLOCK", 0)  # opening a pipe would wait for a writer
    | getattr(os, "O_BINARY", 0)
)
_NEW_FILE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NOT_THROUGH_LINKS | getattr(os, "O_BINARY", 0)


def is_there(path: Path) -> bool:
    """Whether anything has this name, be it a link to nowhere."""
    return os.path.lexists(path)


def is_folder(path: Path) -> bool:
    """Whether a folder itself has this name, not a link to one."""
    try:
        found = path.lstat()
    except OSError:
        return False
    return is_own_folder(found)


def is_own_folder(found: os.stat_result) -> bool:
    """Whether what lstat found is a folder itself."""
    return stat.S_ISDIR(found.st_mode) and getattr(found, "st_reparse_tag", 0) != _JUNCTION


def read_bytes(path: Path, most: int) -> bytes | None:
    """Read an ordinary file, but never much more than `most` bytes; None if it is none or is closed to us.

    No link is followed.
    """
    try:
        with os.fdopen(os.open(path, _OPEN), "rb") as opened:
            found = os.fstat(opened.fileno())
            if not stat.S_ISREG(found.st_mode):
                return None
            return opened.read(min(found.st_size, most) + 1)
    except OSError:
        return None


def write_new(path: Path, content: bytes, *, lasting: bool = False) -> None:
    """Write a file that must not be there yet; `lasting` waits until it is on the disk."""
    descriptor = os.open(path, _NEW_FILE, 0o666)
    try:
        rest = memoryview(content)
        while rest:
            rest = rest[os.write(descriptor, rest) :]
        if lasting:
            os.fsync(descriptor)
    finally:
        os.close(descriptor)


def write_over(path: Path, content: bytes) -> None:
    """Put a file in place of the one there, or where there is none: whole or not at all, on the disk at the end.

    Beside it `.part` at its name is ours: what an earlier writing left there is replaced.
    """
    part = path.with_name(f"{path.name}.part")
    with suppress(FileNotFoundError):
        os.unlink(part)  # noqa: PTH108 - patched in tests by this name
    try:
        write_new(part, content, lasting=True)
        os.replace(part, path)  # noqa: PTH105
    except OSError:
        with suppress(OSError):
            os.unlink(part)  # noqa: PTH108
        raise
    make_names_last(path.parent)


def make_last(files: Sequence[Path], folder: Path) -> None:
    """Wait until new `files` in `folder` are on the disk: a power cut must not leave them empty.

    Of many, the disk is asked once, where the system can: one by one takes seconds.
    """
    if len(files) > _MANY and _sync_disk_of(folder):
        return
    for file in files:
        _sync(file)


def make_names_last(folder: Path) -> None:
    """Wait until the names in a folder are on the disk, where the system can (Windows cannot)."""
    with suppress(OSError):
        _sync(folder)


def _sync(path: Path) -> None:
    descriptor = os.open(path, os.O_RDWR if os.name == "nt" else os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _sync_disk_of(folder: Path) -> bool:
    if sys.platform != "linux":
        return False
    import ctypes  # noqa: PLC0415

    descriptor = os.open(folder, os.O_RDONLY)
    try:
        return bool(ctypes.CDLL(None).syncfs(descriptor) == 0)
    except AttributeError:  # an old system library
        return False
    finally:
        os.close(descriptor)


def exchange(one: Path, other: Path) -> bool:
    """Let two folders take each other's name in one step; False where that cannot be done."""
    if sys.platform == "win32":
        return False
    import ctypes  # noqa: PLC0415 - to check needs no system library

    library = ctypes.CDLL(None)
    names = os.fsencode(one), os.fsencode(other)
    try:
        if sys.platform == "darwin":
            return bool(library.renamex_np(*names, _EXCHANGE) == 0)
        return bool(library.renameat2(_HERE, names[0], _HERE, names[1], _EXCHANGE) == 0)
    except AttributeError:  # an old system library
        return False

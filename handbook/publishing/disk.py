"""The few steps on the disk of which a publication is made; none of them follows a link."""

from __future__ import annotations

import ctypes
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
    library = ctypes.CDLL(None)
    names = os.fsencode(one), os.fsencode(other)
    try:
        if sys.platform == "darwin":
            return bool(library.renamex_np(*names, _EXCHANGE) == 0)
        return bool(library.renameat2(_HERE, names[0], _HERE, names[1], _EXCHANGE) == 0)
    except AttributeError:  # an old system library
        return False

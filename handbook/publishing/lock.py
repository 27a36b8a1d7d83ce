"""One build at a time: a lock that the system gives up when its process ends, however it ends.

Some shares have no locks. There a file stands in, which tells who holds it, so that one
left by a build that was cut off is told from one in use.
"""

from __future__ import annotations

import errno
import os
import platform
import re
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext, suppress
from pathlib import Path

from handbook.disk import is_there, write_new
from handbook.publishing.refusal import NotPublishedError

LOCK, HOLDER = "lock", "holder"
_NO_LOCKS = frozenset({errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EINVAL})
_LONGEST_BUILD = 3600  # seconds; a build takes seconds, and minutes on a slow share
_LONGEST_WRITE = 10  # seconds in which the one line of a holder's file is written
_HOLDS = "handbook build on "
_LINE = re.compile(rf"{_HOLDS}(.+), process (\d+), at (\d+)\n")


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold the lock of the work folder `folder`.

    Raises NotPublishedError if another build has it, or somebody's file is in its place.
    """
    path = folder / LOCK
    descriptor = _opened(path)
    try:
        system_locks = _system_locks(descriptor, path)
        try:
            with nullcontext() if system_locks else _holding(folder / HOLDER):
                yield
        finally:
            _delete(path)
    finally:
        os.close(descriptor)
        if os.name == "nt":  # which deletes no open file
            _delete(path)


def _opened(path: Path) -> int:
    """Open the empty file that is locked; whatever else has its name is somebody's."""
    with suppress(FileNotFoundError):
        found = path.lstat()
        if found.st_size or not stat.S_ISREG(found.st_mode):
            raise _somebodys(path)
    no_link = getattr(os, "O_NOFOLLOW", 0)
    return os.open(path, os.O_RDWR | os.O_CREAT | no_link, 0o666)


def _system_locks(descriptor: int, path: Path) -> bool:
    """Take the system's lock; False where the disk has none."""
    try:
        _lock(descriptor)
        if os.path.samestat(os.fstat(descriptor), path.lstat()):
            return True
    except FileNotFoundError:
        pass  # the build that held it has just deleted the file that we opened
    except OSError as error:
        if error.errno in _NO_LOCKS:
            return False
        if error.errno not in {errno.EACCES, errno.EAGAIN, errno.EDEADLK}:
            _delete(path)
            raise
    raise NotPublishedError("another build of this site is at work: wait for it, then build again")


@contextmanager
def _holding(path: Path) -> Iterator[None]:
    """Hold a file in place of a lock."""
    if is_there(path):
        _judge(path)
        _delete(path)
    host, process = platform.node(), os.getpid()
    write_new(path, f"{_HOLDS}{host}, process {process}, at {time.time():.0f}\n".encode())
    try:
        yield
    finally:
        _delete(path)


def _judge(path: Path) -> None:
    """Raise NotPublishedError unless the build that made the file `path` is surely over."""
    found = path.lstat()
    text = path.read_bytes()[:1000].decode(errors="replace") if stat.S_ISREG(found.st_mode) else "?"
    whole = _LINE.fullmatch(text)
    if not whole and not (text.startswith(_HOLDS) or _HOLDS.startswith(text)):
        raise _somebodys(path)
    begun = int(whole[3]) if whole else found.st_mtime
    longest = _LONGEST_BUILD if whole else _LONGEST_WRITE
    over = whole and whole[1] == platform.node() and not _is_at_work(int(whole[2]))
    if not over and abs(time.time() - begun) <= longest:
        who = f" on {whole[1]}" if whole else ""
        raise NotPublishedError(
            f"another build of this site seems to be at work{who}: wait for it, or, if there is"
            f" none, delete {path} and build again (this disk cannot lock files, so handbook"
            " goes by that file)"
        )


def _somebodys(path: Path) -> NotPublishedError:
    return NotPublishedError(
        f"{path} was not made by handbook, which needs its place while it builds: move it away,"
        " then build again"
    )


def _delete(path: Path) -> None:
    with suppress(OSError):
        os.unlink(path)  # noqa: PTH108 - patched in tests by this name


if sys.platform == "win32":  # pragma: no cover - by the system at hand
    import msvcrt

    def _lock(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

    def _is_at_work(process: int) -> bool:
        return process != os.getpid()  # Windows ends a process that is asked whether it is there

else:
    import fcntl

    def _lock(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)

    def _is_at_work(process: int) -> bool:
        if process == os.getpid():  # a number given anew: this process makes no second build
            return False
        try:
            os.kill(process, 0)
        except ProcessLookupError:
            return False
        except OSError:
            return True
        return True

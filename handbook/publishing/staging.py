"""The work folder beside the site: where a new site is staged and the old one waits.

It is hidden, holds nothing of the director's, and is on the same disk as the site, so
that both can be renamed in one step. Whoever holds its lock is the only one at work.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from handbook.publishing.refusal import NotPublishedError

WORK_FOLDER = ".handbook"


@dataclass(frozen=True, slots=True)
class Workplace:
    """The three places of a swap: the site, the staged new one, the old one put aside."""

    target: Path
    staged: Path
    aside: Path

    def swap(self) -> None:
        """Put the staged site in place of the old one; if that fails, the old one is back."""
        try:
            if self.target.exists():
                os.replace(self.target, self.aside)  # noqa: PTH105 - patched in tests by this name
            os.replace(self.staged, self.target)  # noqa: PTH105
        except BaseException:
            self.recover()
            raise

    def recover(self) -> None:
        """Undo a swap that was cut off half-way: an old site put aside goes back to its place."""
        if self.aside.exists() and not self.target.exists():
            os.replace(self.aside, self.target)  # noqa: PTH105

    def clear(self) -> None:
        """Delete what is left over; an old site only once another stands in its place."""
        shutil.rmtree(self.staged, ignore_errors=True)
        if self.target.exists():
            shutil.rmtree(self.aside, ignore_errors=True)


@contextmanager
def workplace(target: Path) -> Iterator[Workplace]:
    """Hold the work folder of `target` for one build; mend what an earlier one left.

    Raises NotPublishedError if another build is at work on the same site.
    """
    folder = target.parent / WORK_FOLDER / target.name
    folder.mkdir(parents=True, exist_ok=True)
    place = Workplace(target, folder / "new", folder / "old")
    try:
        with _locked(folder / "lock"):
            place.recover()
            place.clear()
            try:
                yield place
            finally:
                place.clear()
    finally:
        for empty in (folder, folder.parent):
            with suppress(OSError):  # another build is at work, or an old site waits there
                empty.rmdir()


@contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Hold a lock that the system itself gives up when the process ends, however it ends."""
    with path.open("w") as file:
        try:
            _lock(file)
            if not os.path.samestat(os.fstat(file.fileno()), path.stat()):
                raise BlockingIOError  # the holder has just deleted the file that we opened
        except OSError:
            raise NotPublishedError(
                "another build of this site is at work: wait for it, then build again"
            ) from None
        try:
            yield
        finally:
            with suppress(OSError):  # Windows deletes no open file: the empty lock stays
                path.unlink()


if sys.platform == "win32":  # pragma: no cover - by the system at hand
    import msvcrt

    def _lock(file: IO[str]) -> None:
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _lock(file: IO[str]) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)

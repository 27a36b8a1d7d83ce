"""What is shown now, which version of it that is, and waiting for a newer one."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable, Mapping
from dataclasses import field
from pathlib import Path
from threading import Condition

from handbook.records import dataclass

MOST_WAITING = 32  # readers, each of whom holds a thread and a connection
_WAIT = 20.0  # seconds that a question for news is held before it is answered with no
_LOOK_AFTER_READERS = 1.0  # seconds


@dataclass(frozen=True, slots=True)
class OnDisk:
    """A media file that is read when it is asked for; one outside `folder` is not there."""

    path: Path
    folder: Path


@dataclass(frozen=True, slots=True)
class Shown:
    """The files of a site by path, or one `page` instead of all of them.

    `base` is the path at which the site will stand, `/` or `/bands/`: the page for lost
    readers leads there.
    """

    files: Mapping[str, bytes | OnDisk] = field(default_factory=dict)
    base: str = "/"
    page: bytes = b""


class Preview:
    """What is shown now; safe to use from several threads."""

    def __init__(self, shown: Shown) -> None:
        self._news = Condition()
        self._shown, self._number = shown, 0
        # A page that stayed open from an earlier run is to notice that this is another.
        self._run = secrets.token_hex(4)
        self._waiting, self._ended = 0, False

    @property
    def current(self) -> tuple[str, Shown]:
        """The version and what is shown."""
        with self._news:
            return self._version, self._shown

    @property
    def _version(self) -> str:
        return f"{self._run}-{self._number}"

    @property
    def waiting(self) -> int:
        """How many wait for news."""
        return self._waiting

    def show(self, shown: Shown) -> None:
        """Show something newer from now on."""
        with self._news:
            self._shown, self._number = shown, self._number + 1
            self._news.notify_all()

    def end(self) -> None:
        """Let nobody wait any more."""
        with self._news:
            self._ended = True
            self._news.notify_all()

    def wait_for_news(self, mine: str, gone: Callable[[], bool]) -> str | None:
        """Give the version as soon as it is another than `mine`, at the latest after 20 seconds.

        Ends early for a reader who is `gone`, which is asked every second. None, at once,
        if too many wait already.
        """
        until = time.monotonic() + _WAIT
        with self._news:
            if mine == self._version and self._waiting >= MOST_WAITING:
                return None
            self._waiting += 1
            while mine == self._version and not self._ended and not gone():
                if time.monotonic() >= until:
                    break
                self._news.wait(_LOOK_AFTER_READERS)
            self._waiting -= 1
            return self._version

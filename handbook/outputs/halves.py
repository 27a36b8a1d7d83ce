"""Work on many things in two processes at once, where the machine can and it is worth it."""

from __future__ import annotations

import multiprocessing
import os
import sys
import threading
from collections.abc import Callable, Sequence
from multiprocessing.connection import Connection
from typing import TypeVar

ThingT = TypeVar("ThingT")
Work = Callable[[Sequence[ThingT]], list[str]]

_WORTH_IT = 60  # things; for fewer, a second process costs more than it saves


def in_halves(work: Work[ThingT], things: Sequence[ThingT]) -> list[str]:
    """Give what `work` makes of all things, in order; it must depend on nothing else.

    The second half is done by a copy of this process. Without a second core, with other
    threads under way (a copy would not have them), or if the copy fails, all is done here,
    so that the answer and any fault are the same.
    """
    if len(things) < _WORTH_IT or not _can_copy():
        return work(things)
    half = len(things) // 2
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe(duplex=False)
    copy = context.Process(target=_send, args=(theirs, work, things[half:]), daemon=True)
    copy.start()
    theirs.close()
    first = work(things[:half])
    try:
        second: list[str] = ours.recv()
    except EOFError:
        second = work(things[half:])
    copy.join()
    return [*first, *second]


def _send(theirs: Connection, work: Work[ThingT], things: Sequence[ThingT]) -> None:
    """Do the work and send it; say nothing of a fault, which the first process will meet too."""
    try:
        theirs.send(work(things))
    except BaseException:  # noqa: BLE001 - an interrupt too: one process tells of it, not two
        os._exit(1)


def _can_copy() -> bool:
    return sys.platform == "linux" and (os.cpu_count() or 1) > 1 and threading.active_count() == 1

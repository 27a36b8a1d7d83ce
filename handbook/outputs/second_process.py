"""A part of some work in a second process, where the machine can and it is worth it."""

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

_WORTH_IT = 30  # things; for fewer, a second process costs more than it saves


def begun_elsewhere(work: Work[ThingT], things: Sequence[ThingT]) -> Callable[[], list[str]]:
    """Begin work in a copy of this process; the function given back waits for the answer.

    `work` must depend on nothing that happens here meanwhile. Without a second core, with
    other threads under way (a copy would not have them), for few things, or if the copy
    fails, the work is done here when the answer is asked for, so that the answer and any
    fault are the same.
    """
    if len(things) < _WORTH_IT or not _can_copy():
        return lambda: work(things)
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe(duplex=False)
    copy = context.Process(target=_send, args=(theirs, work, things), daemon=True)
    copy.start()
    theirs.close()

    def answer() -> list[str]:
        try:
            made: list[str] = ours.recv()
        except EOFError:
            made = work(things)
        copy.join()
        return made

    return answer


def _send(theirs: Connection, work: Work[ThingT], things: Sequence[ThingT]) -> None:
    """Do the work and send it; say nothing of a fault, which the first process will meet too."""
    try:
        theirs.send(work(things))
    except BaseException:  # noqa: BLE001 - an interrupt too: one process tells of it, not two
        os._exit(1)


def _can_copy() -> bool:
    return sys.platform == "linux" and (os.cpu_count() or 1) > 1 and threading.active_count() == 1

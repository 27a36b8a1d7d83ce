"""A part of some work in a second process, where the machine can and it is worth it."""

from __future__ import annotations

import multiprocessing
import os
import sys
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from typing import TypeVar

MadeT = TypeVar("MadeT")


def begun_elsewhere(work: Callable[[], MadeT], *, worth_it: bool = True) -> Callable[[], MadeT]:
    """Begin work in a copy of this process; the function given back waits for the answer.

    `work` must depend on nothing that happens here meanwhile, and what it makes is sent
    as bytes. Without a second core, with other threads under way (a copy would not have
    them), if the copy fails, or if it is not `worth_it`, the work is done here when the
    answer is asked for, so that the answer and any fault are the same.
    """
    if not worth_it or not _can_copy():
        return work
    context = multiprocessing.get_context("fork")
    ours, theirs = context.Pipe(duplex=False)
    copy = context.Process(target=_send, args=(theirs, work), daemon=True)
    copy.start()
    theirs.close()

    def answer() -> MadeT:
        try:
            made: MadeT = ours.recv()
        except EOFError:
            made = work()
        copy.join()
        return made

    return answer


def _send(theirs: Connection, work: Callable[[], object]) -> None:
    """Do the work and send it; say nothing of a fault, which the first process will meet too."""
    try:
        theirs.send(work())
    except BaseException:  # noqa: BLE001 - an interrupt too: one process tells of it, not two
        os._exit(1)


def _can_copy() -> bool:
    return sys.platform == "linux" and (os.cpu_count() or 1) > 1 and threading.active_count() == 1

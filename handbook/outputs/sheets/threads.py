"""Work that lets other threads run, as the typesetter does, on all processors at once."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

GivenT = TypeVar("GivenT")
MadeT = TypeVar("MadeT")

_MOST = 4


def side_by_side(work: Callable[[GivenT], MadeT], given: Sequence[GivenT]) -> list[MadeT]:
    """Do the same work on each of several things; give what was made in their order.

    Raises what the work raises, of the first thing that it fails with.
    """
    threads = min(_processors(), _MOST, len(given))
    if threads <= 1:
        return [*map(work, given)]
    with ThreadPoolExecutor(threads, "sheets") as pool:
        return [*pool.map(work, given)]


def _processors() -> int:
    """Count the processors that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1

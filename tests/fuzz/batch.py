"""A number of trials in one process, whose memory counts too."""

from __future__ import annotations

from collections.abc import Iterable

from tests.fuzz.seeds import folder_of
from tests.fuzz.trial import MOST_BYTES, Verdict, memory, trial


def tried_batch(seeds: Iterable[int]) -> list[tuple[int, Verdict]]:
    """Try some inputs in this process, whose memory counts for the last of them."""
    tried = [(seed, trial(folder_of(seed))) for seed in seeds]
    if tried and memory() > MOST_BYTES:
        tried.append((tried[-1][0], Verdict(fault=f"the process held {memory()} bytes")))
    return tried

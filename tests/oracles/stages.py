"""Which stage a rehearsal falls into, counted one by one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, repeat


def stage_of(counts: Sequence[int]) -> tuple[int, ...]:
    """Give the stage index of each rehearsal in turn."""
    return tuple(chain.from_iterable(repeat(stage, count) for stage, count in enumerate(counts)))

"""Splitting a cycle's rehearsals over its stages."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from datetime import date
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from handbook.domain.apportion import at_least_one
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class StageShare:
    """A stage's weight in sharing out rehearsals; `starts` pins the day it may begin on.

    Raises ValueError for a weight that is not above zero.
    """

    weight: Fraction
    starts: date | None = None

    def __post_init__(self) -> None:
        if self.weight <= 0:
            raise ValueError(f"a stage's weight must be above zero, not {self.weight}")


class StageSplitFault(StrEnum):
    """Why rehearsals cannot be split as asked."""

    TOO_FEW_REHEARSALS = "too_few_rehearsals"  # fewer than stages
    PIN_OUT_OF_ORDER = "pin_out_of_order"  # starts no later than an earlier stage
    PIN_LEAVES_STAGE_EMPTY = "pin_leaves_stage_empty"  # too few rehearsals between two pins
    PIN_OUTSIDE = "pin_outside"  # no rehearsal lies on that side of the pin


class StageSplitError(ValueError):
    """Rehearsals cannot be split over the stages.

    `stage` is the index of the pinned stage at fault; for the two faults that leave
    stages empty it is the first stage that would have no rehearsal.
    """

    def __init__(self, kind: StageSplitFault, stage: int) -> None:
        super().__init__(f"{kind.value} at stage {stage}")
        self.kind = kind
        self.stage = stage


def split_stages(days: Sequence[date], shares: Sequence[StageShare]) -> tuple[int, ...]:
    """Count the rehearsals of each stage: by largest remainder over the weights, at least one each.

    `days` are the rehearsals' dates in order (a date may come twice). A stage that
    `starts` on a date begins with the first rehearsal on or after it; the stages between
    two such pins share the rehearsals between them. Raises StageSplitError, and
    ValueError for dates out of order or no stages.
    """
    if not shares or any(later < earlier for earlier, later in pairwise(days)):
        raise ValueError("stages need at least one share, and rehearsals in order of date")
    if len(days) < len(shares):
        raise StageSplitError(StageSplitFault.TOO_FEW_REHEARSALS, len(days))
    pins = _pins(days, shares)
    counts: list[int] = []
    for (stage, first), (next_stage, end) in pairwise([*pins, (len(shares), len(days))]):
        if end - first < next_stage - stage:
            raise StageSplitError(StageSplitFault.PIN_LEAVES_STAGE_EMPTY, stage + end - first)
        counts += at_least_one(end - first, [share.weight for share in shares[stage:next_stage]])
    return tuple(counts)


def _pins(days: Sequence[date], shares: Sequence[StageShare]) -> list[tuple[int, int]]:
    """Pair each pinned stage with its first rehearsal; the first stage is always pinned to the first."""
    pins = [(0, 0)]
    latest: date | None = None
    for stage, share in enumerate(shares):
        if share.starts is None:
            continue
        if latest is not None and share.starts <= latest:
            raise StageSplitError(StageSplitFault.PIN_OUT_OF_ORDER, stage)
        latest = share.starts
        before_all = share.starts < days[0]
        if share.starts > days[-1] or (before_all if stage else share.starts > days[0]):
            raise StageSplitError(StageSplitFault.PIN_OUTSIDE, stage)
        if stage:
            pins.append((stage, bisect_left(days, share.starts)))
    return pins

"""Several lifts together: the composite index of NIOSH Publication No. 94-110, for its worked examples."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from handbook.domain.lifting import (
    _ONE,
    _ZERO,
    Lift,
    OutsideMethod,
    evaluate,
    frequency_multiplier,
)
from handbook.domain.tables.lift_limits import Duration, Outside


@dataclass(frozen=True, slots=True)
class SingleTask:
    """One task of several: its load, and its limit before frequency is counted (FIRWL, p. 26)."""

    load: Fraction
    firwl: Fraction
    per_minute: Fraction
    starts_low: bool

    def __post_init__(self) -> None:
        if self.firwl <= 0:
            raise ValueError("a task outside the method cannot be part of a composite")


@dataclass(frozen=True, slots=True)
class CompositeStep:
    """One task in the order of the composite; `place` is its place in the list given.

    `strwl` and `stli` are its own limit and index, `fili` the index before frequency,
    `adds` what it brings to the composite index.
    """

    place: int
    strwl: Fraction
    fili: Fraction
    stli: Fraction
    adds: Fraction


@dataclass(frozen=True, slots=True)
class Composite:
    """The composite lifting index and the steps that sum to it."""

    index: Fraction
    steps: tuple[CompositeStep, ...]


def _added(
    task: SingleTask, duration: Duration, before: Fraction, fili: Fraction
) -> Fraction | None:
    with_it = frequency_multiplier(before + task.per_minute, duration, low=task.starts_low)
    without = frequency_multiplier(before, duration, low=task.starts_low)
    return fili * (_ONE / with_it - _ONE / without) if with_it else None


def single_task(lift: Lift) -> SingleTask | OutsideMethod:
    """Turn a lift into a task of a composite, by its governing end."""
    result = evaluate(lift)
    if isinstance(result, OutsideMethod):
        return result
    firwl = lift.units.load_constant * result.governing.multipliers.without_frequency
    return SingleTask(lift.load, firwl, lift.per_minute, lift.starts_low)


def composite_index(tasks: Sequence[SingleTask], duration: Duration) -> Composite | OutsideMethod:
    """Give CLI = STLI_1 + sum of FILI_k (1/FM_1..k - 1/FM_1..k-1), highest STLI first (p. 28).

    Each FM is taken at the summed frequency, in the column of the task that is added.
    OutsideMethod where a summed frequency has no multiplier. Raises ValueError for no tasks.
    """
    if not tasks:
        raise ValueError("a composite of no tasks")
    own = [frequency_multiplier(task.per_minute, duration, low=task.starts_low) for task in tasks]
    if not all(own):
        return OutsideMethod((Outside.TOO_OFTEN,))
    order = sorted(range(len(tasks)), key=lambda k: -tasks[k].load / (tasks[k].firwl * own[k]))
    steps: list[CompositeStep] = []
    before = _ZERO
    for k in order:
        task = tasks[k]
        fili, stli = task.load / task.firwl, task.load / (task.firwl * own[k])
        adds = _added(task, duration, before, fili) if steps else stli
        if adds is None:
            return OutsideMethod((Outside.TOO_OFTEN,))
        steps.append(CompositeStep(k, task.firwl * own[k], fili, stli, adds))
        before += task.per_minute
    return Composite(sum((step.adds for step in steps), _ZERO), tuple(steps))

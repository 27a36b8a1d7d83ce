"""When each step of a warm-up sounds, to the second, within the minutes that it is given."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from handbook.domain.apportion import largest_remainder
from handbook.records import dataclass

LEAST = 20  # seconds that a step without a stated time is worth; less is over before it began
USUAL_REST = 5  # seconds of silence after a step that sounds: to breathe, and to see what is next
_MINUTE = 60
_COUNTED_IN = 2  # a step is at least so many measures long, or it is not counted in


@dataclass(frozen=True, slots=True)
class StepNeed:
    """What a step asks for, in whole seconds.

    `seconds` is None where it takes its share of what is left. `rest` is the silence after
    it. `measure` is how long one measure lasts at its tempo, 0 for a step without a beat.
    Raises ValueError for a step of no length, or a rest or measure below 0.
    """

    seconds: int | None = None
    rest: int = 0
    measure: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        if (self.seconds is not None and self.seconds < 1) or self.rest < 0 or self.measure < 0:
            raise ValueError("a step lasts a second or more, and its rest is not below 0")


@dataclass(frozen=True, slots=True)
class StepTime:
    """When a step sounds, in seconds from the start of the warm-up.

    The step is from `start` to `end`, and silent from there to `rest_ends`, where the next
    one starts. It begins with `count_in` seconds of counting, then has `measures` whole
    measures of `measure` seconds; both are 0 for a step without a beat.
    """

    start: int
    end: int
    rest_ends: int
    count_in: Fraction
    measures: int
    measure: Fraction

    @property
    def sounds_from(self) -> Fraction:
        """The first beat after the count-in."""
        return self.start + self.count_in

    @property
    def sounds_until(self) -> Fraction:
        """The end of the last whole measure, or of the step if it has no beat."""
        if not self.measures:
            return Fraction(self.end)
        return self.sounds_from + self.measures * self.measure


def warm_up_timeline(steps: Sequence[StepNeed], minutes: int) -> tuple[StepTime, ...]:
    """Lay the steps one after another; with their rests they sum to `minutes` exactly.

    Steps and rests that are stated have what they state. Steps that state nothing share
    what is left evenly, in whole seconds, by the largest remainder. Where less is left
    than `LEAST` for each of them, or nothing at all may be left over, all of it is
    lengthened or shortened in proportion, by the same method. A step is counted in by one
    measure if it has room for one more, and ends with a whole measure. Our own rules.
    Raises ValueError without steps, or for less than a minute.
    """
    if not steps or minutes < 1:
        raise ValueError(f"no warm-up has {len(steps)} steps in {minutes} minutes")
    lengths = _lengths(steps, minutes * _MINUTE)
    found: list[StepTime] = []
    start = 0
    for step, (seconds, rest) in zip(steps, lengths, strict=True):
        end = start + seconds
        found.append(_timed(step, start, end, end + rest))
        start = end + rest
    return tuple(found)


def stated_seconds(steps: Sequence[StepNeed]) -> int:
    """Give the seconds that steps and rests ask for, the least there is for those that state none."""
    return sum(_least(step) + step.rest for step in steps)


def _lengths(steps: Sequence[StepNeed], total: int) -> list[tuple[int, int]]:
    """Give each step's seconds and those of its rest."""
    rests = [step.rest for step in steps]
    unstated = [place for place, step in enumerate(steps) if step.seconds is None]
    left = total - sum(rests) - sum(step.seconds or 0 for step in steps)
    if unstated and left >= LEAST * len(unstated):
        shares = iter(largest_remainder(left, [1] * len(unstated)))
        return [
            (next(shares) if step.seconds is None else step.seconds, step.rest) for step in steps
        ]
    shares = iter(largest_remainder(total, [_least(step) for step in steps] + rests))
    seconds = [next(shares) for _ in steps]
    return list(zip(seconds, shares, strict=True))


def _least(step: StepNeed) -> int:
    return LEAST if step.seconds is None else step.seconds


def _timed(step: StepNeed, start: int, end: int, rest_ends: int) -> StepTime:
    length, measure = Fraction(end - start), step.measure
    counted = measure if measure and length >= _COUNTED_IN * measure else Fraction(0)
    measures = int((length - counted) / measure) if measure else 0
    return StepTime(start, end, rest_ends, counted, measures, measure if measures else Fraction(0))

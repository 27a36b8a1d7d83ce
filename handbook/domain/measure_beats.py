"""The beats of one measure, where each starts and how it divides.

Common practice, no source: the unit of a simple meter, a dotted note of a compound one,
and in meters of eighths or shorter the groups as they are given (2+2+3).
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from handbook.domain.values.meter import Meter
from handbook.records import dataclass

_QUARTER_UNIT = 4  # the lower figure of a time signature that counts quarters
_TWO, _THREE, _FOUR = 2, 3, 4


@dataclass(frozen=True, slots=True)
class Beat:
    """One beat: its number from 1, start and length in quarters, and into how many it divides."""

    number: int
    start: Fraction
    length: Fraction
    parts: int

    @property
    def end(self) -> Fraction:
        """Where the next beat starts, in quarters from the bar line."""
        return self.start + self.length


def measure_beats(meter: Meter, *, every_unit: bool = False) -> tuple[Beat, ...]:
    """Give the beats of a measure.

    `every_unit` counts each note of the lower figure, as in a slow 6/8 in six. An irregular
    meter without its grouping is counted so in any case. Groups of four units are two
    beats; longer ones count every unit.
    """
    unit = Fraction(4, meter.unit)
    if not every_unit and meter.groups and meter.unit > _QUARTER_UNIT:
        parts = [part for group in meter.groups for part in _split(group)]
        return _laid((unit * part, _THREE if part == _THREE else _TWO) for part in parts)
    if not every_unit and meter.compound:
        return _laid([(unit * _THREE, _THREE)] * (meter.top // _THREE))
    return _laid([(unit, _TWO)] * meter.top)


def _split(group: int) -> list[int]:
    if group <= _THREE:
        return [group]
    return [_TWO, _TWO] if group == _FOUR else [1] * group


def _laid(lengths: Iterable[tuple[Fraction, int]]) -> tuple[Beat, ...]:
    beats: list[Beat] = []
    start = Fraction(0)
    for number, (length, parts) in enumerate(lengths, 1):
        beats.append(Beat(number, start, length, parts))
        start += length
    return tuple(beats)

"""When each click of a metronome sounds, in seconds: the reference that a player must meet.

Times are exact to the float and absolute from the first click, count-in included, so that
no player need add up rounded beats. A moving tempo is linear in beats, in the beats that
the mark counts: over n beats from a to b bpm, beat k sounds at

    60 n / (b - a) x ln(1 + (b - a) k / (a n))   and at   60 k / a   where a = b.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from enum import StrEnum
from fractions import Fraction

from handbook.domain.measure_beats import Beat, measure_beats
from handbook.domain.values.meter import Meter
from handbook.domain.values.tempo import Tempo
from handbook.records import dataclass

_SECONDS_IN_MINUTE = 60


class Stress(StrEnum):
    """How loud a click is."""

    MEASURE = "measure"  # first of a measure
    BEAT = "beat"
    DIVISION = "division"


@dataclass(frozen=True, slots=True)
class Click:
    """One click: `measure` is 1 for the first counted one, 0 and below in the count-in.

    `division` is 0 on the beat and counts up to the next one.
    """

    seconds: float
    measure: int
    beat: int
    division: int
    stress: Stress


@dataclass(frozen=True, slots=True)
class ClickGrid:
    """The clicks in order, when measure 1 starts and when the last measure ends, in seconds."""

    clicks: tuple[Click, ...]
    start: float
    end: float


class DivisionError(ValueError):
    """The divisions asked for do not fit into a beat of the meter."""


def onset(beat: float, length: float, start_bpm: float, end_bpm: float) -> float:
    """Give seconds from the start of a tempo change to a beat within it (0 to `length`).

    The change is linear in beats over `length` beats. ValueError outside it, or for
    tempos that are not above zero.
    """
    _check(length, start_bpm, end_bpm)
    if not 0 <= beat <= length:
        raise ValueError(f"beat {beat} lies outside the {length} beats of the change")
    growth = (end_bpm - start_bpm) / (start_bpm * length)  # by share of the first tempo, a beat
    if growth == 0:
        return _SECONDS_IN_MINUTE * beat / start_bpm
    return _SECONDS_IN_MINUTE / (start_bpm * growth) * math.log1p(growth * beat)


def beat_at(seconds: float, length: float, start_bpm: float, end_bpm: float) -> float:
    """Give the beat that sounds so many seconds into a tempo change: `onset` turned round."""
    _check(length, start_bpm, end_bpm)
    if seconds < 0:
        raise ValueError("a beat lies before the change")
    growth = (end_bpm - start_bpm) / (start_bpm * length)
    if growth == 0:
        return seconds * start_bpm / _SECONDS_IN_MINUTE
    return math.expm1(seconds * start_bpm * growth / _SECONDS_IN_MINUTE) / growth


def click_grid(
    meter: Meter,
    measures: int,
    tempo: Tempo,
    tempo_to: Tempo | None = None,
    *,
    division: Fraction | None = None,
    count_in: int = 0,
) -> ClickGrid:
    """Give every click of some measures, after `count_in` measures at the first tempo.

    `division` is a note length in quarters (1/2 for eighths) at which softer clicks are
    added; DivisionError if a beat does not hold a whole number of them. `tempo_to` makes
    the tempo move over all the measures, in the beats that `tempo` counts. ValueError if
    there is no measure.
    """
    if measures < 1 or count_in < 0:
        raise ValueError("a click lasts at least one measure, and a count-in none or more")
    clock = _Clock(meter, measures, tempo, tempo_to or tempo, count_in)
    clicks = tuple(
        Click(clock.seconds(measure, place), measure, beat, part, stress)
        for measure in range(1 - count_in, measures + 1)
        for place, beat, part, stress in _places(meter, division)
    )
    return ClickGrid(clicks, clock.counted_in, clock.seconds(measures + 1, Fraction(0)))


@dataclass(frozen=True, slots=True)
class _Clock:
    """Turns a place in a measure into seconds from the first click."""

    meter: Meter
    measures: int
    tempo: Tempo
    tempo_to: Tempo
    count_in: int

    @property
    def counted_in(self) -> float:
        return self._at_first_tempo(self.count_in * self.meter.quarters)

    def seconds(self, measure: int, place: Fraction) -> float:
        quarters = (measure - 1) * self.meter.quarters + place
        if quarters <= 0:
            return self._at_first_tempo(self.count_in * self.meter.quarters + quarters)
        unit = self.tempo.beat.quarters
        return self.counted_in + onset(
            float(quarters / unit),
            float(self.measures * self.meter.quarters / unit),
            float(self.tempo.bpm),
            float(self.tempo_to.quarters_per_minute / unit),
        )

    def _at_first_tempo(self, quarters: Fraction) -> float:
        return float(_SECONDS_IN_MINUTE * quarters / self.tempo.quarters_per_minute)


def _places(meter: Meter, division: Fraction | None) -> Iterator[tuple[Fraction, int, int, Stress]]:
    """Give each click of a measure: quarters from the bar line, beat, division, stress."""
    for beat in measure_beats(meter):
        length = division or beat.length
        for part in range(_parts(beat, length)):
            stress = Stress.DIVISION if part else Stress.BEAT
            if beat.number == 1 and part == 0:
                stress = Stress.MEASURE
            yield beat.start + part * length, beat.number, part, stress


def _parts(beat: Beat, length: Fraction) -> int:
    parts = beat.length / length if length > 0 else Fraction(0)
    if parts.denominator != 1 or parts < 1:
        raise DivisionError(f"beat {beat.number} does not divide into notes of {length} quarters")
    return int(parts)


def _check(length: float, *tempos: float) -> None:
    if length <= 0 or min(tempos) <= 0:
        raise ValueError("a tempo change needs beats to happen in, and tempos above zero")

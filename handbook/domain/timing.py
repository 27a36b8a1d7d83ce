"""Durations of pieces and programs, from measures, meters and tempos."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from math import ceil, floor, log1p

from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.meter import Meter
from handbook.domain.values.tempo import Tempo
from handbook.records import dataclass

_MINUTE, _HOUR = 60, 3600  # seconds
_SHOWN_STEP = 5  # seconds
_NOISE_PLACES = 6  # decimals of a second that float sums keep sound


class TempoModel(StrEnum):
    """How the tempo moves between two marks; STEPPED holds it within each beat of the first mark."""

    LINEAR_IN_BEATS = "linear in beats"
    LINEAR_IN_TIME = "linear in time"
    EXPONENTIAL_IN_BEATS = "exponential in beats"
    STEPPED = "stepped"


@dataclass(frozen=True, slots=True)
class FormPart:
    """A stretch of a piece: its length in quarter notes, once through.

    `tempo_to` makes the tempo move from `tempo` to it over the whole stretch;
    `times` is how often it is played; `held` are seconds added by fermatas each time;
    `model` says how a moving tempo moves.
    """

    quarters: Fraction
    tempo: Tempo
    tempo_to: Tempo | None = None
    times: int = 1
    held: Fraction = Fraction(0)
    model: TempoModel = TempoModel.LINEAR_IN_BEATS


def span_quarters(span: MeasureSpan, meter: Meter) -> Fraction:
    """Give the length of measures in quarter notes."""
    return span.count * meter.quarters


def part_seconds(part: FormPart, model: TempoModel | None = None) -> float:
    """Reckon a part's seconds, all its times and its fermatas included; not rounded.

    `model` overrides the part's own. Over n beats from a to b beats a minute, by
    integrating 60 / tempo: linear in beats 60 n ln(b/a) / (b - a); linear in time
    120 n / (a + b); exponential in beats 60 n (1/a - 1/b) / ln(b/a); stepped, the sum of
    60 / (tempo at each beat's start). With a = b all are 60 n / a.
    """
    beats = part.quarters / part.tempo.beat.quarters
    first = part.tempo.bpm
    last = (
        first
        if part.tempo_to is None
        else part.tempo_to.quarters_per_minute / part.tempo.beat.quarters
    )
    moving = (
        float(_MINUTE * beats / first)
        if first == last
        else _moving(beats, first, last, model or part.model)
    )
    return part.times * (moving + float(part.held))


def shown(seconds: float) -> int:
    """Round to the nearest 5 seconds, half up: the precision that a stopwatch rehearsal allows."""
    # A sum of floats may miss the half by less than a millionth.
    return _SHOWN_STEP * floor(
        Fraction(str(round(seconds, _NOISE_PLACES))) / _SHOWN_STEP + Fraction(1, 2)
    )


def format_duration(seconds: float, *, about: bool = False) -> str:
    """Write a duration in words, `3 min 25 s` or `about 3 min 25 s`, rounded as `shown`."""
    amounts = hours_minutes_seconds(seconds)
    parts = [
        f"{amount} {unit}"
        for amount, unit in zip(amounts, ("h", "min", "s"), strict=True)
        if amount
    ]
    return f"{'about ' if about else ''}{' '.join(parts) or '0 s'}"


def hours_minutes_seconds(seconds: float) -> tuple[int, int, int]:
    """Give a duration in whole hours, minutes and seconds, rounded as `shown`.

    A few seconds, such as those of a first ending, are given to the nearest one, never as none.
    """
    if 0 < seconds < 2 * _SHOWN_STEP:
        return 0, 0, max(1, floor(seconds + 1 / 2))
    whole = shown(seconds)
    return whole // _HOUR, whole % _HOUR // _MINUTE, whole % _MINUTE


def _moving(beats: Fraction, first: Fraction, last: Fraction, model: TempoModel) -> float:
    """Integrate a moving tempo (`first` unlike `last`) over the beats."""
    log_ratio = log1p(float(last / first - 1))  # of nearly equal tempos as well
    if model is TempoModel.LINEAR_IN_BEATS:
        return float(_MINUTE * beats / (last - first)) * log_ratio
    if model is TempoModel.LINEAR_IN_TIME:
        return float(2 * _MINUTE * beats / (first + last))
    if model is TempoModel.EXPONENTIAL_IN_BEATS:
        return float(_MINUTE * beats * (1 / first - 1 / last)) / log_ratio
    per_beat = (last - first) / beats
    # A last beat that is not whole is held for its fraction.
    return float(
        sum(
            _MINUTE * min(Fraction(1), beats - beat) / (first + per_beat * beat)
            for beat in range(ceil(beats))
        )
    )

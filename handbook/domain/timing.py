"""Durations of pieces and programs, from measures, meters and tempos."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from handbook.domain.values.tempo import Tempo


class TempoModel(StrEnum):
    """How the tempo moves between two marks."""

    LINEAR_IN_BEATS = "linear in beats"
    LINEAR_IN_TIME = "linear in time"
    EXPONENTIAL_IN_BEATS = "exponential in beats"
    STEPPED = "stepped"


@dataclass(frozen=True, slots=True)
class FormPart:
    """A stretch of a piece: its length in quarter notes, once through.

    `tempo_to` makes the tempo move from `tempo` to it over the whole stretch;
    `times` is how often it is played; `held` are seconds added by fermatas each time.
    """

    quarters: Fraction
    tempo: Tempo
    tempo_to: Tempo | None = None
    times: int = 1
    held: Fraction = Fraction(0)

"""Tempo ladders: how fast a passage is rehearsed each time, from first reading to goal."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from handbook.domain.values.tempo import Tempo


@dataclass(frozen=True, slots=True)
class Band:
    """The tempo band of a stage in percent of the goal, low end first."""

    low: Fraction
    high: Fraction


@dataclass(frozen=True, slots=True)
class SubdividedClick:
    """A slow beat given as its divisions: `name` is their note value, `bpm` their speed."""

    name: str
    bpm: Fraction


@dataclass(frozen=True, slots=True)
class Rung:
    """The tempo of one rehearsal; `percent` is the exact share of the goal before rounding down."""

    tempo: Tempo
    percent: Fraction
    stage: int
    click: SubdividedClick | None = None


@dataclass(frozen=True, slots=True)
class WeekTarget:
    """What to reach at home in one week: the rung of its last rehearsal.

    `monday` names the ISO week. `steps` lead from last week's target (left out) to this
    week's (included), one mark each.
    """

    monday: date
    target: Tempo
    steps: tuple[Tempo, ...]

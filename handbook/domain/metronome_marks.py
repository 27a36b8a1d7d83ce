"""The speeds that a rehearsal tempo may take: a scale of marks to round down to."""

from __future__ import annotations

from bisect import bisect_right
from fractions import Fraction
from math import floor
from typing import Protocol

from handbook.domain.tables.metronome import TRADITIONAL_MARKS
from handbook.records import dataclass

_STEP_ABOVE = TRADITIONAL_MARKS[-1] - TRADITIONAL_MARKS[-2]
_SETTINGS = tuple(map(Fraction, TRADITIONAL_MARKS))


class Marks(Protocol):
    """A scale of speeds in beats a minute, without end upward."""

    def __hash__(self) -> int:
        """Scales are plain values."""

    def floor(self, bpm: Fraction) -> Fraction:
        """Round down to a mark; a speed below the lowest mark stays as it is."""

    def next_up(self, bpm: Fraction) -> Fraction:
        """Give the lowest mark above the speed."""


@dataclass(frozen=True, slots=True)
class TraditionalMarks:
    """The 39 traditional settings, whole numbers below 40 and on in eights above 208.

    The scale itself has nothing below 40 or above 208; the two ways on are our choice,
    so that a slow or very fast goal still has a ladder.
    """

    def floor(self, bpm: Fraction) -> Fraction:
        """Round down to a setting."""
        whole = floor(bpm)
        if whole < TRADITIONAL_MARKS[0]:
            return EveryMarks(1).floor(bpm)
        if whole >= TRADITIONAL_MARKS[-1]:
            above = whole - TRADITIONAL_MARKS[-1]
            return Fraction(whole - above % _STEP_ABOVE)
        return _SETTINGS[bisect_right(TRADITIONAL_MARKS, whole) - 1]

    def next_up(self, bpm: Fraction) -> Fraction:
        """Give the lowest setting above the speed."""
        whole = floor(bpm)
        if whole < TRADITIONAL_MARKS[0]:
            return Fraction(whole + 1)
        if whole >= TRADITIONAL_MARKS[-1]:
            return self.floor(bpm) + _STEP_ABOVE
        return _SETTINGS[bisect_right(TRADITIONAL_MARKS, whole)]


@dataclass(frozen=True, slots=True)
class EveryMarks:
    """Multiples of a whole number; below the first, whole numbers. Raises ValueError below 1."""

    step: int

    def __post_init__(self) -> None:
        if self.step < 1:
            raise ValueError(f"marks cannot be {self.step} apart")

    def floor(self, bpm: Fraction) -> Fraction:
        """Round down to a multiple."""
        whole = floor(bpm)
        if whole < 1:
            return bpm
        return Fraction(whole // self.step * self.step or whole)

    def next_up(self, bpm: Fraction) -> Fraction:
        """Give the lowest multiple above the speed."""
        whole = floor(bpm)
        return Fraction((whole // self.step + 1) * self.step if whole >= self.step else whole + 1)


@dataclass(frozen=True, slots=True)
class ExactMarks:
    """No rounding: any speed is a mark; the next one up is the next whole number."""

    def floor(self, bpm: Fraction) -> Fraction:
        """Leave the speed as it is."""
        return bpm

    def next_up(self, bpm: Fraction) -> Fraction:
        """Give the next whole number."""
        return Fraction(floor(bpm) + 1)


def marks_named(kind: str, step: int = 0) -> Marks:
    """Give the scale called `traditional`, `every` (with its step) or `exact`.

    Raises ValueError for another name.
    """
    if kind == "traditional":
        return TraditionalMarks()
    if kind == "every":
        return EveryMarks(step)
    if kind == "exact":
        return ExactMarks()
    raise ValueError(f"no scale of marks is called {kind}")

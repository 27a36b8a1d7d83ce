"""Rhythms as measures of notes and rests, and whether they fill their meter."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from fractions import Fraction

from handbook.domain.rudiments import Stroke
from handbook.domain.values.meter import Meter
from handbook.records import dataclass

# Note values in quarters: common practice, no source.
VALUES: dict[str, Fraction] = {
    "w": Fraction(4),
    "h": Fraction(2),
    "q": Fraction(1),
    "e": Fraction(1, 2),
    "s": Fraction(1, 4),
    "t": Fraction(1, 8),
}
_NAMES = {
    "w": "whole",
    "h": "half",
    "q": "quarter",
    "e": "eighth",
    "s": "sixteenth",
    "t": "thirty-second",
}
_DOTTED = ("", "dotted ", "double-dotted ")

# Notes of a group to how many of the same value it takes the time of: common practice, no source.
TUPLETS: dict[int, int] = {2: 3, 3: 2, 4: 3, 5: 4, 6: 4, 7: 4, 9: 8}
_TUPLET_NAMES = {
    2: "duplet",
    3: "triplet",
    4: "quadruplet",
    5: "quintuplet",
    6: "sextuplet",
    7: "septuplet",
    9: "nonuplet",
}


@dataclass(frozen=True, slots=True)
class Tuplet:
    """The group a note is in: `count` notes in the time of `time_of`.

    `place` is where in the group the note starts, as a share of it from 0.
    """

    count: int
    time_of: int
    place: Fraction = Fraction(0)


class Articulation(StrEnum):
    """How a note is played, by the sign it is typed with."""

    ACCENT = ">"
    STRONG_ACCENT = "^"
    STACCATO = "*"
    TENUTO = "="


@dataclass(frozen=True, slots=True)
class RhythmNote:
    """A note or rest; `quarters` is how long it lasts in quarter notes, group included.

    `tied` and `slurred` lead to the next note; `articulations` stand in the order of their class.
    """

    value: str
    dots: int = 0
    rest: bool = False
    articulations: tuple[Articulation, ...] = ()
    stroke: Stroke | None = None
    tied: bool = False
    slurred: bool = False
    tuplet: Tuplet | None = None

    @property
    def written_quarters(self) -> Fraction:
        """The length as printed, without the group: a dot adds half, a second a quarter more."""
        return VALUES[self.value] * (2 - Fraction(1, 2**self.dots))

    @property
    def quarters(self) -> Fraction:
        """The length as played."""
        if self.tuplet is None:
            return self.written_quarters
        return self.written_quarters * self.tuplet.time_of / self.tuplet.count

    @property
    def name(self) -> str:
        """The note in words: `dotted quarter note`, `eighth rest`, `triplet eighth note`."""
        group = f"{_TUPLET_NAMES[self.tuplet.count]} " if self.tuplet else ""
        kind = "rest" if self.rest else "note"
        return f"{group}{_DOTTED[self.dots]}{_NAMES[self.value]} {kind}"


Measure = tuple[RhythmNote, ...]


@dataclass(frozen=True, slots=True)
class Rhythm:
    """Measures in order; with `pickup` the first is short and has number 0, else 1."""

    measures: tuple[Measure, ...]
    pickup: bool = False

    def number(self, index: int) -> int:
        """Give the measure number of the measure at `index`."""
        return index if self.pickup else index + 1


@dataclass(frozen=True, slots=True)
class PlacedNote:
    """A note and where it starts and ends, in quarters from the bar line."""

    note: RhythmNote
    start: Fraction

    @property
    def end(self) -> Fraction:
        """Where the next note starts."""
        return self.start + self.note.quarters


@dataclass(frozen=True, slots=True)
class MeasureFault:
    """A measure that its meter does not fit; `shortfall` in quarters, below zero if too long."""

    index: int
    number: int
    shortfall: Fraction

    @property
    def message(self) -> str:
        """One sentence for the author: `measure 2 is an eighth note too long`."""
        if self.number == 0:
            return "the pickup is as long as a measure or longer"
        much = "too long" if self.shortfall < 0 else "too short"
        return f"measure {self.number} is {length_text(abs(self.shortfall))} {much}"


def placed(measure: Measure) -> tuple[PlacedNote, ...]:
    """Give each note of a measure its place."""
    return tuple(_place(measure))


def strokes(rhythm: Rhythm) -> tuple[Stroke, ...]:
    """Give the sticking of a rhythm, note by note, as far as it is written."""
    return tuple(note.stroke for measure in rhythm.measures for note in measure if note.stroke)


def hands_missing(rhythm: Rhythm) -> tuple[int, ...]:
    """Give indices of measures where a struck note lacks its hand, if the rhythm has any hands.

    A note that a tie leads to is not struck again and needs none.
    """
    if not strokes(rhythm):
        return ()
    found = []
    tied = False
    for index, measure in enumerate(rhythm.measures):
        for note in measure:
            if not (note.rest or tied or note.stroke):
                found.append(index)
            tied = note.tied
    return tuple(dict.fromkeys(found))


def faults(rhythm: Rhythm, meter: Meter) -> tuple[MeasureFault, ...]:
    """Give the measures that are longer or shorter than the meter.

    A pickup may be anything shorter than a measure; the last measure may then be full or
    make up the rest, as is the custom.
    """
    found = []
    for index, measure in enumerate(rhythm.measures):
        length = sum((note.quarters for note in measure), Fraction(0))
        if length not in _allowed(rhythm, index, length, meter.quarters):
            found.append(MeasureFault(index, rhythm.number(index), meter.quarters - length))
    return tuple(found)


def length_text(quarters: Fraction) -> str:
    """Say a length as a note: `an eighth note`, `a dotted half note`, else `5/6 of a quarter note`."""
    for value in VALUES:
        for dots in range(len(_DOTTED)):
            note = RhythmNote(value, dots)
            if note.quarters == quarters:
                return f"{'an' if note.name[0] in 'aeiou' else 'a'} {note.name}"
    if quarters.denominator == 1:
        return f"{quarters} quarter notes"
    return f"{quarters} of a quarter note"


def _allowed(rhythm: Rhythm, index: int, length: Fraction, full: Fraction) -> tuple[Fraction, ...]:
    if not rhythm.pickup:
        return (full,)
    if index == 0:
        return (length,) if length < full else ()
    if index == len(rhythm.measures) - 1:
        return (full, full - sum((note.quarters for note in rhythm.measures[0]), Fraction(0)))
    return (full,)


def _place(measure: Measure) -> Iterator[PlacedNote]:
    start = Fraction(0)
    for note in measure:
        yield PlacedNote(note, start)
        start += note.quarters

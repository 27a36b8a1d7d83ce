"""What to say while clapping a rhythm: one count for each note, rest and held beat.

Syllables come from the table of counting systems. Notes are spoken; beats that pass
during a note are held and beats of rest are silent, and both are given so that a
beginner sees every beat.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from enum import StrEnum
from fractions import Fraction

from handbook.domain.measure_beats import Beat, measure_beats
from handbook.domain.rhythm import Measure, PlacedNote, Rhythm, RhythmNote, placed
from handbook.domain.tables.counting_systems import CountingSystem
from handbook.domain.values.meter import Meter
from handbook.records import dataclass

_THREE = 3
_SIXTEENTH, _EIGHTH = Fraction(1, 4), Fraction(1, 2)
_HELD = "a"  # the vowel that goes on through a tie, in a system by length


class CountKind(StrEnum):
    """How a count is said."""

    SPOKEN = "spoken"  # a note starts
    HELD = "held"  # a beat passes while a note goes on
    SILENT = "silent"  # a rest


@dataclass(frozen=True, slots=True)
class Count:
    """One syllable: `start` in quarters from the bar line, `note` the index in its measure."""

    text: str
    kind: CountKind
    start: Fraction
    note: int

    def __str__(self) -> str:
        if self.kind is CountKind.SPOKEN:
            return self.text
        return f"({self.text})" if self.kind is CountKind.HELD else f"[{self.text}]"


def counts(
    rhythm: Rhythm, meter: Meter, system: CountingSystem, *, every_unit: bool = False
) -> tuple[tuple[Count, ...], ...]:
    """Give the counts of each measure.

    `every_unit` counts each note of the meter's lower figure, as in a slow 6/8 in six. A
    pickup is counted up to the bar line, so a quarter in 4/4 is "4". What lies past the
    end of an overfull measure is counted on in beats of the last length.
    """
    beats = measure_beats(meter, every_unit=every_unit)
    found = []
    tied = False
    for index, measure in enumerate(rhythm.measures):
        shift = _pickup_shift(measure, meter) if rhythm.pickup and index == 0 else Fraction(0)
        found.append(tuple(_measure_counts(measure, beats, system, shift, tied=tied)))
        tied = measure[-1].tied
    return tuple(found)


def count_line(measure: Iterable[Count]) -> str:
    """Write a measure's counts on a line; held beats in round brackets, silent ones in square."""
    return " ".join(map(str, measure))


def _pickup_shift(measure: Measure, meter: Meter) -> Fraction:
    length = sum((note.quarters for note in measure), Fraction(0))
    return max(Fraction(0), meter.quarters - length)


def _measure_counts(
    measure: Measure,
    beats: tuple[Beat, ...],
    system: CountingSystem,
    shift: Fraction,
    *,
    tied: bool,
) -> Iterator[Count]:
    for index, here in enumerate(placed(measure)):
        start, end = here.start + shift, here.end + shift
        kind = CountKind.SPOKEN
        if here.note.rest:
            kind = CountKind.SILENT
        elif measure[index - 1].tied if index else tied:
            kind = CountKind.HELD
        if system.lengths:
            yield Count(_by_length(here, kind, system), kind, start, index)
            continue
        yield Count(_by_place(here.note, start, _beat_at(start, beats), system), kind, start, index)
        passing = CountKind.SILENT if here.note.rest else CountKind.HELD
        for beat in _running(beats, end):
            if start < beat.start < end:
                yield Count(str(beat.number), passing, beat.start, index)


def _running(beats: tuple[Beat, ...], end: Fraction) -> Iterator[Beat]:
    """Give the beats of the measure, and go on past its end as far as the notes do."""
    yield from beats
    last = beats[-1]
    while last.end < end:
        last = Beat(last.number + 1, last.end, last.length, last.parts)
        yield last


def _beat_at(start: Fraction, beats: tuple[Beat, ...]) -> Beat:
    return next(
        beat for beat in _running(beats, start + beats[-1].length) if beat.start <= start < beat.end
    )


def _by_place(note: RhythmNote, start: Fraction, beat: Beat, system: CountingSystem) -> str:
    place = (start - beat.start) / beat.length
    if place == 0:
        return str(beat.number)
    in_threes = beat.parts == _THREE
    if note.tuplet is not None:
        in_threes = note.tuplet.count % _THREE == 0
    table: Mapping[Fraction, str] = system.thirds if in_threes else system.halves
    return table.get(place, system.between)


def _by_length(here: PlacedNote, kind: CountKind, system: CountingSystem) -> str:
    note = here.note
    if kind is CountKind.SILENT:
        return system.rest
    if kind is CountKind.HELD:
        return _HELD
    if note.tuplet is not None and note.tuplet.count == _THREE:
        third = note.tuplet.place * _THREE
        return system.triplet[int(third)] if third.denominator == 1 else system.between
    if note.written_quarters == _SIXTEENTH:
        return system.pairs[0 if here.start % _EIGHTH == 0 else 1]
    return system.lengths.get(note.written_quarters, system.between)

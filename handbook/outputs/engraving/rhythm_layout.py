"""How wide a rhythm is set: notes stand as far apart as they last, and lines fit a phone.

A beginner reads time off the page, so the room of a note is in proportion to its length, the
same in every measure of an example. How much a quarter note gets is what its narrowest place
needs: heads that follow one another closely, grace notes, or what is said below them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import ceil

from handbook.domain.counting import Count
from handbook.domain.measure_beats import measure_beats
from handbook.domain.rhythm import Measure, PlacedNote, Rhythm, RhythmNote, placed
from handbook.domain.values.meter import Meter
from handbook.records import dataclass

# All in drawing units, 180 from staff line to staff line. Measured on engravings: a head with
# some air, a dot, a flag, a grace note; a bar line and the signs at the start of a line.
_HEAD, _DOT, _FLAG, _GRACE, _GRACES_APART = 320, 120, 180, 270, 100
_BAR, _SIGNS, _SIGN_OF_GROUP = 200, 1050, 500
_LEAST = 620  # of a quarter note, so that a rhythm of long notes does not look cramped
_LINE = 7900  # what a phone shows without making the words too small
_STEP = 10

# What is said, by the widths of the page's typeface at 340 units to the em.
_WIDTHS = {"&": 250, "m": 290, **dict.fromkeys("()[]filrtj1-.,", 112)}
_LETTER, _BETWEEN_WORDS = 190, 90
_SHORT = frozenset("est")


@dataclass(frozen=True, slots=True)
class RhythmExample:
    """A rhythm on one line; `counts` are the syllables of each measure, or none at all."""

    rhythm: Rhythm
    meter: Meter
    counts: tuple[tuple[Count, ...], ...] = ()


def quarter_width(example: RhythmExample) -> int:
    """Give the room of a quarter note in drawing units; a note of any length has its share."""
    widest = Fraction(_LEAST)
    for index in range(len(example.rhythm.measures)):
        for lasts, room in (*_heads(example, index), *_words(example, index)):
            widest = max(widest, room / lasts)
    return ceil(widest / _STEP) * _STEP


def lines(example: RhythmExample, quarter: int) -> tuple[int, ...]:
    """Give the indexes of the measures that begin a line: 0, and where a phone's width is full.

    `quarter` is the room of a quarter note in drawing units.
    """
    groups = len(example.meter.groups) if example.meter.irregular else 0
    filled = Fraction(_SIGNS + _SIGN_OF_GROUP * max(0, groups - 1))
    starts = [0]
    for index, measure in enumerate(example.rhythm.measures):
        width = quarter * sum((note.quarters for note in measure), Fraction(0)) + _BAR
        if index and filled + width > _LINE:
            starts.append(index)
            filled = Fraction(_SIGNS)
        filled += width
    return tuple(starts)


def pickup_start(example: RhythmExample, index: int) -> Fraction:
    """Give where in a whole measure the notes begin, in quarters: past 0 only in a pickup."""
    if index or not example.rhythm.pickup:
        return Fraction(0)
    length = sum((note.quarters for note in example.rhythm.measures[0]), Fraction(0))
    return max(Fraction(0), example.meter.quarters - length)


def beat_groups(measure: Measure, meter: Meter, start: Fraction) -> tuple[tuple[int, bool], ...]:
    """Give for each note its beat, and whether it is short enough for a beam with its neighbors."""
    beats = measure_beats(meter)

    def group(here: PlacedNote) -> tuple[int, bool]:
        at = here.start + start
        beat = next((beat.number for beat in beats if beat.start <= at < beat.end), 0)
        return beat, here.note.value in _SHORT and not here.note.rest

    return tuple(group(here) for here in placed(measure))


def _heads(example: RhythmExample, index: int) -> Iterator[tuple[Fraction, int]]:
    """Give how long each note lasts, and the room it needs before the next one."""
    measure = example.rhythm.measures[index]
    groups = beat_groups(measure, example.meter, pickup_start(example, index))
    for place, (note, following) in enumerate(pairwise(measure)):
        alone = groups[place] not in (groups[place - 1] if place else None, groups[place + 1])
        flag = _FLAG if alone and groups[place][1] else 0
        room = _HEAD + _DOT * note.dots + flag + _graces_width(following)
        yield note.quarters, room


def _graces_width(note: RhythmNote) -> int:
    graces = note.stroke.graces if note.stroke else 0
    return _GRACE + _GRACES_APART * graces if graces else 0


def _words(example: RhythmExample, index: int) -> Iterator[tuple[Fraction, int]]:
    """Give how long it is from one word below the notes to the next, and the room both need."""
    said = example.counts[index] if example.counts else ()
    played = placed(example.rhythm.measures[index])
    rows = (
        [(count.start, str(count)) for count in said],
        [(here.start, str(here.note.stroke)) for here in played if here.note.stroke],
    )
    for row in rows:
        for (start, word), (end, following) in pairwise(row):
            yield end - start, (_width(word) + _width(following)) // 2 + _BETWEEN_WORDS


def _width(word: str) -> int:
    return sum(_WIDTHS.get(letter, _LETTER) for letter in word)

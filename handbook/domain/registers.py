"""Where notes of no stated octave lie for a player.

Common practice, no source: a note is practised first where it is easiest to play. Two
notes a third or more apart are an interval, written from the lower one up; more notes
in a row are a line, not leaps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from handbook.domain.tables.experience import RANGES, Experience
from handbook.domain.tables.instruments import Instrument
from handbook.domain.values.pitch import NoteName, WrittenPitch

_OCTAVES = range(10)
_SECOND = 2  # semitones of the widest step
_IN_INTERVAL = 2  # notes


@lru_cache(maxsize=512)
def instrument_at(row: Instrument, experience: Experience) -> Instrument:
    """Give an instrument with the range of players of some experience."""
    return replace(row, range=RANGES.get((row.id, experience), row.range))


def in_register(name: NoteName, instrument: Instrument) -> WrittenPitch:
    """Give the written note of that name nearest the middle of the usual range, the lower on a tie.

    Raises ValueError for percussion of no definite pitch.
    """
    return line_in_register((name,), instrument)[0]


def line_in_register(names: Sequence[NoteName], instrument: Instrument) -> tuple[WrittenPitch, ...]:
    """Give written notes of a line, or of an interval from its first note up.

    In a line each lies as near as can be to the one before, a tritone up. The whole is
    moved by octaves so that the least of it lies outside the usual range and its middle is
    nearest to where single notes lie, the lower on a tie. Raises ValueError for percussion
    of no definite pitch.
    """
    within = instrument.range
    if within is None:
        raise ValueError(f"the {instrument.name.lower()} has no range to place a note in")
    lines = [_line(names, octave) for octave in _OCTAVES]

    def discomfort(line: Sequence[WrittenPitch]) -> tuple[int, int]:
        heights = [note.midi for note in line] or [within.low.midi]
        lowest, highest = min(heights), max(heights)
        return within.outside(lowest, highest), abs(lowest + highest - within.twice_centre)

    return min(lines, key=discomfort)


def _line(names: Sequence[NoteName], octave: int) -> tuple[WrittenPitch, ...]:
    line: list[WrittenPitch] = []
    for name in names:
        before = line[-1] if line else None
        near = [WrittenPitch(name, (before.octave if before else octave) + by) for by in (-1, 0, 1)]
        line.append(near[1] if before is None else min(near, key=lambda n: _leap(before, n)))
    if len(line) == _IN_INTERVAL and line[0].midi - line[1].midi > _SECOND:
        line[1] = WrittenPitch(line[1].name, line[1].octave + 1)
    return tuple(line)


def _leap(start: WrittenPitch, end: WrittenPitch) -> tuple[int, int]:
    return abs(end.midi - start.midi), -end.midi

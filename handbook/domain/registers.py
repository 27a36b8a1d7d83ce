"""Where notes of no stated octave lie for a player.

Common practice, no source: a note is practised first where it is easiest to play, and
notes given in a row are a line, not leaps.
"""

from __future__ import annotations

from collections.abc import Sequence

from handbook.domain.tables.instruments import Instrument
from handbook.domain.values.pitch import NoteName, WrittenPitch

_OCTAVES = range(10)


def in_register(name: NoteName, instrument: Instrument) -> WrittenPitch:
    """Give the written note of that name nearest the middle of the usual range, the lower on a tie.

    Raises ValueError for percussion of no definite pitch.
    """
    return line_in_register((name,), instrument)[0]


def line_in_register(names: Sequence[NoteName], instrument: Instrument) -> tuple[WrittenPitch, ...]:
    """Give written notes, each as near as can be to the one before, all near the middle.

    The whole line is moved by octaves so that its lowest and highest note lie about the
    middle of the range, the lower on a tie; a tritone goes up. Raises ValueError for
    percussion of no definite pitch.
    """
    within = instrument.range
    if within is None:
        raise ValueError(f"the {instrument.name.lower()} has no range to place a note in")
    twice_middle = within.low.midi + within.high.midi
    lines = (_line(names, octave) for octave in _OCTAVES)
    return min(lines, key=lambda line: abs(_twice_centre(line) - twice_middle))


def _line(names: Sequence[NoteName], octave: int) -> tuple[WrittenPitch, ...]:
    line: list[WrittenPitch] = []
    for name in names:
        before = line[-1] if line else None
        near = [WrittenPitch(name, (before.octave if before else octave) + by) for by in (-1, 0, 1)]
        line.append(near[1] if before is None else min(near, key=lambda n: _leap(before, n)))
    return tuple(line)


def _leap(start: WrittenPitch, end: WrittenPitch) -> tuple[int, int]:
    return abs(end.midi - start.midi), -end.midi


def _twice_centre(line: Sequence[WrittenPitch]) -> int:
    heights = [note.midi for note in line]
    return min(heights) + max(heights) if heights else 0

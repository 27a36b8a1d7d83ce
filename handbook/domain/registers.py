"""Where a note of no stated octave lies for a player."""

from __future__ import annotations

from handbook.domain.tables.instruments import Instrument
from handbook.domain.values.pitch import NoteName, WrittenPitch

_OCTAVES = range(10)


def in_register(name: NoteName, instrument: Instrument) -> WrittenPitch:
    """Give the written note of that name nearest the middle of the usual range, the lower on a tie.

    Common practice, no source: a note is practised first where it is easiest to play.
    Raises ValueError for percussion of no definite pitch.
    """
    within = instrument.range
    if within is None:
        raise ValueError(f"the {instrument.name.lower()} has no range to place a note in")
    twice_middle = within.low.midi + within.high.midi
    return min(
        (WrittenPitch(name, octave) for octave in _OCTAVES),
        key=lambda note: abs(2 * note.midi - twice_middle),
    )

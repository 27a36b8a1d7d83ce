"""Slurs of a rhythm: from which note to which, and those that lead to no note.

Common practice, no source: a slur runs on through tied notes, from the first note of a tie
that it begins on to the last of one that it ends on.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from handbook.domain.rhythm import Rhythm, RhythmNote
from handbook.records import dataclass

Place = tuple[int, int]  # index of the measure, and of the note or rest in it


@dataclass(frozen=True, slots=True)
class Slur:
    """A slur from the note at `first` to that at `last`, both included."""

    first: Place
    last: Place


@dataclass(frozen=True, slots=True)
class LooseSlur:
    """A slur that leads from the note at `start` to a rest, or past the end of the rhythm."""

    start: Place
    to_rest: bool


def slurs(rhythm: Rhythm) -> tuple[Slur, ...]:
    """Give the slurs in order; what leads to no note is left out, for `loose_slurs` names it."""
    return tuple(_slurs(rhythm))


def loose_slurs(rhythm: Rhythm) -> tuple[LooseSlur, ...]:
    """Give the slurs that lead to a rest or to nothing."""
    notes = _placed(rhythm)
    loose = [
        LooseSlur(place, to_rest=True)
        for (place, note), (_, following) in pairwise(notes)
        if note.slurred and following.rest
    ]
    last, note = notes[-1]
    return (*loose, LooseSlur(last, to_rest=False)) if note.slurred else tuple(loose)


def _slurs(rhythm: Rhythm) -> Iterator[Slur]:
    start: Place | None = None  # of the notes that ties and slurs have joined so far
    slurred = False
    for (place, note), (then, following) in pairwise(_placed(rhythm)):
        if (note.tied or note.slurred) and not following.rest:
            start = place if start is None else start
            slurred = slurred or note.slurred
            end = then
            continue
        if start is not None and slurred:
            yield Slur(start, end)
        start, slurred = None, False
    if start is not None and slurred:
        yield Slur(start, end)


def _placed(rhythm: Rhythm) -> list[tuple[Place, RhythmNote]]:
    return [
        ((index, place), note)
        for index, measure in enumerate(rhythm.measures)
        for place, note in enumerate(measure)
    ]

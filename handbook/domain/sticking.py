"""Hands given to a rhythm: a sticking typed apart from the notes, laid on them in order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import cycle

from handbook.domain.rhythm import Rhythm, RhythmNote
from handbook.domain.rudiments import Stroke


def struck(rhythm: Rhythm) -> int:
    """Count the notes that are struck: rests are not, nor what a tie leads to."""
    return sum(hit for _, hit in _notes(rhythm))


def with_hands(rhythm: Rhythm, strokes: Sequence[Stroke]) -> Rhythm:
    """Lay strokes on the struck notes in order.

    A sticking shorter than the rhythm begins again, as a rudiment is practised; what is
    left over of a longer one is not used. A rhythm without strokes comes back as it was.
    """
    if not strokes:
        return rhythm
    hands = cycle(strokes)
    given = iter(replace(note, stroke=next(hands)) if hit else note for note, hit in _notes(rhythm))
    measures = tuple(tuple(next(given) for _ in measure) for measure in rhythm.measures)
    return replace(rhythm, measures=measures)


def _notes(rhythm: Rhythm) -> Iterator[tuple[RhythmNote, bool]]:
    """Give each note and whether it is struck."""
    tied = False
    for measure in rhythm.measures:
        for note in measure:
            yield note, not (note.rest or tied)
            tied = note.tied

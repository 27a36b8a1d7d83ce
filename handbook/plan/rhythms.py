"""Rhythms of pieces and exercises with their meter, hands and counts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from handbook.domain.counting import counts
from handbook.domain.rhythm import Rhythm
from handbook.domain.rudiments import Stroke, parse_sticking
from handbook.domain.sticking import with_hands
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS
from handbook.domain.tables.rudiments import Rudiment
from handbook.domain.values.meter import Meter
from handbook.plan.parts_model import PieceRhythm, RhythmRow
from handbook.schema.fundamentals import Strand
from handbook.schema.music import Piece, RhythmLine

USUAL_METER = Meter(4, 4)


def piece_rhythms(piece: Piece, counting: str) -> tuple[PieceRhythm, ...]:
    """Give a piece's rhythms in the order they are listed."""
    return tuple(
        PieceRhythm(
            line,
            _row(line.pattern, meter_of(line, piece), line.sticking, line.rudiment, counting),
        )
        for line in piece.rhythms
    )


def exercise_rhythms(strands: Sequence[Strand], counting: str) -> Mapping[str, RhythmRow]:
    """Map the ids of exercises that have a rhythm to it."""
    return {
        exercise.id: _row(
            exercise.rhythm,
            exercise.meter or USUAL_METER,
            exercise.sticking,
            exercise.rudiment,
            counting,
        )
        for exercise in (exercise for strand in strands for exercise in strand.exercises)
        if exercise.rhythm is not None
    }


def meter_of(line: RhythmLine, piece: Piece) -> Meter:
    """Give a rhythm's meter: its own, else that of the form where it comes, else the first."""
    if line.meter is not None:
        return line.meter
    for part in piece.form:
        if line.measures and part.measures.first <= line.measures.first <= part.measures.last:
            return part.meter
    return piece.form[0].meter


def hands_of(sticking: tuple[Stroke, ...] | None, rudiment: Rudiment | None) -> tuple[Stroke, ...]:
    """Give the hands stated apart from the notes: the sticking, else the rudiment's."""
    if sticking is not None:
        return sticking
    return parse_sticking(rudiment.sticking) if rudiment is not None else ()


def _row(
    rhythm: Rhythm,
    meter: Meter,
    sticking: tuple[Stroke, ...] | None,
    rudiment: Rudiment | None,
    counting: str,
) -> RhythmRow:
    laid = with_hands(rhythm, hands_of(sticking, rudiment))
    return RhythmRow(laid, meter, counts(laid, meter, COUNTING_SYSTEMS[counting]))

"""Joins and runs of a piece, worked by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from handbook.domain.season import MusicKind
from handbook.domain.stretches import PieceStretch, gaps, piece_stretches, stretch_minutes
from handbook.domain.values.measures import MeasureSpan

# two seconds a measure, then three: 16 + 48 = 64 seconds
FORM = ((MeasureSpan(1, 8), 16.0), (MeasureSpan(9, 24), 48.0))
SPANS = [span for span, _ in FORM]


def spans(*ends: tuple[int, int]) -> list[MeasureSpan]:
    return [MeasureSpan(first, last) for first, last in ends]


def test_gaps_are_the_measures_that_no_passage_names() -> None:
    assert gaps(SPANS, spans((3, 6), (9, 12), (20, 22))) == tuple(
        spans((1, 2), (7, 8), (13, 19), (23, 24))
    )
    assert gaps(SPANS, []) == tuple(spans((1, 24)))  # parts that follow each other are one gap
    assert gaps(SPANS, spans((1, 24))) == ()
    assert gaps(SPANS, spans((1, 10), (8, 24))) == ()  # passages may overlap
    assert gaps(spans((1, 4), (9, 12)), []) == tuple(spans((1, 4), (9, 12)))  # a hole in the form


def test_a_run_and_the_joins_of_neighbors_play_every_measure() -> None:
    """Passages in any order: neighbors by first measure, 3-6, 9-12, 20-22."""
    found = piece_stretches(FORM, spans((20, 22), (3, 6), (9, 12)))
    assert found == (
        PieceStretch(MusicKind.RUN, MeasureSpan(1, 24), (1, 2, 0), (0, 1, 2, 3), 64.0),
        # from the beginning of the piece: 8 x 2 + 4 x 3 seconds
        PieceStretch(MusicKind.JOIN, MeasureSpan(1, 12), (1, 2), (0, 1), 28.0),
        # to its end: 16 x 3
        PieceStretch(MusicKind.JOIN, MeasureSpan(9, 24), (2, 0), (2, 3), 48.0),
    )


def test_a_join_in_the_middle_goes_from_its_first_to_its_second_passage() -> None:
    """1-2, 5-8, 11-12, 20-24: the middle join is 5-12: 4 x 2 + 4 x 3 = 20 seconds, gap 9-10 only."""
    found = piece_stretches(FORM, spans((1, 2), (5, 8), (11, 12), (20, 24)))
    assert found[2] == PieceStretch(MusicKind.JOIN, MeasureSpan(5, 12), (1, 2), (1,), 20.0)
    assert [stretch.measures for stretch in found[1:]] == spans((1, 8), (5, 12), (11, 24))


def test_a_join_holds_what_lies_within_it() -> None:
    """12-14 lies within 9-16, its neighbor: their join plays 9-16, and holds no third."""
    found = piece_stretches(FORM, spans((1, 4), (9, 16), (12, 14), (20, 24)))
    assert (found[2].measures, found[2].passages) == (MeasureSpan(9, 16), (1, 2))


def test_one_passage_has_a_run_and_no_join() -> None:
    assert [stretch.kind for stretch in piece_stretches(FORM, spans((3, 6)))] == [MusicKind.RUN]
    assert piece_stretches(FORM, [])[0].gaps == (0,)


@pytest.mark.parametrize(
    ("seconds", "percent", "talk", "minutes"),
    [
        (192.0, 100, 25, 4),  # 192 x 1.25 = 240 seconds, exactly 4 minutes
        (192.1, 100, 25, 5),
        (100.0, 50, 25, 5),  # 200 at half the tempo, 250 with talk: 4.17
        (156.0, 65, 0, 4),  # 156 / 0.65 = 240
        (240.0000000001, 100, 0, 4),  # the dust of floats is not a minute
        (1.0, 100, 0, 1),
        (0.0, 100, 0, 1),
    ],
)
def test_minutes_of_a_stretch_are_rounded_up(
    seconds: float, percent: int, talk: int, minutes: int
) -> None:
    assert stretch_minutes(seconds, Fraction(percent), talk) == minutes

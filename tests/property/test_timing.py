"""Laws of durations: pieces add up, and a moving tempo lies between its ends."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.timing import FormPart, TempoModel, part_seconds, shown
from handbook.domain.values.tempo import BEAT_UNITS, Tempo
from tests.oracles.timing import piece_seconds

TEMPOS = st.builds(
    Tempo, st.sampled_from(list(BEAT_UNITS.values())), st.integers(10, 400).map(Fraction)
)
LENGTHS = st.fractions(Fraction(1, 4), 400, max_denominator=4)
SMOOTH = st.sampled_from([model for model in TempoModel if model is not TempoModel.STEPPED])


@given(LENGTHS, TEMPOS, TEMPOS, st.sampled_from(TempoModel))
def test_a_moving_tempo_lies_between_its_ends(
    length: Fraction, first: Tempo, last: Tempo, model: TempoModel
) -> None:
    both = [part_seconds(FormPart(length, tempo)) for tempo in (first, last)]
    moving = part_seconds(FormPart(length, first, last), model)
    assert min(both) <= moving * (1 + 1e-9)
    assert moving <= max(both) * (1 + 1e-9)


@given(LENGTHS, TEMPOS, TEMPOS, SMOOTH)
def test_a_ritardando_mirrors_its_accelerando(
    length: Fraction, first: Tempo, last: Tempo, model: TempoModel
) -> None:
    there = part_seconds(FormPart(length, first, last, model=model))
    assert there == pytest.approx(part_seconds(FormPart(length, last, first, model=model)))


@given(st.lists(st.tuples(LENGTHS, TEMPOS, st.integers(1, 4)), max_size=6))
def test_a_piece_is_the_sum_of_its_parts(rows: list[tuple[Fraction, Tempo, int]]) -> None:
    parts = [FormPart(length, tempo, times=times) for length, tempo, times in rows]
    unrolled = [FormPart(part.quarters, part.tempo) for part in parts for _ in range(part.times)]
    assert piece_seconds(parts) == pytest.approx(piece_seconds(unrolled))


@given(st.floats(0, 20_000))
def test_shown_is_a_multiple_of_five_and_close(seconds: float) -> None:
    assert shown(seconds) % 5 == 0
    assert abs(shown(seconds) - seconds) <= 2.500001

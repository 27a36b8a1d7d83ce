"""Laws of click times."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.timing import FormPart, part_seconds
from handbook.domain.values.meter import Meter, parse_meter
from handbook.domain.values.tempo import BEAT_UNITS, Tempo
from tests.oracles.click_grid import Stress, beat_at, click_grid, onset

speeds = st.integers(30, 240)
meters = st.sampled_from(
    [parse_meter(text) for text in ("2/4", "4/4", "6/8", "7/8 (2+2+3)", "5/8", "2/2", "12/8")]
)


@given(speeds, speeds, st.floats(0, 64))
def test_onset_and_its_inverse(start: int, end: int, beat: float) -> None:
    assert beat_at(onset(beat, 64, start, end), 64, start, end) == pytest.approx(beat, abs=1e-9)


@given(speeds, speeds)
def test_slowing_takes_as_long_as_the_mirrored_quickening(start: int, end: int) -> None:
    assert onset(16, 16, start, end) == pytest.approx(onset(16, 16, end, start))


@given(meters, st.integers(1, 8), speeds, speeds, st.integers(0, 2))
def test_clicks_climb_and_fill_the_time(
    meter: Meter, measures: int, start: int, end: int, count_in: int
) -> None:
    quarter = BEAT_UNITS["quarter"]
    grid = click_grid(
        meter,
        measures,
        Tempo(quarter, Fraction(start)),
        Tempo(quarter, Fraction(end)),
        division=Fraction(1, 2),
        count_in=count_in,
    )
    times = [click.seconds for click in grid.clicks]
    assert times[0] == 0
    assert all(one < two for one, two in itertools.pairwise(times))
    assert times[-1] < grid.end
    assert len(times) == (measures + count_in) * meter.quarters * 2
    bars = [click for click in grid.clicks if click.stress is Stress.MEASURE]
    assert [click.measure for click in bars] == list(range(1 - count_in, measures + 1))
    assert grid.start == next(c.seconds for c in bars if c.measure == 1)
    part = FormPart(
        measures * meter.quarters, Tempo(quarter, Fraction(start)), Tempo(quarter, Fraction(end))
    )
    assert grid.end - grid.start == pytest.approx(part_seconds(part))
    slower, quicker = sorted((start, end))
    lasting = grid.end - grid.start
    quarters = float(measures * meter.quarters)
    assert 60 * quarters / quicker <= lasting + 1e-9
    assert lasting <= 60 * quarters / slower + 1e-9

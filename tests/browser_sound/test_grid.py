"""Every click is where arithmetic puts it, within one sample, rendered by the page's own code.

Times come from the domain's reference grid (itself checked against closed forms and
music21) and, for the steady click, straight from 60 / bpm.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from playwright.sync_api import Page

from handbook.domain.tables.metronome import TRADITIONAL_MARKS
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import parse_tempo
from tests.browser_sound.rendering import START, Score, loudness, onsets, render, span, steady
from tests.oracles.click_grid import ClickGrid, Stress, click_grid

pytestmark = pytest.mark.browser
_LOUDER = (Stress.DIVISION, Stress.BEAT, Stress.MEASURE)


def assert_within_a_sample(
    page: Page, score: Score, grid: ClickGrid, seconds: float, rate: int = 44100
) -> None:
    samples = render(page, score, seconds, rate)
    found = onsets(samples, rate)
    expected = [(START + click.seconds) * rate for click in grid.clicks]
    expected = [place for place in expected if place < len(samples) - 2]
    assert len(found) == len(expected)
    assert np.abs(found - np.array(expected)).max() <= 1
    heights = [loudness(samples, onset, rate) for onset in found[:-1]]
    by_stress = [
        [h for h, click in zip(heights, grid.clicks, strict=False) if click.stress is stress]
        for stress in _LOUDER
    ]
    ranges = [(min(heard), max(heard)) for heard in by_stress if heard]
    for (_, softer), (louder, _) in pairwise(ranges):
        assert louder > 1.15 * softer


# All 39 settings, from 40 to 208.
@pytest.mark.parametrize("bpm", TRADITIONAL_MARKS)
@pytest.mark.parametrize("rate", [44100, 48000])
def test_every_traditional_mark(lab: Page, bpm: int, rate: int) -> None:
    tempo = parse_tempo(str(bpm))
    samples = render(lab, steady(parse_meter("4/4"), tempo), 9.0, rate)
    found = onsets(samples, rate)
    count = int((9.0 - START) * bpm / 60) + 1
    expected = (START + 60 * np.arange(count) / bpm) * rate
    expected = expected[expected < len(samples) - 2]
    assert len(found) == len(expected)
    assert np.abs(found - expected).max() <= 1


@pytest.mark.parametrize(
    ("meter", "tempo", "division"),
    [
        ("4/4", "quarter = 40", Fraction(1, 2)),
        ("4/4", "quarter = 63", Fraction(1, 3)),
        ("4/4", "quarter = 208", Fraction(1, 4)),
        ("3/4", "quarter = 132", None),
        ("3/4", "quarter = 144", Fraction(1, 2)),
        ("2/2", "half = 66", None),
        ("2/2", "half = 66", Fraction(1)),
        ("6/8", "dotted quarter = 72", None),
        ("6/8", "dotted quarter = 72", Fraction(1, 2)),
        ("6/8", "eighth = 120", Fraction(1, 2)),
        ("9/8", "dotted quarter = 92", Fraction(1, 2)),
        ("12/8", "dotted quarter = 58", Fraction(1, 4)),
        ("7/8 (2+2+3)", "quarter = 132", None),
        ("7/8 (3+2+2)", "quarter = 132", Fraction(1, 2)),
        ("7/8 (2+2+3)", "eighth = 240", Fraction(1, 2)),
        ("5/8 (2+3)", "quarter = 120", None),
        ("5/8 (3+2)", "quarter = 120", Fraction(1, 2)),
        ("5/8", "eighth = 176", None),
        ("8/8 (3+3+2)", "quarter = 100", None),
    ],
)
def test_meters_and_divisions(lab: Page, meter: str, tempo: str, division: Fraction | None) -> None:
    counted, mark = parse_meter(meter), parse_tempo(tempo)
    ticks = int(division * 48) if division else 0
    grid = click_grid(counted, 40, mark, division=division)
    assert_within_a_sample(lab, steady(counted, mark, division=ticks), grid, 8.0)


@pytest.mark.parametrize(("meter", "tempo"), [("4/4", "120"), ("6/8", "dotted quarter = 80")])
def test_count_in_is_one_measure_at_the_first_tempo(lab: Page, meter: str, tempo: str) -> None:
    counted, mark = parse_meter(meter), parse_tempo(tempo)
    grid = click_grid(counted, 40, mark, count_in=1)
    assert_within_a_sample(lab, steady(counted, mark, count_in=True), grid, 8.0)


def test_group_starts_stand_out(lab: Page) -> None:
    """5/4 in 3+2: the first loudest, the fourth next, the others alike (common practice)."""
    samples = render(lab, steady(parse_meter("5/4 (3+2)"), parse_tempo("120")), 5.5)
    heights = [loudness(samples, onset) for onset in onsets(samples)[:10]]
    one, two, three, four, five = heights[:5]
    assert heights[5:] == heights[:5]
    assert two == three == five
    assert one > 1.15 * four > 1.15 * 1.15 * two


def test_half_notes_in_four_click_what_the_mark_counts(lab: Page) -> None:
    """Half = 60 in 4/4 is one click a second, two to a measure."""
    samples = render(lab, steady(parse_meter("4/4"), parse_tempo("half = 60")), 4.5)
    found = onsets(samples)
    assert found.tolist() == pytest.approx([(START + n) * 44100 for n in range(5)], abs=1)
    heights = [loudness(samples, onset) for onset in found[:4]]
    assert heights[0] == heights[2] > 1.15 * heights[1]
    assert heights[1] == heights[3]


def test_changing_meters_follow_the_measures_and_begin_again(lab: Page) -> None:
    """Two measures of 4/4 and one of 3/4 at 120: 11 beats of half a second, then again."""
    tempo = parse_tempo("120")
    score = Score(
        (
            span(parse_meter("4/4"), 2, tempo, 120, 120),
            span(parse_meter("3/4"), 1, tempo, 120, 120),
        )
    )
    samples = render(lab, score, 11.2)
    found = onsets(samples)
    assert found.tolist() == pytest.approx(
        [(START + n / 2) * 44100 for n in range(len(found))], abs=1
    )
    heights = [loudness(samples, onset) for onset in found]
    strong = [n for n, height in enumerate(heights) if height > 0.9 * max(heights)]
    assert strong == [0, 4, 8, 11, 15, 19, 22]


@pytest.mark.parametrize("again", [False, True])
def test_two_renders_are_identical(lab: Page, again: bool) -> None:
    tempo = parse_tempo("quarter = 97")
    spans = (span(parse_meter("4/4"), 2, tempo, 97, 131, "linear in beats"),)
    score = Score(spans, 12, count_in=True, again=again)
    assert render(lab, score, 10.0).tobytes() == render(lab, score, 10.0).tobytes()

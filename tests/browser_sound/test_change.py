"""A moving tempo, against the closed forms of each model and against summing small steps.

Over n beats from a to b beats a minute: linear in beats 60 n ln(b/a) / (b - a); linear in
time 120 n / (a + b); exponential in beats 60 n (1/a - 1/b) / ln(b/a); stepped, the sum of
60 / (tempo at each beat's start).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

import numpy as np
import pytest
from playwright.sync_api import Page

from handbook.domain.timing import FormPart, TempoModel, part_seconds
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import Tempo, parse_tempo
from tests.browser_sound.rendering import START, Score, onsets, render, span
from tests.oracles.click_grid import click_grid

pytestmark = pytest.mark.browser
_RATE = 44100
_FOUR, _QUARTER = parse_meter("4/4"), parse_tempo("quarter = 60")


def change(measures: int, begins: float, ends: float, model: str, **options: object) -> Score:
    spans = (span(_FOUR, measures, _QUARTER, begins, ends, model),)
    return Score(spans, **options)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("measures", "begins", "ends", "model", "seconds"),
    [
        (4, 60, 120, "linear in beats", 11.0904),
        (4, 60, 120, "linear in time", 10.6667),
        (4, 60, 120, "exponential in beats", 11.5416),
        (4, 60, 120, "stepped", 11.3443),
        (8, 100, 140, "linear in beats", 16.1507),
        (8, 100, 140, "linear in time", 16.0000),
        (8, 100, 140, "exponential in beats", 16.3036),
        (8, 100, 140, "stepped", 16.2367),
        (4, 80, 80, "linear in beats", 12.0),
        (4, 120, 60, "linear in beats", 11.0904),
        (4, 120, 60, "exponential in beats", 11.5416),
    ],
)
def test_whole_change(
    lab: Page, measures: int, begins: float, ends: float, model: str, seconds: float
) -> None:
    """The first click of the next turn comes when the change is over."""
    found = onsets(render(lab, change(measures, begins, ends, model), seconds + 0.4), _RATE)
    assert found[4 * measures] / _RATE - START == pytest.approx(seconds, abs=5e-5 + 1 / _RATE)


_TEMPO_AT: dict[str, Callable[[float, float, float], float]] = {
    "linear in beats": lambda share, a, b: a + (b - a) * share,
    "linear in time": lambda share, a, b: math.sqrt(a * a + (b * b - a * a) * share),
    "exponential in beats": lambda share, a, b: a * (b / a) ** share,
    "stepped": lambda share, a, b: a + (b - a) * math.floor(share * 16 + 1e-9) / 16,
}


@pytest.mark.parametrize("model", list(_TEMPO_AT))
@pytest.mark.parametrize(("begins", "ends"), [(60, 120), (138, 66)])
def test_each_beat_by_summing_small_steps(
    lab: Page, model: str, begins: float, ends: float
) -> None:
    steps = 4000
    middles = (np.arange(16 * steps) + 0.5) / (16 * steps)
    tempos = np.array([_TEMPO_AT[model](float(middle), begins, ends) for middle in middles])
    summed = np.concatenate(([0.0], np.cumsum(60 / tempos / steps)))[::steps]
    found = onsets(render(lab, change(4, begins, ends, model), 13.0), _RATE)[:17]
    assert found / _RATE - START == pytest.approx(summed, abs=1e-6 + 1 / _RATE)


@pytest.mark.parametrize("division", [0, 24, 16])
def test_agrees_with_the_reference_grid(lab: Page, division: int) -> None:
    """With its count-in at the first tempo, beats divided too."""
    grid = click_grid(
        _FOUR,
        4,
        parse_tempo("72"),
        parse_tempo("108"),
        division=Fraction(division, 48) if division else None,
        count_in=1,
    )
    score = change(4, 72, 108, "linear in beats", division=division, count_in=True)
    samples = render(lab, score, grid.end + START)
    expected = [(START + click.seconds) * _RATE for click in grid.clicks]
    assert onsets(samples, _RATE)[: len(expected)].tolist() == pytest.approx(expected, abs=1)


def test_a_dotted_mark_moves_in_its_own_beats(lab: Page) -> None:
    six, mark = parse_meter("6/8"), parse_tempo("dotted quarter = 72")
    score = Score((span(six, 8, mark, 72, 80, "linear in beats"),), 24)
    grid = click_grid(six, 8, mark, mark.at(80), division=Fraction(1, 2))
    expected = [(START + click.seconds) * _RATE for click in grid.clicks]
    samples = render(lab, score, grid.end)
    assert onsets(samples, _RATE)[: len(expected)].tolist() == pytest.approx(expected, abs=1)


def test_every_turn_is_counted_in_when_it_moves(lab: Page) -> None:
    """Four beats at 120 (2 s), eight from 120 to 180, and so again."""
    score = change(2, 120, 180, "linear in beats", count_in=True, again=True)
    turn = 2 + 60 * 8 * math.log(180 / 120) / (180 - 120)
    found = onsets(render(lab, score, 2 * turn + 1), _RATE) / _RATE - START
    assert found[[0, 4, 12, 16, 24]] == pytest.approx(
        [0, 2, turn, turn + 2, 2 * turn], abs=1 / _RATE
    )


@pytest.mark.parametrize("model", list(TempoModel))
def test_total_agrees_with_the_timing_of_the_form(lab: Page, model: TempoModel) -> None:
    tempo_to = Tempo(_QUARTER.beat, Fraction(132))
    part = FormPart(Fraction(32), parse_tempo("88"), tempo_to, model=model)
    seconds = part_seconds(part)
    found = onsets(render(lab, change(8, 88, 132, str(model)), seconds + 0.4), _RATE)
    assert found[32] / _RATE - START == pytest.approx(seconds, abs=1 / _RATE)

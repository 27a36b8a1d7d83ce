"""Click times, against the closed forms of a linear tempo change and music21 10.5.1."""

from __future__ import annotations

import importlib
from fractions import Fraction
from typing import Any

import pytest

from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import parse_tempo
from tests.oracles.click_grid import DivisionError, Stress, beat_at, click_grid, onset

m21: Any = importlib.import_module("music21")  # its own hints are partial


# 60 n ln(b/a) / (b - a), and 60 n / a where a = b.
@pytest.mark.parametrize(
    ("beats", "start", "end", "seconds"),
    [(16, 60, 120, 11.0904), (32, 100, 140, 16.1507), (16, 80, 80, 12.0), (16, 120, 60, 11.0904)],
)
def test_whole_change_takes_the_closed_form(
    beats: int, start: float, end: float, seconds: float
) -> None:
    assert onset(beats, beats, start, end) == pytest.approx(seconds, abs=5e-5)


# The same model summed in ten thousand steps a beat, each at the tempo of its middle.
@pytest.mark.parametrize(("start", "end"), [(60, 120), (140, 100), (96, 96), (100, 100.001)])
@pytest.mark.parametrize("beat", [1, 5, 16])
def test_beat_within_a_change_by_summing_small_steps(beat: int, start: float, end: float) -> None:
    steps = 10_000
    middles = ((index + 0.5) / steps for index in range(beat * steps))
    summed = sum(60 / (start + (end - start) * middle / 16) for middle in middles) / steps
    assert onset(beat, 16, start, end) == pytest.approx(summed, abs=1e-6)


# ms = 60000 / bpm.
@pytest.mark.parametrize(
    ("bpm", "milliseconds"),
    [
        (40, 1500),
        (60, 1000),
        (63, 952.38),
        (66, 909.09),
        (72, 833.33),
        (76, 789.47),
        (80, 750),
        (92, 652.17),
        (100, 600),
        (120, 500),
        (132, 454.55),
        (144, 416.67),
        (160, 375),
        (208, 288.46),
    ],
)
def test_steady_click(bpm: int, milliseconds: float) -> None:
    grid = click_grid(parse_meter("4/4"), 2, parse_tempo(str(bpm)))
    gaps = [grid.clicks[i + 1].seconds - grid.clicks[i].seconds for i in range(7)]
    assert gaps == pytest.approx([milliseconds / 1000] * 7, abs=5e-6)


# seconds = measures x beats x 60 / bpm, where the beat is the note named in the mark.
@pytest.mark.parametrize(
    ("measures", "meter", "tempo", "seconds"),
    [
        (32, "4/4", "quarter = 120", 64),
        (16, "6/8", "dotted quarter = 80", 24),
        (16, "6/8", "eighth = 120", 48),
        (24, "3/4", "quarter = 144", 30),
        (64, "2/2", "half = 66", 116.364),
        (16, "7/8 (2+2+3)", "eighth = 240", 28),
        (16, "7/8", "eighth = 240", 28),
    ],
)
def test_length_of_a_passage(measures: int, meter: str, tempo: str, seconds: float) -> None:
    grid = click_grid(parse_meter(meter), measures, parse_tempo(tempo))
    assert grid.end == pytest.approx(seconds, abs=0.0005)


def test_dotted_beat_agrees_with_music21() -> None:
    mark = m21.tempo.MetronomeMark(number=80, referent=m21.duration.Duration(1.5))
    assert mark.getQuarterBPM() == 120
    grid = click_grid(parse_meter("6/8"), 1, parse_tempo("dotted quarter = 80"))
    assert grid.end == pytest.approx(mark.durationToSeconds(3.0)) == 1.5
    assert [click.seconds for click in grid.clicks] == pytest.approx([0, 0.75])


def test_eighths_and_stress() -> None:
    grid = click_grid(parse_meter("2/4"), 1, parse_tempo("60"), division=Fraction(1, 2))
    assert [(c.seconds, c.beat, c.division, c.stress) for c in grid.clicks] == [
        (0.0, 1, 0, Stress.MEASURE),
        (0.5, 1, 1, Stress.DIVISION),
        (1.0, 2, 0, Stress.BEAT),
        (1.5, 2, 1, Stress.DIVISION),
    ]


@pytest.mark.parametrize(
    ("meter", "division", "onsets"),
    [
        ("6/8", None, [0, 0.75]),
        ("6/8", Fraction(1, 2), [0, 0.25, 0.5, 0.75, 1.0, 1.25]),
        ("7/8 (2+2+3)", None, [0, 0.5, 1.0]),
        ("7/8 (3+2+2)", None, [0, 0.75, 1.25]),
        ("7/8 (2+2+3)", Fraction(1, 2), [0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5]),
        ("3/4", Fraction(1, 3), [index / 6 for index in range(9)]),
    ],
)
def test_places_within_a_measure(
    meter: str, division: Fraction | None, onsets: list[float]
) -> None:
    grid = click_grid(parse_meter(meter), 1, parse_tempo("quarter = 120"), division=division)
    assert [click.seconds for click in grid.clicks] == pytest.approx(onsets)


def test_count_in_is_at_the_first_tempo() -> None:
    grid = click_grid(parse_meter("4/4"), 4, parse_tempo("60"), parse_tempo("120"), count_in=1)
    assert [c.seconds for c in grid.clicks[:5]] == pytest.approx([0, 1, 2, 3, 4])
    assert [c.measure for c in grid.clicks[:8]] == [0, 0, 0, 0, 1, 1, 1, 1]
    assert grid.start == 4
    assert grid.end - grid.start == pytest.approx(11.0904, abs=5e-5)
    assert grid.clicks[5].seconds - 4 == pytest.approx(onset(1, 16, 60, 120))


def test_change_to_a_mark_of_another_beat() -> None:
    """Half = 60 is as fast as quarter = 120."""
    four, slow = parse_meter("4/4"), parse_tempo("60")
    grid = click_grid(four, 4, slow, parse_tempo("half = 60"))
    assert grid == click_grid(four, 4, slow, parse_tempo("120"))


@pytest.mark.parametrize(("start", "end"), [(60, 120), (120, 60), (80, 80)])
@pytest.mark.parametrize("beat", [0, 1, 7.5, 16])
def test_beat_that_sounds_at_a_time(beat: float, start: float, end: float) -> None:
    assert beat_at(onset(beat, 16, start, end), 16, start, end) == pytest.approx(beat)


def test_division_must_fit_the_beat() -> None:
    for meter, division in (("4/4", Fraction(3, 4)), ("6/8", Fraction(1)), ("4/4", Fraction(2))):
        with pytest.raises(DivisionError, match="does not divide"):
            click_grid(parse_meter(meter), 1, parse_tempo("60"), division=division)


def test_what_is_no_click_is_our_own_bug() -> None:
    four, slow = parse_meter("4/4"), parse_tempo("60")
    with pytest.raises(ValueError, match="at least one measure"):
        click_grid(four, 0, slow)
    with pytest.raises(ValueError, match="outside the 16"):
        onset(17, 16, 60, 120)
    with pytest.raises(ValueError, match="tempos above zero"):
        onset(1, 16, 0, 120)
    with pytest.raises(ValueError, match="before the change"):
        beat_at(-1, 16, 60, 120)

"""Durations: seconds = beats * 60 / bpm, and the integrals of a moving tempo, worked by hand."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from handbook.domain.timing import (
    FormPart,
    TempoModel,
    format_duration,
    part_seconds,
    shown,
    span_quarters,
)
from handbook.domain.values.measures import parse_measures
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import parse_tempo
from tests.oracles.timing import piece_seconds, program_seconds


def part(measures: str, meter: str, tempo: str, tempo_to: str | None = None) -> FormPart:
    quarters = span_quarters(parse_measures(measures), parse_meter(meter))
    return FormPart(quarters, parse_tempo(tempo), parse_tempo(tempo_to) if tempo_to else None)


@pytest.mark.parametrize(
    ("measures", "meter", "tempo", "seconds"),
    [
        # measures * beats * 60 / bpm
        ("1-32", "4/4", "quarter = 120", 64),
        ("1-16", "6/8", "dotted quarter = 80", 24),
        ("1-16", "6/8", "eighth = 120", 48),
        ("1-24", "3/4", "quarter = 144", 30),
        ("1-64", "2/2", "half = 66", Fraction(128 * 60, 66)),  # 116.364
        ("1-16", "7/8", "eighth = 240", 28),
        ("17", "4/4", "quarter = 60", 4),
    ],
)
def test_a_steady_part_lasts_its_beats(
    measures: str, meter: str, tempo: str, seconds: Fraction
) -> None:
    assert part_seconds(part(measures, meter, tempo)) == pytest.approx(float(seconds))


# Closed forms of the integral of 60 / tempo over the beats, to four places.
ACCELERANDOS = [
    (TempoModel.LINEAR_IN_BEATS, 11.0904, 16.1507),
    (TempoModel.LINEAR_IN_TIME, 10.6667, 16.0000),
    (TempoModel.EXPONENTIAL_IN_BEATS, 11.5416, 16.3036),
    (TempoModel.STEPPED, 11.3443, 16.2367),
]


@pytest.mark.parametrize(("model", "doubling", "by_two_fifths"), ACCELERANDOS)
def test_an_accelerando_lasts_by_its_model(
    model: TempoModel, doubling: float, by_two_fifths: float
) -> None:
    assert round(part_seconds(part("1-4", "4/4", "60", "120"), model), 4) == doubling
    assert round(part_seconds(part("1-8", "4/4", "100", "140"), model), 4) == by_two_fifths


@pytest.mark.parametrize("model", TempoModel)
def test_the_integral_agrees_with_small_steps(model: TempoModel) -> None:
    """Add up 20,000 slices of each tempo curve by the midpoint rule."""
    beats, first, last, slices = 16, 60.0, 120.0, 20_000
    curves: dict[TempoModel, Callable[[float], float]] = {
        TempoModel.LINEAR_IN_BEATS: lambda x: first + (last - first) * x,
        # v(t) = a + ct gives v**2 = a**2 + 2c * beats
        TempoModel.LINEAR_IN_TIME: lambda x: (first**2 + (last**2 - first**2) * x) ** 0.5,
        TempoModel.EXPONENTIAL_IN_BEATS: lambda x: first * (last / first) ** x,
        TempoModel.STEPPED: lambda x: first + (last - first) * int(x * beats) / beats,
    }
    summed = sum(
        60 * beats / slices / curves[model]((place + 0.5) / slices) for place in range(slices)
    )
    assert part_seconds(part("1-4", "4/4", "60", "120"), model) == pytest.approx(summed, rel=1e-6)


@pytest.mark.parametrize("model", TempoModel)
def test_equal_marks_are_a_steady_tempo(model: TempoModel) -> None:
    assert part_seconds(part("1-4", "4/4", "80", "80"), model) == 12
    assert part_seconds(part("1-4", "4/4", "quarter = 80", "half = 40"), model) == 12
    assert part_seconds(part("1-4", "4/4", "80", "80.001"), model) == pytest.approx(12, abs=1e-3)


def test_marks_of_unlike_beats_are_compared() -> None:
    """A dotted quarter at 80 is 120 quarters a minute."""
    moved = part_seconds(part("1-4", "4/4", "quarter = 60", "dotted quarter = 80"))
    assert moved == part_seconds(part("1-4", "4/4", "60", "120"))


def test_a_part_of_a_beat_is_stepped_for_its_fraction() -> None:
    halfway = FormPart(
        Fraction(5, 2), parse_tempo("60"), parse_tempo("110"), model=TempoModel.STEPPED
    )
    assert part_seconds(halfway) == pytest.approx(60 / 60 + 60 / 80 + 30 / 100)


def test_repeats_play_the_fermatas_again() -> None:
    repeated = FormPart(Fraction(64), parse_tempo("120"), times=2, held=Fraction(5, 2))
    assert part_seconds(repeated) == 2 * (32 + 2.5)


def test_a_piece_is_the_sum_of_its_parts_each_by_its_own_model() -> None:
    steady = part("1-32", "4/4", "120")
    moving = FormPart(
        Fraction(16), parse_tempo("60"), parse_tempo("120"), model=TempoModel.LINEAR_IN_TIME
    )
    assert piece_seconds([steady, moving]) == pytest.approx(64 + 32 / 3)
    assert piece_seconds([]) == 0


def test_a_program_is_pieces_and_all_between() -> None:
    total = program_seconds([64.4, 128.3], gaps=[Fraction(15)], changeovers=[240], remarks=[90, 30])
    assert total == pytest.approx(567.7)


def test_nothing_is_rounded_before_the_sum() -> None:
    """Three pieces of 62.4 s are 187.2 s, shown 185; rounded first they would be 180."""
    assert shown(program_seconds([62.4] * 3)) == 185
    assert sum(shown(seconds) for seconds in [62.4] * 3) == 180


@pytest.mark.parametrize(
    ("seconds", "nearest"),
    [
        (0, 0),
        (2.4, 0),
        (2.5, 5),
        (7.5, 10),
        (62.49, 60),
        (62.5, 65),
        (62.4999999999, 65),
        (202.6, 205),
        (3598, 3600),
    ],
)
def test_seconds_are_shown_to_the_nearest_five_half_up(seconds: float, nearest: int) -> None:
    assert shown(seconds) == nearest


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        # To the nearest 5 seconds, but a few are counted one by one and never told as none.
        (0, "0 s"),
        (0.2, "1 s"),
        (1.9, "2 s"),
        (9.4, "9 s"),
        (10, "10 s"),
        (12.4, "10 s"),
        (12.5, "15 s"),
        (205.1, "3 min 25 s"),
    ],
)
def test_a_duration_is_told_as_exactly_as_anyone_can_use(seconds: float, words: str) -> None:
    assert format_duration(seconds) == words
    assert format_duration(seconds, about=True) == f"about {words}"

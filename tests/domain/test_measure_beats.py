"""Beats of a measure, against music21 10.5.1."""

from __future__ import annotations

import importlib
import itertools
from fractions import Fraction
from typing import Any

import pytest

from handbook.domain.measure_beats import measure_beats
from handbook.domain.values.meter import parse_meter

m21: Any = importlib.import_module("music21")  # its own hints are partial


@pytest.mark.parametrize(
    ("meter", "count", "length"),
    [
        ("4/4", 4, "1"),
        ("3/4", 3, "1"),
        ("2/4", 2, "1"),
        ("6/8", 2, "3/2"),
        ("9/8", 3, "3/2"),
        ("12/8", 4, "3/2"),
        ("2/2", 2, "2"),
        ("6/4", 2, "3"),
        ("3/8", 1, "3/2"),
        ("5/8", 5, "1/2"),  # plain eighths until the grouping is given
        ("7/8", 7, "1/2"),
        ("5/4", 5, "1"),
    ],
)
def test_beats_agree_with_music21(meter: str, count: int, length: str) -> None:
    beats = measure_beats(parse_meter(meter))
    assert [beat.length for beat in beats] == [Fraction(length)] * count
    oracle = m21.meter.TimeSignature(meter)
    assert (oracle.beatCount, Fraction(oracle.beatDuration.quarterLength)) == (
        count,
        Fraction(length),
    )


# Common practice, no source.
@pytest.mark.parametrize(
    ("meter", "lengths", "parts"),
    [
        ("7/8 (2+2+3)", "1 1 3/2", (2, 2, 3)),
        ("7/8 (3+2+2)", "3/2 1 1", (3, 2, 2)),
        ("5/8 (3+2)", "3/2 1", (3, 2)),
        ("8/8 (3+3+2)", "3/2 3/2 1", (3, 3, 2)),
        ("7/8 (4+3)", "1 1 3/2", (2, 2, 3)),
        ("6/8 (3+3)", "3/2 3/2", (3, 3)),
        ("5/4 (3+2)", "1 1 1 1 1", (2, 2, 2, 2, 2)),  # quarters are beats, groups are accents
        ("6/8", "3/2 3/2", (3, 3)),
        ("3/4", "1 1 1", (2, 2, 2)),
        ("5/16 (2+3)", "1/2 3/4", (2, 3)),
    ],
)
def test_groups_of_irregular_meters(meter: str, lengths: str, parts: tuple[int, ...]) -> None:
    beats = measure_beats(parse_meter(meter))
    assert [beat.length for beat in beats] == [Fraction(length) for length in lengths.split()]
    assert tuple(beat.parts for beat in beats) == parts
    assert [beat.number for beat in beats] == list(range(1, len(beats) + 1))


def test_slow_six_eight_is_counted_in_six() -> None:
    beats = measure_beats(parse_meter("6/8"), every_unit=True)
    assert [(beat.number, beat.length) for beat in beats] == [
        (number, Fraction(1, 2)) for number in range(1, 7)
    ]


@pytest.mark.parametrize("meter", ["4/4", "6/8", "7/8 (2+2+3)", "5/8", "2/2", "9/8", "13/16"])
@pytest.mark.parametrize("every_unit", [True, False])
def test_beats_fill_the_measure(meter: str, every_unit: bool) -> None:
    found = parse_meter(meter)
    beats = measure_beats(found, every_unit=every_unit)
    assert beats[-1].end == found.quarters
    assert all(one.end == two.start for one, two in itertools.pairwise(beats))

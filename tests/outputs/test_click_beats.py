"""What a click sounds in each meter, as a musician would set a metronome.

Common practice, no source: the beats of music21 10.5.1 for plain and compound meters
(6/8 two of a dotted quarter, 2/2 two halves, 3/8 one), groups as written for irregular ones,
and in every case the note that the mark names.
"""

from __future__ import annotations

import importlib
from fractions import Fraction
from typing import Any

import pytest

from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import parse_tempo
from handbook.outputs.components.click_beats import divisions, groupings, layout, ticks

m21: Any = importlib.import_module("music21")  # its own hints are partial
QUARTER, EIGHTH = 48, 24


def lengths(meter: str, mark: str) -> list[int]:
    return [length for length, _ in layout(parse_meter(meter), parse_tempo(mark).beat)]


def stresses(meter: str, mark: str) -> list[int]:
    return [stress for _, stress in layout(parse_meter(meter), parse_tempo(mark).beat)]


@pytest.mark.parametrize("meter", ["4/4", "3/4", "2/4", "2/2", "6/8", "9/8", "12/8", "3/8", "6/4"])
def test_beats_agree_with_music21(meter: str) -> None:
    signature = m21.meter.TimeSignature(meter)
    beat = parse_meter(meter).beat
    found = [length for length, _ in layout(parse_meter(meter), beat)]
    expected = int(signature.beatDuration.quarterLength * QUARTER)
    assert found == [expected] * signature.beatCount


@pytest.mark.parametrize(
    ("meter", "mark", "clicks"),
    [
        ("4/4", "half = 60", [96, 96]),
        ("4/4", "whole = 30", [192]),
        ("3/4", "dotted half = 58", [144]),
        ("6/8", "dotted half = 40", [144]),
        ("3/4", "half = 60", [48, 48, 48]),  # halves do not fill three
        ("2/2", "quarter = 132", [96, 96]),
        ("7/8 (2+2+3)", "quarter = 132", [48, 48, 72]),
        ("7/8 (2+2+3)", "eighth = 240", [48, 48, 72]),
        ("7/8", "eighth = 240", [24] * 7),
        ("5/8 (3+2)", "quarter = 132", [72, 48]),
        ("5/4 (3+2)", "quarter = 120", [48] * 5),
        ("8/8 (3+3+2)", "quarter = 120", [72, 72, 48]),
    ],
)
def test_clicks_follow_mark_and_meter(meter: str, mark: str, clicks: list[int]) -> None:
    assert lengths(meter, mark) == clicks
    assert sum(clicks) == parse_meter(meter).quarters * QUARTER


@pytest.mark.parametrize(
    ("meter", "mark", "expected"),
    [
        ("4/4", "quarter = 96", [3, 1, 1, 1]),
        ("6/8", "dotted quarter = 72", [3, 1]),
        ("7/8 (2+2+3)", "quarter = 132", [3, 2, 2]),
        ("5/4 (3+2)", "quarter = 120", [3, 1, 1, 2, 1]),
        ("5/4", "quarter = 120", [3, 1, 1, 1, 1]),
        ("3/4", "dotted half = 60", [3]),
    ],
)
def test_accents(meter: str, mark: str, expected: list[int]) -> None:
    """The first of the measure, then the starts of uneven groups."""
    assert stresses(meter, mark) == expected


@pytest.mark.parametrize(
    ("meter", "mark", "names", "counted"),
    [
        ("4/4", "quarter = 96", ["eighths", "triplets", "sixteenths"], 0),
        ("6/8", "dotted quarter = 72", ["eighths", "sixteenths"], 0),
        ("6/8", "eighth = 120", ["eighths", "sixteenths"], EIGHTH),
        ("2/2", "half = 66", ["quarters", "triplets", "eighths"], 0),
        ("2/2", "quarter = 132", ["quarters", "triplets", "eighths"], QUARTER),
        ("4/4", "half = 60", ["quarters", "eighths", "triplets", "sixteenths"], 0),
        ("3/4", "dotted half = 60", ["quarters", "eighths", "triplets", "sixteenths"], 0),
        ("7/8 (2+2+3)", "quarter = 132", ["eighths", "sixteenths"], 0),
        ("7/8 (2+2+3)", "eighth = 240", ["eighths", "sixteenths"], EIGHTH),
        ("4/16", "sixteenth = 120", ["thirty-seconds", "triplets", "sixty-fourths"], 0),
    ],
)
def test_divisions(meter: str, mark: str, names: list[str], counted: int) -> None:
    found = divisions([parse_meter(meter)], parse_tempo(mark).beat)
    rows = found["divisions"]
    assert isinstance(rows, list)
    assert [name for name, _ in rows] == names
    assert found["first"] == counted
    clicks = lengths(meter, mark)
    assert all(length % part == 0 for length in clicks for _, part in rows)


def test_changing_meters_share_what_divides_them_all() -> None:
    beat = parse_tempo("quarter = 120").beat
    found = divisions([parse_meter("4/4"), parse_meter("7/8 (2+2+3)")], beat)
    assert found["divisions"] == [["eighths", 24], ["sixteenths", 12]]


@pytest.mark.parametrize(
    ("meter", "offered"),
    [
        ("7/8", ["7/8 (2+2+3)", "7/8 (2+3+2)", "7/8 (3+2+2)"]),
        ("5/4", ["5/4 (2+3)", "5/4 (3+2)"]),
        ("7/8 (2+2+3)", []),
        ("4/4", []),
        ("6/8", []),
        ("11/8", []),
    ],
)
def test_open_groupings(meter: str, offered: list[str]) -> None:
    assert [str(one) for one in groupings(parse_meter(meter))] == offered


def test_ticks_are_whole_or_refused() -> None:
    assert ticks(Fraction(3, 2)) == 72
    with pytest.raises(ValueError, match="no whole number"):
        ticks(Fraction(1, 7))

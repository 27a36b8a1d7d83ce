"""Meters: counts and beats against music21 10.5.1 and common practice."""

from __future__ import annotations

from fractions import Fraction

import pytest
from music21 import meter as oracle

from handbook.domain.values.meter import Meter, parse_meter
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("4/4", Meter(4, 4)),
        ("C", Meter(4, 4)),
        ("cut", Meter(2, 2)),
        ("6 / 8", Meter(6, 8)),
        ("7/8", Meter(7, 8)),
        ("7/8 (2+2+3)", Meter(7, 8, (2, 2, 3))),
        ("7/8(3+2+2)", Meter(7, 8, (3, 2, 2))),
        ("2+2+3/8", Meter(7, 8, (2, 2, 3))),
        ("(3 + 2)/4", Meter(5, 4, (3, 2))),
        ("12/16", Meter(12, 16)),
    ],
)
def test_a_meter_is_read(text: str, expected: Meter) -> None:
    assert parse_meter(text) == expected


@pytest.mark.parametrize("text", ["4/4", "6/8", "7/8 (2+2+3)", "8/8 (3+3+2)"])
def test_a_meter_is_written_as_it_is_read(text: str) -> None:
    assert str(parse_meter(text)) == text


@pytest.mark.parametrize(
    ("text", "says", "suggestions"),
    [
        ("7/8 (2+2+2)", "is 6, not 7", ()),
        ("4/4 (3+3+2)", "3\\+3\\+2 is 8, not 4", ("8/8 (3+3+2)",)),
        ("4/5", "1/5", ("4/4", "6/8", "7/8 (2+2+3)")),
        ("0/4", "outside 1 to 64", ("4/4", "6/8", "7/8 (2+2+3)")),
        ("7/8 (0+7)", "at least one note", ("4/4", "6/8", "7/8 (2+2+3)")),
        ("four four", "no meter", ("4/4", "6/8", "7/8 (2+2+3)")),
        ("4", "no meter", ("4/4", "6/8", "7/8 (2+2+3)")),
    ],
)
def test_an_unreadable_meter_is_refused(text: str, says: str, suggestions: tuple[str, ...]) -> None:
    with pytest.raises(UnreadableError, match=says) as refused:
        parse_meter(text)
    assert refused.value.suggestions == suggestions


# music21 10.5.1, meter.TimeSignature: beatCount, beatDuration and barDuration.
ORACLE_METERS = [
    "2/4",
    "3/4",
    "4/4",
    "5/4",
    "6/4",
    "9/4",
    "2/2",
    "3/2",
    "4/2",
    "6/2",
    "3/8",
    "4/8",
    "5/8",
    "6/8",
    "7/8",
    "9/8",
    "12/8",
    "15/8",
    "3/16",
    "6/16",
    "9/16",
    "12/16",
]


@pytest.mark.parametrize("text", ORACLE_METERS)
def test_beats_agree_with_music21(text: str) -> None:
    ours, theirs = parse_meter(text), oracle.TimeSignature(text)
    assert ours.quarters == Fraction(theirs.barDuration.quarterLength)
    if text not in {"5/4", "5/8", "7/8"}:  # irregular: see the next test
        assert (ours.quarters, ours.beat.quarters) == (
            theirs.beatCount * ours.beat.quarters,
            theirs.beatDuration.quarterLength,
        )


@pytest.mark.parametrize(
    ("text", "beats", "beat"),
    [
        # 6/8, 9/8, 12/8 in dotted quarters; irregular meters in their own note: common practice, no source.
        ("6/8", 2, "dotted quarter"),
        ("9/8", 3, "dotted quarter"),
        ("12/8", 4, "dotted quarter"),
        ("3/8", 1, "dotted quarter"),
        ("3/4", 3, "quarter"),
        ("2/2", 2, "half"),
        ("6/4", 2, "dotted half"),
        ("5/4", 5, "quarter"),
        ("5/8", 5, "eighth"),
        ("7/8 (2+2+3)", 7, "eighth"),
        ("9/8 (2+2+2+3)", 9, "eighth"),  # a grouping that is not in threes is not compound
        ("6/8 (3+3)", 2, "dotted quarter"),
        ("8/8 (3+3+2)", 8, "eighth"),
    ],
)
def test_the_beat_is_the_trades(text: str, beats: int, beat: str) -> None:
    meter = parse_meter(text)
    assert (meter.quarters, meter.beat.name) == (beats * meter.beat.quarters, beat)


@pytest.mark.parametrize(
    ("text", "irregular"),
    [
        ("5/8", True),
        ("7/8", True),
        ("5/4", True),
        ("9/8", False),
        ("3/8", False),
        ("8/8 (3+3+2)", True),
        ("6/8 (3+3)", False),
    ],
)
def test_irregular_meters_are_told(text: str, irregular: bool) -> None:
    assert parse_meter(text).irregular is irregular


@pytest.mark.parametrize(
    ("top", "unit", "groups"),
    [(4, 3, ()), (0, 4, ()), (65, 4, ()), (7, 8, (2, 2)), (2, 4, (3, -1))],
)
def test_an_impossible_meter_cannot_be_made(top: int, unit: int, groups: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match=str(top)):
        Meter(top, unit, groups)

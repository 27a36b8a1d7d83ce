"""Counting aloud: common practice, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from handbook.domain.counting import CountKind, count_line, counts
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS, DEFAULT_COUNTING
from handbook.domain.values.meter import parse_meter


def said(text: str, meter: str, system: str, *, every_unit: bool = False) -> str:
    found = counts(
        parse_rhythm(text), parse_meter(meter), COUNTING_SYSTEMS[system], every_unit=every_unit
    )
    return " | ".join(count_line(measure) for measure in found)


@pytest.mark.parametrize(
    ("text", "meter", "line"),
    [
        ("q q q q", "4/4", "1 2 3 4"),
        ("e e e e", "2/4", "1 & 2 &"),
        ("s s s s q", "2/4", "1 e & a 2"),
        ("e s s s s e", "2/4", "1 & a 2 e &"),
        ("e. s q", "2/4", "1 a 2"),
        ("q. e h", "4/4", "1 (2) & 3 (4)"),
        ("w", "4/4", "1 (2) (3) (4)"),
        ("q -q e -e -e e", "4/4", "1 [2] 3 [&] [4] &"),
        ("-w", "4/4", "[1] [2] [3] [4]"),
        ("q. e_ | e q. h", "4/4", "1 (2) & | (1) & (2) 3 (4)"),
        ("q_ e e h", "4/4", "1 (2) & 3 (4)"),
        ("h q q", "2/2", "1 2 &"),
        ("3(e e e) q", "2/4", "1 & a 2"),
        ("t t t t t t t t", "1/4", "1 ta e ta & ta a ta"),
        ("pickup q | q q q q | h q", "4/4", "4 | 1 2 3 4 | 1 (2) 3"),
        ("pickup e | q. q.", "6/8", "a | 1 2"),
        ("q q q q q", "4/4", "1 2 3 4 5"),  # an overfull measure is counted on
    ],
)
def test_numbers(text: str, meter: str, line: str) -> None:
    assert said(text, meter, "numbers") == line


@pytest.mark.parametrize(
    ("system", "line"),
    [
        ("numbers", "1 & a 2 & a"),
        ("numbers-la-li", "1 la li 2 la li"),
        ("numbers-trip-let", "1 trip let 2 trip let"),
        ("numbers-ta-te", "1 la li 2 la li"),
        ("ta-ti", "ti ti ti ti ti ti"),
    ],
)
def test_fast_six_eight_is_counted_in_two(system: str, line: str) -> None:
    assert said("e e e e e e", "6/8", system) == line


def test_slow_six_eight_is_counted_in_six() -> None:
    assert said("e e e e e e", "6/8", "numbers", every_unit=True) == "1 2 3 4 5 6"
    assert said("q e q.", "6/8", "numbers", every_unit=True) == "1 (2) 3 4 (5) (6)"
    assert said("s s e e q.", "6/8", "numbers", every_unit=True) == "1 & 2 3 4 (5) (6)"


@pytest.mark.parametrize(
    ("text", "meter", "system", "line"),
    [
        ("s s s s q", "2/4", "numbers-ta-te", "1 ta te ta 2"),
        ("e e q", "2/4", "numbers-ta-te", "1 te 2"),
        ("3(e e e) q", "2/4", "numbers-la-li", "1 la li 2"),
        ("3(e e e) q", "2/4", "numbers-trip-let", "1 trip let 2"),
        ("3(q q q)", "2/4", "numbers-la-li", "1 li (2) la"),
        ("s s s s s s q.", "6/8", "numbers-la-li", "1 ta la ta li ta 2"),
        ("q e q.", "6/8", "numbers-la-li", "1 li 2"),
        ("2(e e) q.", "6/8", "numbers-la-li", "1 & 2"),  # two in the time of three
        ("6(s s s s s s) q", "2/4", "numbers-la-li", "1 ta la ta li ta 2"),
        ("6(s s s s s s) q", "2/4", "numbers", "1 ta & ta a ta 2"),
        ("6(s s s s s s) q", "2/4", "numbers-trip-let", "1 ta trip ta let ta 2"),
        ("e e e e e e e", "7/8 (2+2+3)", "numbers-la-li", "1 & 2 & 3 la li"),
        ("e e e e e e e", "7/8 (3+2+2)", "numbers", "1 & a 2 & 3 &"),
        ("e e e e e", "5/8", "numbers", "1 2 3 4 5"),  # no grouping given
    ],
)
def test_other_ways_of_counting_by_place(text: str, meter: str, system: str, line: str) -> None:
    assert said(text, meter, system) == line


@pytest.mark.parametrize(
    ("text", "meter", "line"),
    [
        ("q e e q -q", "4/4", "ta ti ti ta [sh]"),
        ("s s s s e s s", "2/4", "ti ka ti ka ti ti ka"),
        ("e s s e. s", "2/4", "ti ti ka tim ka"),
        ("h h", "4/4", "ta-a ta-a"),
        ("w", "4/4", "ta-a-a-a"),
        ("h. q", "4/4", "ta-a-a ta"),
        ("q. e", "2/4", "tai ti"),
        ("3(e e e) q", "2/4", "tri o la ta"),
        ("3(e q) 3(q e)", "2/4", "tri o tri la"),
        ("q_ | q q", "1/4", "ta | (a) ta"),
        ("q e q.", "6/8", "ta ti tai"),
    ],
)
def test_counting_by_length(text: str, meter: str, line: str) -> None:
    assert said(text, meter, "ta-ti") == line


def test_counts_point_at_their_notes() -> None:
    system = COUNTING_SYSTEMS[DEFAULT_COUNTING]
    (measure,) = counts(parse_rhythm("h q -q"), parse_meter("4/4"), system)
    assert [(c.note, c.start, c.kind) for c in measure] == [
        (0, Fraction(0), CountKind.SPOKEN),
        (0, Fraction(1), CountKind.HELD),
        (1, Fraction(2), CountKind.SPOKEN),
        (2, Fraction(3), CountKind.SILENT),
    ]


def test_systems_are_listed_under_their_own_ids() -> None:
    assert len(COUNTING_SYSTEMS) >= 3
    assert all(key == row.id for key, row in COUNTING_SYSTEMS.items())
    assert DEFAULT_COUNTING in COUNTING_SYSTEMS

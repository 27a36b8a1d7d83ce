"""Rhythms and their meters: common practice, no source; lengths against music21 10.5.1."""

from __future__ import annotations

import importlib
from fractions import Fraction
from typing import Any

import pytest

from handbook.domain.rhythm import (
    RhythmNote,
    Tuplet,
    faults,
    hands_missing,
    length_text,
    placed,
    strokes,
)
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.rudiments import parse_sticking
from handbook.domain.values.meter import parse_meter
from tests.oracles.rudiments import recognised

m21: Any = importlib.import_module("music21")  # its own hints are partial


def lengths(text: str) -> list[Fraction]:
    return [note.quarters for measure in parse_rhythm(text).measures for note in measure]


@pytest.mark.parametrize(
    ("text", "quarters", "type_name", "dots"),
    [
        ("w", "4", "whole", 0),
        ("h", "2", "half", 0),
        ("h.", "3", "half", 1),
        ("h..", "7/2", "half", 2),
        ("q", "1", "quarter", 0),
        ("q.", "3/2", "quarter", 1),
        ("e", "1/2", "eighth", 0),
        ("e.", "3/4", "eighth", 1),
        ("s", "1/4", "16th", 0),
        ("t", "1/8", "32nd", 0),
        ("-q.", "3/2", "quarter", 1),
    ],
)
def test_note_values(text: str, quarters: str, type_name: str, dots: int) -> None:
    assert lengths(text) == [Fraction(quarters)]
    oracle = m21.duration.Duration(type=type_name, dots=dots).quarterLength
    assert Fraction(oracle) == Fraction(quarters)


@pytest.mark.parametrize(
    ("text", "total"),
    [
        ("3(e e e)", "1"),
        ("3(q q q)", "2"),
        ("3(q e)", "1"),
        ("3(s s s)", "1/2"),
        ("5(s s s s s)", "1"),
        ("6(s s s s s s)", "1"),
        ("7(s s s s s s s)", "1"),
        ("2(e e)", "3/2"),
        ("4(e e e e)", "3/2"),
        ("3(e -e e)", "1"),
    ],
)
def test_groups_take_the_time_they_should(text: str, total: str) -> None:
    assert sum(lengths(text)) == Fraction(total)


def test_triplet_agrees_with_music21() -> None:
    oracle = m21.duration.Duration(type="eighth")
    oracle.appendTuplet(m21.duration.Tuplet(3, 2, "eighth"))
    assert lengths("3(e e e)")[0] == Fraction(oracle.quarterLength) == Fraction(1, 3)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("q. -e", ["dotted quarter note", "eighth rest"]),
        ("3(e e e)", ["triplet eighth note"] * 3),
        ("h.. s", ["double-dotted half note", "sixteenth note"]),
        ("2(e e)", ["duplet eighth note"] * 2),
    ],
)
def test_notes_in_words(text: str, names: list[str]) -> None:
    assert [note.name for note in parse_rhythm(text).measures[0]] == names


@pytest.mark.parametrize(
    ("text", "meter"),
    [
        ("q q e e q | h -q q", "4/4"),
        ("q. e q q", "4/4"),
        ("h. | q h", "3/4"),
        ("q. q e | e e e q.", "6/8"),
        ("2(e e) q.", "6/8"),
        ("q q q.", "7/8 (2+2+3)"),
        ("h h", "2/2"),
        ("3(q q q) h", "4/4"),
        ("pickup q | q q q q | h q", "4/4"),  # the last measure makes up the pickup
        ("pickup q | q q q q | w", "4/4"),  # or is full
        ("pickup e | q. q.", "6/8"),
    ],
)
def test_rhythms_that_fit(text: str, meter: str) -> None:
    assert faults(parse_rhythm(text), parse_meter(meter)) == ()


@pytest.mark.parametrize(
    ("text", "meter", "found"),
    [
        ("q q q | h h q", "4/4", [(0, "1"), (1, "-1")]),
        ("q q e | q q q", "3/4", [(0, "1/2")]),
        ("e e e e | q. q.", "6/8", [(0, "1")]),
        ("3(e e e) q", "3/4", [(0, "1")]),
        ("pickup q | q q q | w", "4/4", [(1, "1")]),
        ("pickup w | w", "4/4", [(0, "0")]),
        ("pickup q | q q q q | h", "4/4", [(2, "2")]),
        ("3(e e e) s", "2/4", [(0, "3/4")]),
    ],
)
def test_measures_that_do_not_fit(text: str, meter: str, found: list[tuple[int, str]]) -> None:
    assert [
        (fault.index, fault.shortfall) for fault in faults(parse_rhythm(text), parse_meter(meter))
    ] == [(index, Fraction(shortfall)) for index, shortfall in found]


@pytest.mark.parametrize(
    ("text", "meter", "message"),
    [
        ("q q q | w", "4/4", "measure 1 is a quarter note too short"),
        ("q q q q e | w", "4/4", "measure 1 is an eighth note too long"),
        ("pickup q | q | w", "4/4", "measure 1 is a dotted half note too short"),
        ("pickup w | w", "4/4", "the pickup is as long as a measure or longer"),
        ("w", "9/4", "measure 1 is 5 quarter notes too short"),
        ("q 3(q q q) s.", "13/16", "measure 1 is a thirty-second note too long"),
    ],
)
def test_fault_in_words(text: str, meter: str, message: str) -> None:
    assert [fault.message for fault in faults(parse_rhythm(text), parse_meter(meter))] == [message]


@pytest.mark.parametrize(
    ("quarters", "text"),
    [("1/2", "an eighth note"), ("3", "a dotted half note"), ("5/6", "5/6 of a quarter note")],
)
def test_lengths_in_words(quarters: str, text: str) -> None:
    assert length_text(Fraction(quarters)) == text


def test_notes_are_placed_from_the_bar_line() -> None:
    starts = [(here.start, here.end) for here in placed(parse_rhythm("q. e 3(e e e)").measures[0])]
    assert starts == [
        (Fraction(0), Fraction(3, 2)),
        (Fraction(3, 2), Fraction(2)),
        (Fraction(2), Fraction(7, 3)),
        (Fraction(7, 3), Fraction(8, 3)),
        (Fraction(8, 3), Fraction(3)),
    ]


# An anacrusis is not counted: the first full measure is 1 (common practice, no source).
def test_measure_numbers() -> None:
    with_pickup, without = parse_rhythm("pickup q | w | w"), parse_rhythm("w | w")
    assert [with_pickup.number(index) for index in range(3)] == [0, 1, 2]
    assert [without.number(index) for index in range(2)] == [1, 2]


def test_sticking_of_a_rhythm_is_recognised() -> None:
    rhythm = parse_rhythm("s/R s/L s/R s/R s/L s/R s/L s/L")
    assert strokes(rhythm) == parse_sticking("RLRR LRLL")
    assert [row.name for row in recognised(strokes(rhythm))] == ["Single Paradiddle"]


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("q q | h", ()),  # no hands at all: nothing is missing
        ("q/R q/L | h/R", ()),
        ("q/R q | h/L | q q", (0, 2)),
        ("q/R -q | h/L", ()),
        ("q/R q/L_ | h", ()),  # a tied note is not struck again
    ],
)
def test_hands_left_out(text: str, missing: tuple[int, ...]) -> None:
    assert hands_missing(parse_rhythm(text)) == missing


@pytest.mark.parametrize(
    ("count", "name"),
    [(2, "duplet"), (3, "triplet"), (4, "quadruplet"), (5, "quintuplet"), (6, "sextuplet"), (7, "septuplet"), (9, "nonuplet")],
)  # fmt: skip
def test_a_group_is_named_by_the_count_of_its_notes(count: int, name: str) -> None:
    """Common practice, no source."""
    assert RhythmNote("e", tuplet=Tuplet(count, 2)).name == f"{name} eighth note"

"""The traditional metronome scale, setting by setting, and the rules for rounding down to it."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from handbook.domain.metronome_marks import (
    EveryMarks,
    ExactMarks,
    Marks,
    TraditionalMarks,
    marks_named,
)
from handbook.domain.tables.metronome import TRADITIONAL_MARKS

# Printed metronome scales: steps of 2 to 60, 3 to 72, 4 to 120, 6 to 144, 8 to 208.
BY_STEPS = [
    *range(40, 60, 2),
    *range(60, 72, 3),
    *range(72, 120, 4),
    *range(120, 144, 6),
    *range(144, 209, 8),
]


def test_the_scale_has_its_39_settings() -> None:
    assert list(TRADITIONAL_MARKS) == BY_STEPS
    assert len(TRADITIONAL_MARKS) == 39
    assert {90, 140, 150}.isdisjoint(TRADITIONAL_MARKS)
    assert 144 in TRADITIONAL_MARKS


def test_each_setting_is_a_little_faster_than_the_one_before() -> None:
    steps = [Fraction(fast, slow) - 1 for slow, fast in pairwise(TRADITIONAL_MARKS)]
    assert Fraction(34, 1000) <= min(steps)
    assert round(float(max(steps)), 3) == 0.056


def test_the_lower_half_doubles_into_the_upper() -> None:
    assert [2 * mark for mark in TRADITIONAL_MARKS if mark <= 80] == [
        mark for mark in TRADITIONAL_MARKS if 80 <= mark <= 160
    ]


def test_every_setting_stays_and_leads_to_the_next() -> None:
    marks = TraditionalMarks()
    for slow, fast in pairwise(TRADITIONAL_MARKS):
        assert marks.floor(Fraction(slow)) == slow
        assert marks.floor(Fraction(fast) - Fraction(1, 100)) == slow
        assert marks.next_up(Fraction(slow)) == fast


@pytest.mark.parametrize(
    ("marks", "bpm", "down", "up"),
    [
        (TraditionalMarks(), 90, 88, 92),
        (TraditionalMarks(), 150, 144, 152),
        # Off the scale, by our own rule: whole numbers below 40, eights above 208.
        (TraditionalMarks(), Fraction(791, 20), 39, 40),
        (TraditionalMarks(), 33, 33, 34),
        (TraditionalMarks(), 208, 208, 216),
        (TraditionalMarks(), 215, 208, 216),
        (TraditionalMarks(), 216, 216, 224),
        (EveryMarks(4), 90, 88, 92),
        (EveryMarks(4), 92, 92, 96),
        (EveryMarks(5), Fraction(999, 10), 95, 100),
        (EveryMarks(20), Fraction(25, 2), 12, 13),
        (EveryMarks(1), Fraction(1, 2), Fraction(1, 2), 1),
        (ExactMarks(), Fraction(135, 2), Fraction(135, 2), 68),
        (ExactMarks(), 67, 67, 68),
    ],
)
def test_a_speed_is_rounded_down(marks: Marks, bpm: Fraction, down: Fraction, up: Fraction) -> None:
    assert marks.floor(Fraction(bpm)) == down
    assert marks.next_up(Fraction(bpm)) == up


@pytest.mark.parametrize(
    ("kind", "step", "expected"),
    [
        ("traditional", 0, TraditionalMarks()),
        ("every", 4, EveryMarks(4)),
        ("exact", 0, ExactMarks()),
    ],
)
def test_scales_have_names(kind: str, step: int, expected: Marks) -> None:
    assert marks_named(kind, step) == expected


@pytest.mark.parametrize(("kind", "step"), [("every", 0), ("every other", 2)])
def test_an_unknown_scale_is_refused(kind: str, step: int) -> None:
    with pytest.raises(ValueError, match=r"apart|called"):
        marks_named(kind, step)

"""Stickings laid on rhythms: common practice, no source."""

from __future__ import annotations

import pytest

from handbook.domain.rhythm import hands_missing, strokes
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.rudiments import parse_sticking, rudiment
from handbook.domain.sticking import struck, with_hands


@pytest.mark.parametrize(
    ("pattern", "count"),
    [
        ("q q q q", 4),
        ("q -q q -q", 2),
        ("h_ | q -q", 1),  # the tied quarter is not struck again
        ("e_ e e e", 3),
        ("-w", 0),
        ("3(e e e) q", 4),
    ],
)
def test_struck_notes(pattern: str, count: int) -> None:
    assert struck(parse_rhythm(pattern)) == count


@pytest.mark.parametrize(
    ("pattern", "sticking", "laid"),
    [
        ("e e e e e e e e", "RLRR LRLL", "RLRRLRLL"),
        ("q -q q q", "RLR", "RLR"),  # the rest takes no hand
        ("q_ q q q", "RLR", "RLR"),  # nor does the note a tie leads to
        ("s s s s s s s s", "RLRR LRLL", "RLRRLRLL"),
        ("q q q q", "RL", "RLRL"),  # a short sticking begins again
        ("q q", "RLRL", "RL"),
        ("h h", "lR rL", "lRrL"),
    ],
)
def test_a_sticking_lies_on_the_struck_notes_in_order(
    pattern: str, sticking: str, laid: str
) -> None:
    given = with_hands(parse_rhythm(pattern), parse_sticking(sticking))
    assert "".join(map(str, strokes(given))) == laid
    assert hands_missing(given) == ()


def test_without_strokes_nothing_changes() -> None:
    rhythm = parse_rhythm("q/R q/L q q")
    assert with_hands(rhythm, ()) == rhythm


def test_a_paradiddle_fills_a_measure_of_sixteenths_with_both_leads() -> None:
    sixteenths = parse_rhythm("s s s s s s s s s s s s s s s s")
    given = with_hands(sixteenths, parse_sticking(rudiment("paradiddle").sticking))
    assert "".join(map(str, strokes(given))) == "RLRRLRLL" * 2

"""Slurs of a rhythm: common practice, no source."""

from __future__ import annotations

import pytest

from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.slurs import LooseSlur, Slur, loose_slurs, slurs


@pytest.mark.parametrize(
    ("pattern", "found"),
    [
        ("e e e+ e", [Slur((0, 2), (0, 3))]),  # two tongued, two slurred
        ("e+ e e+ e", [Slur((0, 0), (0, 1)), Slur((0, 2), (0, 3))]),
        ("e+ e+ e+ e", [Slur((0, 0), (0, 3))]),
        ("q -q q+ | h", [Slur((0, 2), (1, 0))]),
        ("q+ h_ | q q", [Slur((0, 0), (1, 0))]),  # to the end of the tie
        ("h_ | q+ q -q", [Slur((0, 0), (1, 1))]),  # from the start of the tie
        ("h_ | q q", []),  # a tie alone is no slur
        ("3(q e+) q q", [Slur((0, 1), (0, 2))]),  # out of a group
        ("q+ q", [Slur((0, 0), (0, 1))]),
        ("q+ -q", []),
        ("q", []),
    ],
)
def test_slurs_run_from_note_to_note(pattern: str, found: list[Slur]) -> None:
    assert list(slurs(parse_rhythm(pattern))) == found


@pytest.mark.parametrize(
    ("pattern", "found"),
    [
        ("e+ e", []),
        ("e+ -e q", [LooseSlur((0, 0), to_rest=True)]),
        ("q+ q+ | -h", [LooseSlur((0, 1), to_rest=True)]),
        ("q q+", [LooseSlur((0, 1), to_rest=False)]),
        ("q+ -q | q q+", [LooseSlur((0, 0), to_rest=True), LooseSlur((1, 1), to_rest=False)]),
    ],
)
def test_slurs_that_lead_to_no_note(pattern: str, found: list[LooseSlur]) -> None:
    assert list(loose_slurs(parse_rhythm(pattern))) == found

"""Blocks of a rehearsal: how many, in what order (our own rules, no source)."""

from __future__ import annotations

import pytest

from handbook.domain.blocks import block_count, in_turn


@pytest.mark.parametrize(
    ("minutes", "subjects", "expected"),
    [
        # 3 to 12 minutes, midway 7.5
        (0, 4, 0),
        (2, 4, 1),  # the day forces a short one
        (5, 4, 1),
        (11, 4, 1),  # 1.47
        (12, 4, 2),  # 1.6
        (14, 4, 2),
        (20, 4, 3),
        (30, 4, 4),
        (30, 2, 3),  # no more than subjects, but none over 12
        (30, 1, 3),
        (60, 20, 8),
    ],
)
def test_minutes_make_blocks(minutes: int, subjects: int, expected: int) -> None:
    assert block_count(minutes, subjects, shortest=3, longest=12) == expected


def test_no_block_is_too_long_even_if_one_is_short() -> None:
    assert block_count(5, 3, shortest=3, longest=4) == 2


@pytest.mark.parametrize(
    ("blocks", "expected"),
    [
        ("ABCD", "ABCD"),
        ("AABC", "ABAC"),
        ("AAB", "ABA"),
        ("ABB", "BAB"),
        ("ABCC", "ACBC"),
        ("FGMMM", "MFMGM"),  # fundamentals part a lone passage's blocks
        ("FFMNO", "FMFNO"),
        ("AABB", "ABAB"),
        ("AAA", "AAA"),  # nothing can part them
        ("AAAB", "ABAA"),
        ("", ""),
    ],
)
def test_blocks_take_turns(blocks: str, expected: str) -> None:
    assert "".join(in_turn(blocks, str)) == expected

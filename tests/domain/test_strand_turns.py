"""Turns of strands; appearances by largest remainder, redone by hand."""

from __future__ import annotations

import pytest

from handbook.domain.strand_turns import strand_appearances, strand_turns


@pytest.mark.parametrize(
    ("weights", "blocks", "expected"),
    [
        ((1, 1, 1, 1), (2, 2, 2, 2), (2, 2, 2, 2)),
        ((2, 1, 1), (2, 2, 2, 2), (4, 2, 2)),
        ((3, 2, 1), (1,) * 7, (4, 2, 1)),  # 3.5 2.33 1.17
        ((10, 1, 1), (2, 2, 2), (3, 2, 1)),  # 5 of 6 is more than 3 rehearsals hold; 3 left by 1:1
        ((1,), (2, 2), (4,)),
        ((1, 1), (0, 2, 0), (1, 1)),
    ],
)
def test_appearances_follow_the_weights(
    weights: tuple[int, ...], blocks: tuple[int, ...], expected: tuple[int, ...]
) -> None:
    assert strand_appearances(weights, blocks) == expected


@pytest.mark.parametrize(
    ("weights", "blocks", "expected"),
    [
        ((1, 1, 1, 1), (2, 2, 2), ((0, 1), (2, 3), (0, 1))),
        ((2, 1, 1), (2, 2, 2, 2), ((0, 1), (0, 2), (0, 1), (0, 2))),
        ((2, 1, 1), (1, 1, 1, 1), ((0,), (1,), (2,), (0,))),
        ((1, 1), (2, 0, 1), ((0, 1), (), (0,))),
        ((1, 3), (1, 1, 2), ((1,), (1,), (0, 1))),  # the heavy one is needed in all three
        ((1, 1), (3,), ((0, 0, 1),)),  # more blocks than strands
        ((1, 2), (0, 0), ((), ())),
    ],
)
def test_strands_take_turns(
    weights: tuple[int, ...], blocks: tuple[int, ...], expected: tuple[tuple[int, ...], ...]
) -> None:
    assert strand_turns(weights, blocks) == expected


def test_no_strands_for_some_blocks_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="cannot share"):
        strand_turns((), (1,))

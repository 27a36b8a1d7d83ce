"""How soon every passage can come back, counted by hand."""

from __future__ import annotations

import pytest

from handbook.domain.returns import usual_window


@pytest.mark.parametrize(
    ("blocks", "passages", "window"),
    [
        ([3, 3, 3, 3], 6, 3),  # any two rehearsals hold six, and one more
        ([3, 3, 3, 3], 7, 4),
        ([6], 5, 2),
        ([4, 1, 4], 5, 3),
        ([4, 1, 1, 4], 5, 4),  # the two in the middle hold but two: it takes three
        ([2, 2, 2], 5, 4),
        ([1, 1], 5, 3),  # the cycle has fewer blocks than passages: more than its rehearsals
        ([], 4, 1),
        ([3, 3], 0, 2),
    ],
)
def test_the_usual_window(blocks: list[int], passages: int, window: int) -> None:
    assert usual_window(blocks, passages) == window

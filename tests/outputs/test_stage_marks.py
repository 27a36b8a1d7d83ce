"""A stage is told by a row of rising noteheads: filled as far as the band has come."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from handbook.outputs.components.stages import stage_mark

_HEAD = re.compile(r"M([\d.]+) ([\d.]+)a3 ")


def heads(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in _HEAD.findall(path)]


@pytest.mark.parametrize("count", range(1, 9))
def test_marks_are_filled_from_the_first_stage_to_the_last(count: int) -> None:
    for place in range(1, count + 1):
        mark = stage_mark(place, count)
        assert len(heads(mark.filled)) == place
        assert len(heads(mark.open)) == count - place


def test_notes_rise_from_left_to_right_within_their_box() -> None:
    mark = stage_mark(2, 4)
    notes = heads(mark.filled + mark.open)
    assert all(before[0] + 6 < after[0] + 0.01 for before, after in pairwise(notes)), "apart"
    assert all(before[1] > after[1] for before, after in pairwise(notes)), "upward"
    for x, y in notes:
        assert x > 0
        assert x + 6 < mark.width
        assert 2.4 < y < 20 - 2.4

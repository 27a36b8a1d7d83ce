"""Largest remainder with Hare quotas.

Quotas and fractional parts can be redone by hand; the first case is a widely printed
textbook election (from memory), the paradox is Alabama's of 1880 in small.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from handbook.domain.apportion import at_least_one, largest_remainder, within_bounds


@pytest.mark.parametrize(
    ("total", "weights", "expected"),
    [
        (10, [47000, 16000, 15900, 12000, 6000, 3100], (5, 2, 1, 1, 1, 0)),
        (7, [50, 30, 20], (4, 2, 1)),  # quotas 3.5 2.1 1.4
        (24, [20, 35, 30, 15], (5, 8, 7, 4)),  # 4.8 8.4 7.2 3.6
        (17, [3, 4, 5, 2], (4, 5, 6, 2)),  # 3.64 4.86 6.07 2.43
        (20, [1, 2, 3, 2], (3, 5, 7, 5)),  # 2.5 and 7.5 tie: the earlier
        (3, [1, 1, 1, 1], (1, 1, 1, 0)),
        (10, [6, 6, 2], (4, 4, 2)),
        (11, [6, 6, 2], (5, 5, 1)),  # Alabama paradox: one more in all, one fewer for the last
        (5, [Fraction(1, 3), Fraction(2, 3)], (2, 3)),  # 1.67 3.33
        (4, [0, 1], (0, 4)),
        (0, [1, 2], (0, 0)),
    ],
)
def test_shares_by_largest_remainder(
    total: int, weights: list[int], expected: tuple[int, ...]
) -> None:
    assert largest_remainder(total, weights) == expected


@pytest.mark.parametrize(("total", "weights"), [(3, [0, 0]), (3, []), (3, [2, -1]), (-1, [1])])
def test_what_cannot_be_shared_is_refused(total: int, weights: list[int]) -> None:
    with pytest.raises(ValueError, match="cannot share"):
        largest_remainder(total, weights)


@pytest.mark.parametrize(
    ("total", "weights", "expected"),
    [
        (24, [20, 35, 30, 15], (5, 8, 7, 4)),  # nobody without: nothing changes
        (
            10,
            [47000, 16000, 15900, 12000, 6000, 3100],
            (4, 2, 1, 1, 1, 1),
        ),  # 9 left: 4.37 1.49 1.48 1.11 .56
        (4, [10, 10, 1], (2, 1, 1)),
        (3, [90, 5, 5], (1, 1, 1)),
        (6, [100, 1, 1], (4, 1, 1)),
        (3, [5, 0, 5], (1, 1, 1)),
    ],
)
def test_nobody_is_left_without(total: int, weights: list[int], expected: tuple[int, ...]) -> None:
    assert at_least_one(total, weights) == expected


def test_too_few_for_one_each_is_refused() -> None:
    with pytest.raises(ValueError, match="not one for each"):
        at_least_one(2, [1, 1, 1])


@pytest.mark.parametrize(
    ("total", "weights", "bounds", "expected"),
    [
        (24, [20, 35, 30, 15], [(0, 24)] * 4, (5, 8, 7, 4)),  # no bound met: largest remainder
        (
            30,
            [3, 2, 1],
            [(3, 12)] * 3,
            (12, 12, 6),
        ),  # 15 10 5, and the 3 over go in turn
        (10, [1, 0], [(0, 10), (4, 10)], (6, 4)),
        (20, [1, 1], [(0, 5), (0, 15)], (5, 15)),
    ],
)
def test_shares_stay_within_bounds(
    total: int, weights: list[int], bounds: list[tuple[int, int]], expected: tuple[int, ...]
) -> None:
    assert within_bounds(total, weights, bounds) == expected


@pytest.mark.parametrize(
    ("total", "weights"), [(1, [1, 1]), (21, [1, 1]), (6, [0, 0]), (6, [3, -1])]
)
def test_bounds_that_cannot_hold_are_refused(total: int, weights: list[int]) -> None:
    with pytest.raises(ValueError, match="within"):
        within_bounds(total, weights, [(1, 10), (1, 10)])

"""Sharing out whole things (rehearsals, minutes, turns) by weight."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor


def largest_remainder(total: int, weights: Sequence[Fraction | int]) -> tuple[int, ...]:
    """Share `total` by the largest remainders over Hare quotas; a tie goes to the earlier.

    Each share is the floor or the ceiling of its exact quota, and they sum to `total`.
    Raises ValueError for a negative total, a negative weight, or no weight above zero.
    Source: the Hamilton (Hare quota) method of apportionment, in general use.
    """
    whole = sum(weights)
    if total < 0 or whole <= 0 or min(weights) < 0:
        raise ValueError(
            f"cannot share {total} by the weights {[str(weight) for weight in weights]}"
        )
    quotas = [Fraction(total * weight) / whole for weight in weights]
    shares = [floor(quota) for quota in quotas]
    by_remainder = sorted(range(len(quotas)), key=lambda place: shares[place] - quotas[place])
    for place in by_remainder[: total - sum(shares)]:  # the sort is stable: a tie stays in order
        shares[place] += 1
    return tuple(shares)


def at_least_one(total: int, weights: Sequence[Fraction | int]) -> tuple[int, ...]:
    """Share `total` by largest remainder, but leave nobody without.

    Whoever would get nothing gets one, and what is left is shared among the others by
    the same method, until nobody is without. The result is that of `largest_remainder`
    whenever that leaves nobody without. Raises ValueError as that does, and when there
    is not one for each.
    """
    if total < len(weights):
        raise ValueError(f"{total} is not one for each of {len(weights)}")
    shares = [1] * len(weights)
    others = list(range(len(weights)))
    while others:
        left = total - (len(weights) - len(others))
        given = dict(
            zip(others, largest_remainder(left, [weights[place] for place in others]), strict=True)
        )
        earned = [place for place in others if given[place] > 0]
        if len(earned) == len(others):
            for place in others:
                shares[place] = given[place]
            break
        others = earned
    return tuple(shares)


def within_bounds(
    total: int, weights: Sequence[Fraction | int], bounds: Sequence[tuple[int, int]]
) -> tuple[int, ...]:
    """Share `total` by weight, each share between its lowest and highest, both included.

    Each starts with its lowest; one at a time the rest goes to whoever is furthest below
    its quota, a tie to the earlier. Where no bound is met this is the largest remainder.
    Raises ValueError when the bounds cannot hold the total, or as `largest_remainder` does.
    """
    lows, highs = [low for low, _ in bounds], [high for _, high in bounds]
    whole = sum(weights)
    if whole <= 0 or min(weights) < 0 or not sum(lows) <= total <= sum(highs):
        raise ValueError(f"cannot share {total} within {list(bounds)}")
    shares = list(lows)
    for _ in range(total - sum(lows)):
        below = [place for place, share in enumerate(shares) if share < highs[place]]
        # quota minus share, times the sum of the weights: no division, so whole weights stay whole
        shares[max(below, key=lambda place: total * weights[place] - shares[place] * whole)] += 1
    return tuple(shares)

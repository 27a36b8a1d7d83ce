"""Laws of sharing out: nothing lost, nobody beyond a rounding of the exact quota."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.apportion import at_least_one, largest_remainder
from handbook.domain.stages import StageShare, StageSplitError, split_stages
from tests.oracles.stages import stage_of

WEIGHTS = st.lists(st.fractions(0, 100, max_denominator=12), min_size=1, max_size=8).filter(any)
POSITIVE = st.lists(st.integers(1, 100), min_size=1, max_size=8)


@given(st.integers(0, 200), WEIGHTS)
def test_the_house_is_filled_within_quota(total: int, weights: list[Fraction]) -> None:
    shares = largest_remainder(total, weights)
    assert sum(shares) == total
    for share, weight in zip(shares, weights, strict=True):
        quota = total * weight / sum(weights)
        assert floor(quota) <= share <= ceil(quota)


@given(st.integers(0, 200), POSITIVE, st.integers(2, 9))
def test_the_scale_of_weights_is_no_matter(total: int, weights: list[int], factor: int) -> None:
    assert largest_remainder(total, weights) == largest_remainder(
        total, [factor * weight for weight in weights]
    )


@given(st.integers(0, 200), WEIGHTS)
def test_a_heavier_weight_never_gets_less(total: int, weights: list[Fraction]) -> None:
    shares = largest_remainder(total, weights)
    by_weight = sorted(zip(weights, shares, strict=True))
    for (light, few), (heavy, many) in pairwise(by_weight):
        assert few <= many or light == heavy


@given(st.integers(0, 200), WEIGHTS)
def test_one_each_keeps_the_sum_and_changes_no_more_than_it_must(
    extra: int, weights: list[Fraction]
) -> None:
    total = len(weights) + extra
    shares = at_least_one(total, weights)
    plain = largest_remainder(total, weights)
    assert sum(shares) == total
    assert min(shares) >= 1
    if min(plain) >= 1:
        assert shares == plain


@given(st.integers(1, 60), POSITIVE, st.lists(st.integers(0, 70), max_size=3))
def test_stages_hold_every_rehearsal_and_begin_no_earlier_than_pinned(
    count: int, weights: list[int], pins: list[int]
) -> None:
    days = [date(2026, 10, 5) + timedelta(days=day) for day in range(count)]
    starts = {1 + place: days[0] + timedelta(days=pin) for place, pin in enumerate(sorted(pins))}
    shares = [
        StageShare(Fraction(weight), starts.get(place)) for place, weight in enumerate(weights)
    ]
    try:
        counts = split_stages(days, shares)
    except StageSplitError as refused:
        assert 0 <= refused.stage < len(shares)  # noqa: PT017 - the refusal itself is under test
        return
    assert sum(counts) == count
    assert min(counts) >= 1
    for day, stage in zip(days, stage_of(counts), strict=True):
        own, after = (
            shares[stage].starts,
            starts.get(stage + 1) if stage + 1 < len(shares) else None,
        )
        assert own is None or day >= own
        assert after is None or day < after

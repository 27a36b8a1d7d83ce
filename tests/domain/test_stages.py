"""Splitting rehearsals over stages; counts by largest remainder, redone by hand."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest

from handbook.domain.stages import StageShare, StageSplitError, StageSplitFault, split_stages
from tests.oracles.stages import stage_of

FIRST = date(2026, 10, 5)


def days(count: int) -> list[date]:
    """Give consecutive days: day 1 is October 5, 2026."""
    return [FIRST + timedelta(days=day) for day in range(count)]


def shares(*weights_and_pins: int | tuple[int, int]) -> list[StageShare]:
    """Give shares from weights, or from (weight, number of the day it starts on)."""
    return [
        StageShare(Fraction(item))
        if isinstance(item, int)
        else StageShare(Fraction(item[0]), FIRST + timedelta(days=item[1] - 1))
        for item in weights_and_pins
    ]


@pytest.mark.parametrize(
    ("count", "stages", "expected"),
    [
        (24, shares(20, 35, 30, 15), (5, 8, 7, 4)),  # quotas 4.8 8.4 7.2 3.6
        (7, shares(50, 30, 20), (4, 2, 1)),
        (3, shares(90, 5, 5), (1, 1, 1)),
        (24, shares(1), (24,)),
        (24, shares(30, (40, 11), 30), (10, 8, 6)),  # 10 before the pin; 14 by 40:30
        (24, shares(30, 40, (30, 20)), (8, 11, 5)),  # 19 by 30:40 are 8.14 10.86
        (24, shares((30, 1), 40, (30, 20)), (8, 11, 5)),
        (
            24,
            shares((30, -5), 40, (30, 20)),
            (8, 11, 5),
        ),  # a first stage may start before its first rehearsal
        (24, shares(30, (40, 3), (30, 5)), (2, 2, 20)),
    ],
)
def test_rehearsals_are_split(
    count: int, stages: list[StageShare], expected: tuple[int, ...]
) -> None:
    assert split_stages(days(count), stages) == expected


def test_a_pin_between_rehearsals_begins_with_the_next_one() -> None:
    weekly = [FIRST + timedelta(weeks=week) for week in range(6)]
    pinned = [StageShare(Fraction(1)), StageShare(Fraction(1), FIRST + timedelta(days=8))]
    assert split_stages(weekly, pinned) == (2, 4)


def test_two_rehearsals_on_the_pinned_day_stay_together() -> None:
    twice = [FIRST, FIRST + timedelta(days=1), FIRST + timedelta(days=1)]
    assert split_stages(twice, shares(1, (1, 2))) == (1, 2)


@pytest.mark.parametrize(
    ("count", "stages", "kind", "stage"),
    [
        (2, shares(1, 1, 1), StageSplitFault.TOO_FEW_REHEARSALS, 2),
        (0, shares(1), StageSplitFault.TOO_FEW_REHEARSALS, 0),
        (9, shares(1, (1, 6), (1, 4)), StageSplitFault.PIN_OUT_OF_ORDER, 2),
        (9, shares(1, (1, 4), (1, 4)), StageSplitFault.PIN_OUT_OF_ORDER, 2),
        (9, shares(1, (1, 1)), StageSplitFault.PIN_LEAVES_STAGE_EMPTY, 0),
        (9, shares(1, 1, 1, (1, 3)), StageSplitFault.PIN_LEAVES_STAGE_EMPTY, 2),
        (9, shares(1, (1, 9), 1), StageSplitFault.PIN_LEAVES_STAGE_EMPTY, 2),
        (9, shares(1, (1, 10)), StageSplitFault.PIN_OUTSIDE, 1),
        (9, shares(1, (1, 0)), StageSplitFault.PIN_OUTSIDE, 1),
        (
            9,
            shares((1, 2), 1),
            StageSplitFault.PIN_OUTSIDE,
            0,
        ),  # the first rehearsal would have no stage
    ],
)
def test_a_split_that_cannot_be_is_named(
    count: int, stages: list[StageShare], kind: StageSplitFault, stage: int
) -> None:
    with pytest.raises(StageSplitError) as refused:
        split_stages(days(count), stages)
    assert (refused.value.kind, refused.value.stage) == (kind, stage)


def test_rehearsals_out_of_order_are_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="in order"):
        split_stages([*days(3), FIRST], shares(1))


def test_a_weightless_stage_cannot_be_made() -> None:
    with pytest.raises(ValueError, match="above zero"):
        StageShare(Fraction(0))


def test_each_rehearsal_knows_its_stage() -> None:
    assert stage_of((2, 1, 3)) == (0, 0, 1, 2, 2, 2)

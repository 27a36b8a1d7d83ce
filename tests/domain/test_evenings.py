"""Evenings at home, worked by hand by the rule that `plan_evenings` states (common practice, no source)."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from handbook.domain.evenings import (
    Evening,
    HomeShare,
    longest_wait,
    plan_evenings,
    resting_minutes,
)
from handbook.domain.home_days import breaks

PRIORITIES = {"a": 3, "b": 2, "c": 2, "d": 2, "e": 2}
NEEDS = {"a": 40, "b": 50, "c": 0, "d": 10, "e": 20}
# Two evenings before a rehearsal of b and c, then two before one of a and d. 15 minutes: 3 for an
# exercise, 12 for three passages of two minutes at least; the other six by weights of four, two
# more for what is played next, and one for each tenth that is lacking.
EVENINGS = [
    Evening(15, since, NEEDS, frozenset(plays), ("x", "y"))
    for since, plays in ((0, "bc"), (0, "bc"), (2, "ad"), (2, "ad"))
]


def told(shares: tuple[HomeShare, ...]) -> str:
    return " ".join(f"{one.id}{one.minutes}{'<' * one.left}{'>' * one.next}" for one in shares)


def test_what_is_played_next_comes_first_and_nothing_is_forgotten() -> None:
    assert [told(one) for one in plan_evenings(EVENINGS, PRIORITIES)] == [
        "x3 b5> c3> a4",  # weights 11, 6 and 8: quotas 2.64, 1.44 and 1.92 of six
        "y3 a4 e4 d4",  # e and d were never practiced; a is the most urgent
        "x3 a4> d4> b4",  # b and c wait longest, and b lacks more
        "y3 a5> e4 c3",  # now c waits longest; weights 10, 6 and 4
    ]


def test_no_urgent_passage_keeps_the_others_away() -> None:
    # Two passages an evening, one of them by turns; nothing is played in class.
    needs = dict.fromkeys("abcdef", 0)
    evenings = plan_evenings([Evening(10, 0, needs)] * 6, {**needs, "a": 3, "b": 3})
    names = ["".join(share.id for share in one) for one in evenings]
    assert names == ["ab", "cd", "ae", "bf", "ac", "bd"]


def test_what_was_left_last_evening_comes_first() -> None:
    # c, which is played tomorrow, and a, with the exercise; then e, which was never practiced.
    evenings = plan_evenings(EVENINGS, PRIORITIES, {0: ["b"]})
    assert told(evenings[1]) == "x3< c4<> a4< e4"


def test_an_evening_without_ticks_was_missed_by_those_who_tick() -> None:
    long = [Evening(15, 0, NEEDS, frozenset("bc"), ("x", "y"))] * 12
    missed = plan_evenings(long, PRIORITIES, {0: ["x", "b", "c", "a"]})
    assert told(missed[1]) == "y3 a4 e4 d4"
    assert told(missed[2]) == "y3< a4< e4< d4<"
    # A week after the last tick no more are expected: what was planned counts as done.
    assert not any(share.left for share in missed[9])


def test_a_place_is_kept_for_what_is_played_next() -> None:
    evenings = [EVENINGS[0], Evening(15, 1, NEEDS, frozenset("de"), ("x", "y"))]
    shares = plan_evenings(evenings, PRIORITIES, {0: ["y"]})[1]
    assert [one.id for one in shares if one.left] == ["x", "a", "b"]
    assert [one.id for one in shares if one.next] == ["e"]


@pytest.mark.parametrize(
    ("evening", "expected"),
    [
        (Evening(5, 0, NEEDS, (), ("x",)), "x1 a2 b2"),
        (Evening(5, 0, {"a": 0}, (), ("x",)), "x1 a4"),
        (Evening(5, 0, {}, (), ("x",)), "x5"),
        (Evening(20, 0, NEEDS), "a5 b6 e5 d4"),  # weights 8, 9, 6 and 5 of twelve
        (Evening(120, 0, {"a": 0, "b": 0}), "a60 b60"),
        (Evening(20, 0, NEEDS, resting=True), "a10 b10"),
        (Evening(20, 0, {}), ""),
    ],
)
def test_few_minutes_few_passages_and_none(evening: Evening, expected: str) -> None:
    assert told(plan_evenings([evening], PRIORITIES)[0]) == expected


def test_how_long_a_passage_may_wait() -> None:
    # 10 minutes are 2 for an exercise and two passages, 15 three, 20 four: half of them by turns.
    assert [longest_wait(14, [minutes]) for minutes in (5, 10, 15, 20, 120)] == [14, 14, 14, 7, 7]
    assert longest_wait(14, [20, 10]) == 14
    assert longest_wait(1, [10]) == 1
    assert [resting_minutes(minutes) for minutes in (5, 10, 15, 20)] == [5, 5, 8, 10]


def test_a_break_is_longer_than_a_long_weekend_and_ends_before_its_last_day() -> None:
    def days(*of: int) -> list[date]:
        return [date(2026, 11, day) for day in of]

    # Sat and Sun; Fri to Mon; Wed to Sun: by the calendar of November 2026.
    assert breaks(days(7, 8)) == set()
    assert breaks(days(13, 14, 15)) == set()
    assert breaks(days(7, 8, 25, 26, 27, 28, 29)) == set(days(25, 26, 27, 28))
    assert breaks(date(2026, 12, 30) + timedelta(days=n) for n in range(4)) == {
        date(2026, 12, 30), date(2026, 12, 31), date(2027, 1, 1),
    }  # fmt: skip

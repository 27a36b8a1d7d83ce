"""Laws of class time that is missed: minute by minute, as one would count on a page of bells."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.class_time import ClassPeriod, missed_periods

MIDNIGHT = datetime(2027, 1, 27, tzinfo=UTC)
MINUTES = st.integers(0, 300)
SPANS = st.lists(st.tuples(MINUTES, MINUTES), max_size=6)


def at(minute: int) -> datetime:
    return MIDNIGHT + timedelta(minutes=minute)


@given(st.tuples(MINUTES, st.integers(1, 90)), SPANS)
def test_each_minute_is_missed_once_or_not_at_all(
    period: tuple[int, int], spans: list[tuple[int, int]]
) -> None:
    start, length = period
    counted = {
        minute
        for minute in range(start, start + length)
        if any(first <= minute < last for first, last in spans)
    }
    found = missed_periods(
        [ClassPeriod("p", at(start), at(start + length))],
        [(at(first), at(last)) for first, last in spans],
    )
    assert sum(one.minutes for one in found) == len(counted)

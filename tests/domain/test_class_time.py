"""Minutes of class that are missed, against figures reckoned by hand from a page of bells."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.class_time import ClassPeriod, missed_periods

ZONE = ZoneInfo("America/Chicago")


def at(clock: str, day: int = 27) -> datetime:
    return datetime.combine(date(2027, 1, day), time.fromisoformat(clock.zfill(5)), ZONE)


# The ordinary bells of the demo: 47 minutes each, 4 between them.
PERIODS = (
    ClassPeriod("p1", at("8:20"), at("9:07")),
    ClassPeriod("p2", at("9:11"), at("9:58")),
    ClassPeriod("p3", at("10:02"), at("10:49"), own=True),
)


@pytest.mark.parametrize(
    ("away", "missed"),
    [
        ([("9:20", "10:45")], [("p2", 38), ("p3", 43)]),
        ([("9:07", "9:11")], []),  # between two periods
        ([("8:00", "11:00")], [("p1", 47), ("p2", 47), ("p3", 47)]),
        ([("09:57:30", "10:02:30")], [("p2", 1), ("p3", 1)]),  # minutes begun
        ([("9:20", "9:30"), ("9:25", "9:40")], [("p2", 20)]),  # what overlaps once
        ([("9:20", "9:30"), ("9:30", "9:40")], [("p2", 20)]),
        ([("9:50", "9:58"), ("9:11", "9:13")], [("p2", 10)]),
        ([("10:00", "9:00")], []),  # runs backward
        ([], []),
    ],
)
def test_minutes_of_each_period(away: list[tuple[str, str]], missed: list[tuple[str, int]]) -> None:
    found = missed_periods(PERIODS, [(at(start), at(end)) for start, end in away])
    assert [(one.period.id, one.minutes) for one in found] == missed


def test_a_period_is_missed_whole_or_in_part() -> None:
    found = missed_periods(PERIODS, [(at("9:00"), at("9:58"))])
    assert [one.whole for one in found] == [False, True]


def test_what_passes_counts_where_clocks_are_set_back() -> None:
    """On 1 November 2026 the hour from 1 am comes twice (Energy Policy Act of 2005, section 110)."""
    night = ClassPeriod(
        "night",
        datetime(2026, 11, 1, 0, 30, tzinfo=ZONE),
        datetime(2026, 11, 1, 2, 30, tzinfo=ZONE),
    )
    (found,) = missed_periods([night], [(night.start, night.end)])
    assert (found.minutes, night.minutes) == (180, 180)

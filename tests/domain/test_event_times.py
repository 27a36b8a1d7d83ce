"""An event's clock times on its days; common practice, no source."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.event_times import EventClock, Out, away_span, event_moments
from handbook.domain.values.moments import StatedMoment, parse_moment
from handbook.domain.values.unreadable import UnreadableError

ZONE = ZoneInfo("America/Chicago")
FRIDAY, SATURDAY = date(2026, 12, 4), date(2026, 12, 5)


def at(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=ZONE)


def test_players_are_there_from_the_call_to_the_pick_up() -> None:
    clock = EventClock(call=time(17, 30), starts=time(18, 30), ends=time(20), pick_up=time(20, 15))
    moments = event_moments(FRIDAY, FRIDAY, clock, ZONE)
    assert moments.span == (at(FRIDAY, 17, 30), at(FRIDAY, 20, 15))


def test_a_ride_counts_from_when_it_leaves_until_it_is_back() -> None:
    clock = EventClock(leaves=time(8), starts=time(10), ends=time(14), back=time(15, 30))
    assert event_moments(FRIDAY, FRIDAY, clock, ZONE).span == (at(FRIDAY, 8), at(FRIDAY, 15, 30))


def test_without_an_end_nobody_knows_how_long_it_is() -> None:
    moments = event_moments(FRIDAY, FRIDAY, EventClock(starts=time(10)), ZONE)
    assert moments.begins == at(FRIDAY, 10)
    assert moments.over is None
    assert moments.span is None


def test_of_several_days_the_end_is_on_the_last() -> None:
    clock = EventClock(call=time(7), pick_up=time(18))
    assert event_moments(FRIDAY, SATURDAY, clock, ZONE).span == (at(FRIDAY, 7), at(SATURDAY, 18))


def test_what_ends_before_four_in_the_morning_ends_in_the_night_after() -> None:
    late = EventClock(starts=time(21), ends=time(0, 30), pick_up=time(1))
    moments = event_moments(FRIDAY, FRIDAY, late, ZONE)
    assert (moments.ends, moments.pick_up) == (at(SATURDAY, 0, 30), at(SATURDAY, 1))
    # Four in the morning is a morning; a trip's last night counts as its own last day's.
    early = event_moments(FRIDAY, FRIDAY, EventClock(starts=time(21), ends=time(4)), ZONE)
    assert early.ends == at(FRIDAY, 4)
    trip = event_moments(FRIDAY, SATURDAY, EventClock(call=time(7), back=time(1)), ZONE)
    assert trip.back == at(date(2026, 12, 6), 1)
    dawn = event_moments(FRIDAY, FRIDAY, EventClock(starts=time(1), ends=time(3)), ZONE)
    assert dawn.ends == at(FRIDAY, 3)


def test_the_hour_that_repeats_is_told_apart() -> None:
    """Clocks are set back on Sunday, November 1, 2026, at 2 am (15 U.S.C. 260a)."""
    sunday = date(2026, 11, 1)
    moments = event_moments(sunday, sunday, EventClock(call=time(0), pick_up=time(9)), ZONE)
    assert moments.span is not None
    start, end = moments.span
    assert end.timestamp() - start.timestamp() == 10 * 3600


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2 pm", None),
        ("14:00", None),
        ("2027-05-14 2 pm", date(2027, 5, 14)),
        ("Fri 2027-05-14, 14:00", date(2027, 5, 14)),
        ("Friday, 2027-05-14 at 2:00 pm", date(2027, 5, 14)),
        ("  fri 2027-05-14  AT  2 p.m. ", date(2027, 5, 14)),
    ],
)
def test_a_decision_has_a_time_and_may_have_a_date(text: str, day: date | None) -> None:
    assert parse_moment(text) == StatedMoment(time(14), day)


@pytest.mark.parametrize(
    "text", ["2:00", "noonish", "2027-05-14", "Thu 2027-05-14 2 pm", "2027-05-14 2:00", "5/14 2 pm"]
)
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(UnreadableError):
        parse_moment(text)


@pytest.mark.parametrize(
    ("said", "span"),
    [
        (None, (at(FRIDAY, 17, 30), at(FRIDAY, 20))),
        (Out.NONE, None),
        (Out.ALL_DAY, (at(FRIDAY, 0), at(SATURDAY, 0))),
        ((time(13), time(15, 30)), (at(FRIDAY, 13), at(FRIDAY, 15, 30))),
    ],
)
def test_players_are_away_as_said_or_as_long_as_they_are_there(
    said: Out | tuple[time, time] | None, span: tuple[datetime, datetime] | None
) -> None:
    moments = event_moments(FRIDAY, FRIDAY, EventClock(call=time(17, 30), ends=time(20)), ZONE)
    assert away_span(FRIDAY, FRIDAY, moments, said, ZONE) == span


def test_all_day_is_over_all_days() -> None:
    moments = event_moments(FRIDAY, SATURDAY, EventClock(), ZONE)
    sunday = date(2026, 12, 6)
    assert away_span(FRIDAY, SATURDAY, moments, Out.ALL_DAY, ZONE) == (at(FRIDAY, 0), at(sunday, 0))
    assert away_span(FRIDAY, SATURDAY, moments, None, ZONE) is None

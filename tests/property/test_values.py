"""Laws of written values: what is written can be read back."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, time

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.values.clock import format_clock, parse_clock
from handbook.domain.values.dates import WEEKDAYS, parse_date
from handbook.domain.values.measures import MeasureSpan, parse_measures
from handbook.domain.values.meter import UNITS, Meter, parse_meter
from handbook.domain.values.unreadable import UnreadableError

MINUTES = st.builds(time, st.integers(0, 23), st.integers(0, 59))
DATES = st.dates(date(1900, 1, 10), date(2199, 12, 20))


@given(MINUTES)
def test_a_clock_time_goes_there_and_back(moment: time) -> None:
    assert parse_clock(format_clock(moment)) == moment
    assert parse_clock(f"{moment:%H:%M}") == moment


@given(DATES, st.sampled_from(WEEKDAYS))
def test_a_date_is_read_only_with_its_own_weekday(day: date, weekday: str) -> None:
    try:
        assert parse_date(f"{weekday} {day}") == day
        assert WEEKDAYS[day.weekday()] == weekday
    except UnreadableError as refused:
        own, near = (parse_date(suggestion) for suggestion in refused.suggestions)
        assert own == day
        assert WEEKDAYS[near.weekday()] == weekday
        assert abs((near - day).days) <= 3


@given(st.integers(1, 500), st.integers(0, 200))
def test_measures_go_there_and_back(first: int, more: int) -> None:
    span = MeasureSpan(first, first + more)
    assert parse_measures(str(span)) == span
    assert span.count == more + 1


@given(st.sampled_from(UNITS), st.lists(st.integers(1, 5), min_size=2, max_size=6))
def test_whole_beats_fill_a_measure(unit: int, groups: list[int]) -> None:
    meter = Meter(sum(groups), unit, tuple(groups))
    assert parse_meter(str(meter)) == meter
    assert meter.quarters % meter.beat.quarters == 0


@given(st.text(max_size=20))
def test_no_text_breaks_a_reader(text: str) -> None:
    for read in (parse_clock, parse_date, parse_measures, parse_meter):
        with suppress(UnreadableError):
            assert read(text) is not None

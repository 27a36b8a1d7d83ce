"""Laws of the calendar: nothing on a closure or outside the cycle, labels in turn."""

from __future__ import annotations

from datetime import date, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.meetings import CancelledRehearsal
from handbook.domain.rehearsals import (
    Closure,
    ExtraRehearsal,
    MeetingPattern,
    Resume,
    SchoolYear,
    day_labels,
    rehearsal_calendar,
)
from handbook.domain.school_year import Days
from handbook.domain.values.text import Text

START = date(2026, 8, 17)
CHICAGO = ZoneInfo("America/Chicago")
OFFSETS = st.integers(0, 120)
LABELS = ("1", "2", "3", "4", "5", "6")


@st.composite
def closures(draw: st.DrawFn) -> Closure:
    first = START + timedelta(days=draw(OFFSETS))
    return Closure(
        Days(first, first + timedelta(days=draw(st.integers(0, 9)))),
        Text.plain("closed"),
        draw(st.none() | st.sampled_from(Resume)),
    )


YEARS = st.builds(
    SchoolYear,
    st.just(START),
    st.just(START + timedelta(days=120)),
    st.integers(0, 6).map(lambda count: LABELS[:count]),
    st.sampled_from(Resume),
    closures=st.lists(closures(), max_size=4).map(tuple),
)


def closed(year: SchoolYear, day: date) -> bool:
    return any(day in closure.days for closure in year.closures)


@given(YEARS)
def test_every_open_weekday_has_a_label_and_no_other_day(year: SchoolYear) -> None:
    days = [year.first + timedelta(days=offset) for offset in range(121)]
    expected = (
        [day for day in days if day.weekday() < 5 and not closed(year, day)] if year.labels else []
    )
    assert list(day_labels(year)) == expected


@given(YEARS)
def test_labels_turn_in_order_between_closures(year: SchoolYear) -> None:
    for (day, label), (later, next_label) in pairwise(day_labels(year).items()):
        between = [day + timedelta(days=offset) for offset in range(1, (later - day).days)]
        if not any(closed(year, one) for one in between):
            turn = year.labels.index(label) + 1
            assert next_label == year.labels[turn % len(year.labels)]


@given(
    YEARS,
    st.tuples(st.frozensets(st.integers(0, 6)), st.frozensets(st.sampled_from(LABELS))),
    st.tuples(OFFSETS, st.integers(0, 60)),
    st.lists(st.tuples(OFFSETS, st.integers(7, 20)), max_size=4),
    st.lists(OFFSETS, max_size=3),
)
def test_no_rehearsal_is_on_a_closure_or_outside_the_cycle(
    year: SchoolYear,
    meets_on: tuple[frozenset[int], frozenset[str]],
    span: tuple[int, int],
    extra_offsets: list[tuple[int, int]],
    cancelled_offsets: list[int],
) -> None:
    first = START + timedelta(days=span[0])
    last = first + timedelta(days=span[1])
    pattern = MeetingPattern(*meets_on, start=time(9), end=time(9, 50))
    extras = [
        ExtraRehearsal(START + timedelta(days=day), time(hour), time(hour, 45))
        for day, hour in extra_offsets
    ]
    cancelled = [
        CancelledRehearsal(START + timedelta(days=day), Text.plain("snow"))
        for day in cancelled_offsets
    ]
    calendar = rehearsal_calendar(
        year, [pattern], first, last, zone=CHICAGO, extras=extras, cancelled=cancelled
    )
    for one in calendar.rehearsals:
        assert first <= one.day <= last
        assert not closed(year, one.day)
    assert [one.n for one in calendar.rehearsals] == list(range(1, len(calendar.rehearsals) + 1))
    for one, following in pairwise(calendar.rehearsals):
        assert one.end <= following.start
    held = sum(one.index is not None for one in calendar.rehearsals)
    faulty = sum(finding.fault.value.startswith("extra") for finding in calendar.findings)
    assert held + faulty == len(extras)


@given(YEARS, st.data())
def test_a_moved_rehearsal_leaves_as_many_and_a_made_up_one_brings_one_back(
    year: SchoolYear, data: st.DataObject
) -> None:
    """Class is at 10:00 on weekdays; the other one is on a weekend that is open."""
    class_time = MeetingPattern(frozenset(range(5)), start=time(10), end=time(10, 45))
    first, last = START, START + timedelta(days=60)
    before = rehearsal_calendar(year, [class_time], first, last, zone=CHICAGO)
    days = [first + timedelta(days=offset) for offset in range(61)]
    free = [day for day in days if day.weekday() > 4 and not closed(year, day)]
    held, lost = [one.day for one in before.rehearsals], [one.day for one in before.missed]
    if not free or not held:
        return
    day, was = data.draw(st.sampled_from(free)), data.draw(st.sampled_from([*held, *lost]))
    extra = ExtraRehearsal(
        day,
        time(10),
        time(10, 45),
        instead_of=was if was in held else None,
        make_up_for=was if was in lost else None,
    )
    after = rehearsal_calendar(year, [class_time], first, last, zone=CHICAGO, extras=[extra])
    assert after.findings == ()
    assert [one.day for one in after.rehearsals] == sorted({*held, day} - {extra.instead_of})
    missed = {one.day: (one.moved_to, one.made_up) for one in after.missed}
    assert missed.keys() == {*lost, was}
    assert missed[was] == ((day, None) if was in held else (None, day))

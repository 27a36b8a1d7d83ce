"""Days that are proposed for what comes next, to be overwritten by the director."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date, timedelta

from handbook.domain.school_year import YearDay, year_days
from handbook.plan.school_days import school_year
from handbook.schema.year import Meeting, Year

_WEEK = timedelta(weeks=1)


def in_words(day: date) -> str:
    """Write a date for the terminal: `Mon, Jan 4, 2027`."""
    return f"{day:%a}, {day:%b} {day.day}, {day.year}"


def first_meeting(year: Year, ensembles: Collection[str], after: date) -> date | None:
    """Give the first day after another one on which any of some ensembles meets in class; None if there is none."""
    own = [one for one in year.meetings if one.ensemble in ensembles]
    return next(
        (
            day.day
            for day in _days(year)
            if day.day > after and day.is_school and any(_meets(one, day) for one in own)
        ),
        None,
    )


def _meets(meeting: Meeting, day: YearDay) -> bool:
    if day.day < (meeting.from_ or date.min) or day.day > (meeting.to or date.max):
        return False
    return day.weekday in meeting.weekdays or (day.label or "") in meeting.labels


def as_long(starts: date, old_start: date, old_end: date, year: Year) -> date:
    """Give the day that is as many weeks after a start as another one was after its own.

    On the same day of the week, and within the year on a day without a closure: if there is
    one, the next such week, else the one before.
    """
    wanted = starts + (old_end - old_start)
    wanted += timedelta(days=(old_end.weekday() - wanted.weekday() + 3) % 7 - 3)
    open_days = {day.day for day in _days(year) if day.closure is None and day.day > starts}
    after, before = wanted, wanted - _WEEK
    while after <= year.last_day:
        if after in open_days:
            return after
        after += _WEEK
    while before > starts:
        if before in open_days:
            return before
        before -= _WEEK
    return max(open_days, default=year.last_day)


def _days(year: Year) -> Iterator[YearDay]:
    return year_days(school_year(year))

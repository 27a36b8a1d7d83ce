"""A month of the calendar for the wall: one sheet across, with all bands told by name."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from handbook.domain.values.paper import Paper
from handbook.outputs import addresses
from handbook.outputs.html.formatting import clock
from handbook.outputs.i18n import speech
from handbook.outputs.i18n.formats import names
from handbook.outputs.page import Context
from handbook.outputs.sheets.kinds.month_squares import (
    PLAIN_HOURS,
    FullDay,
    MonthDay,
    Week,
    fit,
    hour_number,
)
from handbook.outputs.sheets.model import Sheet
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.calendar import CalendarMonth, EventView

_DAY = timedelta(days=1)
_SATURDAY = 5
_ONLY_ON_SCHOOL_DAYS = frozenset({"closed", "altered"})
_WEEKEND, _NARROW = 0.85, 0.55
"""How wide a day of the weekend is, and one on which nothing ever is; elements.typ has the same."""
_ROOM = {Paper.LETTER: (706, 446), Paper.A4: (757, 429)}
"""How wide and how high all squares may be together, in points."""


@dataclass(frozen=True, slots=True)
class MonthWeekday:
    """A column: of the `weekend`, and `narrow` where nothing is on all month."""

    name: str
    weekend: bool
    narrow: bool


@dataclass(frozen=True, slots=True)
class MonthSheetView:
    """A month as weeks of seven days; `plain_hours` are those between which an hour is a number alone.

    They are empty in a language that writes all hours as numbers alone. In a `low` month weeks
    are no higher than what stands in them.
    """

    name: str
    plain_hours: tuple[str, ...]
    weekdays: tuple[MonthWeekday, ...]
    weeks: tuple[tuple[MonthDay, ...], ...]
    low: bool


def has_month_sheet(month: CalendarMonth) -> bool:
    """Whether a month has what a wall needs: a rehearsal, a concert or an event."""
    return any(
        {"rehearsal", "concert", "apart"} & set(event.kind.split()) for event in month.events
    )


def month_sheet(context: Context, month: CalendarMonth, events: Sequence[EventView]) -> Sheet:
    """Make the sheet of a month; `events` are those of all months, since some go on into the next.

    Weeks begin on Sunday where paper is Letter, else on Monday (common practice, no source).
    """
    paper = context.plan.program.paper
    first = month.first.replace(day=1)
    monday_to_sunday = names(speech().code).short_days
    weeks = _weeks(first, events, 1 if paper is Paper.LETTER else 0)
    columns = [_column([week[place] for week in weeks]) for place in range(7)]
    widths = [_NARROW if narrow else 1 if day < _SATURDAY else _WEEKEND for day, narrow in columns]
    across, along = _ROOM[paper]
    low = fit(weeks, [across * one / sum(widths) for one in widths], along)
    view = MonthSheetView(
        month.name,
        _plain_hours(),
        tuple(
            MonthWeekday(monday_to_sunday[day], day >= _SATURDAY, narrow) for day, narrow in columns
        ),
        tuple(tuple(one.shown() if one else MonthDay("") for one in days) for days in weeks),
        low,
    )
    return Sheet(
        path=addresses.month_sheet(first.year, first.month, context.language),
        kind="month",
        title=month.name,
        view=view,
        one_page=False,
        landscape=True,
    )


def _weeks(first: date, events: Sequence[EventView], before_monday: int) -> list[Week]:
    day = first - _DAY * ((first.weekday() + before_monday) % 7)
    weeks = list[Week]()
    while day <= first or day.month == first.month:
        week = [day + _DAY * place for place in range(7)]
        weeks.append([_day(one, events) if one.month == first.month else None for one in week])
        day += _DAY * 7
    return weeks


def _column(days: Sequence[FullDay | None]) -> tuple[int, bool]:
    """Give of a column its weekday and whether it may be narrow."""
    weekday = next(day.day.weekday() for day in days if day)
    return weekday, weekday >= _SATURDAY and not any(day.events for day in days if day)


def _day(day: date, events: Sequence[EventView]) -> FullDay:
    return FullDay(day, [one for one in events if one.day <= day <= one.last and _is_on(one, day)])


def _plain_hours() -> tuple[str, ...]:
    hours = [datetime(2000, 1, 1, at) for at in (PLAIN_HOURS.start, PLAIN_HOURS.stop)]  # noqa: DTZ001 - no day of the plan
    return () if all(hour_number(one) == clock(one) for one in hours) else tuple(map(clock, hours))


def _is_on(event: EventView, day: date) -> bool:
    """Whether a span has a day: days without school are no weekends."""
    return (
        event.day == event.last
        or day.weekday() < _SATURDAY
        or _ONLY_ON_SCHOOL_DAYS.isdisjoint(event.kind.split())
    )

"""A month of the calendar for the wall: one sheet across, with all bands told by name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass as mutable
from datetime import date, timedelta
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING

from handbook.domain.values.paper import Paper
from handbook.outputs import addresses
from handbook.outputs.i18n import speech
from handbook.outputs.i18n.formats import names
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import Sheet
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.calendar import CalendarMonth, EventView

_DAY = timedelta(days=1)
_SATURDAY = 5
_ONLY_ON_SCHOOL_DAYS = frozenset({"closed", "altered"})
_LEAST_FIRST = ("rehearsal", "cancelled", "made-up", "altered", "closed", "apart", "concert")
_WEEKDAY_LETTERS, _WEEKEND_LETTERS = 19, 10
"""Letters of 12 points in a line of a day, about."""
_LINES = {4: 27, 5: 24, 6: 21}
"""Lines that weeks may have together, each as many as its fullest day, by how many weeks there are."""


@dataclass(frozen=True, slots=True)
class MonthEvent:
    """What is on, in a line; `begins` is the hour, of a rehearsal that at which it begins."""

    begins: str
    title: str


@dataclass(frozen=True, slots=True)
class MonthGroup:
    """Events that are alike in what the calendar notes of them, such as dress rehearsals."""

    note: str
    events: tuple[MonthEvent, ...]


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A day with what is on; `more` is how much of it stands on the calendar's page alone.

    Without a `number` it is none of the month's.
    """

    number: str
    groups: tuple[MonthGroup, ...] = ()
    more: int = 0


@dataclass(frozen=True, slots=True)
class MonthSheetView:
    """A month as weeks of seven days; `begins` is the class of the day that a week begins with."""

    name: str
    begins: str
    weekdays: tuple[str, ...]
    weeks: tuple[tuple[MonthDay, ...], ...]


@mutable(slots=True)
class _FullDay:
    """A day while its month is made to fit."""

    day: date
    events: list[EventView]
    left_out: int = 0

    @property
    def lines(self) -> int:
        """How many lines it takes, about."""
        letters = _WEEKDAY_LETTERS if self.day.weekday() < _SATURDAY else _WEEKEND_LETTERS
        texts = [group.note for group in _groups(self.events)]
        texts += [f"{_hour(one)} {one.title}" for one in self.events]
        set_in = sum(len(wrap(bare(text), letters)) for text in texts)
        return set_in + (1 if self.left_out else 0)

    def leave_out(self) -> None:
        """Leave out what the month can best do without: what is on most often."""
        least = min(self.events, key=lambda one: (_weight(one), -self.events.index(one)))
        self.events.remove(least)
        self.left_out += 1

    def shown(self) -> MonthDay:
        return MonthDay(str(self.day.day), tuple(_groups(self.events)), self.left_out)


def has_month_sheet(month: CalendarMonth) -> bool:
    """Whether a month has what a wall needs: a rehearsal, a concert or an event."""
    return any(
        {"rehearsal", "concert", "apart"} & set(event.kind.split()) for event in month.events
    )


def month_sheet(context: Context, month: CalendarMonth, events: Sequence[EventView]) -> Sheet:
    """Make the sheet of a month; `events` are those of all months, since some go on into the next.

    Weeks begin on Sunday where paper is Letter, else on Monday (common practice, no source).
    """
    sunday = context.plan.program.paper is Paper.LETTER
    first = month.first.replace(day=1)
    monday_to_sunday = names(speech().code).short_days
    view = MonthSheetView(
        month.name,
        "sunday" if sunday else "monday",
        (monday_to_sunday[-1], *monday_to_sunday[:-1]) if sunday else tuple(monday_to_sunday),
        tuple(_weeks(first, events, 1 if sunday else 0)),
    )
    return Sheet(
        path=addresses.month_sheet(first.year, first.month),
        kind="month",
        title=month.name,
        view=view,
        one_page=False,
        landscape=True,
    )


def _weeks(
    first: date, events: Sequence[EventView], before_monday: int
) -> Iterator[tuple[MonthDay, ...]]:
    day = first - _DAY * ((first.weekday() + before_monday) % 7)
    weeks = list[list[_FullDay | None]]()
    while day <= first or day.month == first.month:
        week = [day + _DAY * place for place in range(7)]
        weeks.append([_day(one, events) if one.month == first.month else None for one in week])
        day += _DAY * 7
    _fit([[one for one in week if one] for week in weeks])
    for days in weeks:
        yield tuple(one.shown() if one else MonthDay("") for one in days)


def _fit(weeks: list[list[_FullDay]]) -> None:
    """Leave things out of the fullest days until all weeks fit on a page, each day's last at last."""
    most, days = _LINES[len(weeks)], [day for week in weeks for day in week]
    while sum(max(day.lines for day in week) for week in weeks) > most:
        full = [day for day in days if len(day.events) > 1] or [day for day in days if day.events]
        if not full:
            return
        max(full, key=lambda day: day.lines).leave_out()


def _day(day: date, events: Sequence[EventView]) -> _FullDay:
    return _FullDay(day, [one for one in events if one.day <= day <= one.last and _is_on(one, day)])


def _groups(events: Sequence[EventView]) -> Iterator[MonthGroup]:
    """Part events by what is noted of them, unless the day itself is called so."""
    called = {event.title for event in events}
    for note, alike in groupby(events, key=lambda one: "" if one.note in called else one.note):
        yield MonthGroup(note, tuple(MonthEvent(_hour(one), one.title) for one in alike))


def _hour(event: EventView) -> str:
    """Leave of the hours of a rehearsal that at which it begins."""
    begins = re.match(r"\d[\d:.]*", event.time) if event.kind == "rehearsal" else None
    return begins[0] if begins else event.time


def _is_on(event: EventView, day: date) -> bool:
    """Whether a span has a day: days without school are no weekends."""
    return (
        event.day == event.last
        or day.weekday() < _SATURDAY
        or _ONLY_ON_SCHOOL_DAYS.isdisjoint(event.kind.split())
    )


def _weight(event: EventView) -> tuple[int, bool]:
    kinds = event.kind.split()
    ranks = (n for n, kind in enumerate(_LEAST_FIRST) if kind in kinds)
    return next(ranks, len(_LEAST_FIRST)), bool(event.note)

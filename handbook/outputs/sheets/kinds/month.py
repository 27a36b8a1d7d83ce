"""A month of the calendar for the wall: one sheet across, with all bands told by name."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass as mutable
from datetime import date, datetime, time, timedelta
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING

from handbook.domain.values.paper import Paper
from handbook.outputs import addresses
from handbook.outputs.html.formatting import clock
from handbook.outputs.i18n import gettext, ngettext, speech
from handbook.outputs.i18n.formats import names, with_clauses
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
_PLAIN_HOURS = range(7, 15)
"""Hours of which each stands once on the dial of a school's day, so that its number says enough."""
_WEEKEND, _NARROW = 0.85, 0.55
"""How wide a day of the weekend is, and one on which nothing ever is; elements.typ has the same."""
_LETTER, _LINE, _LARGER = 5.7, 13.1, 1.3
"""How wide a letter is in letters of 12 points, and how high a line, in points, about; those of a
concert are larger."""
_HIGHER_LINES = {"ar": 14.0}
_SIDES, _HEAD, _LEAST_LINES = 5, 20, 3.2
"""What the edges of a square and its number take of it, in points, and the fewest lines it has."""
_ROOM = {Paper.LETTER: (706, 422), Paper.A4: (757, 405)}
"""How wide and how high all squares may be together, in points."""


@dataclass(frozen=True, slots=True)
class MonthEvent:
    """What is on; `begins` is the hour at which it does, `who` whom it is for, if that is not all.

    `call` says from when players are there; a concert is `large`.
    """

    begins: str
    title: str
    who: str = ""
    call: str = ""
    large: bool = False


@dataclass(frozen=True, slots=True)
class MonthGroup:
    """Events that are alike in what the calendar notes of them, such as dress rehearsals."""

    note: str
    events: tuple[MonthEvent, ...]


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A day with what is on; `rest` says how much of it, `more`, stands on the calendar's page alone.

    Without a `number` it is none of the month's.
    """

    number: str
    groups: tuple[MonthGroup, ...] = ()
    rest: str = ""
    more: int = 0


@dataclass(frozen=True, slots=True)
class MonthWeekday:
    """A column: of the `weekend`, and `narrow` where nothing is on all month."""

    name: str
    weekend: bool
    narrow: bool


@dataclass(frozen=True, slots=True)
class MonthSheetView:
    """A month as weeks of seven days; `plain_hours` are those between which an hour is a number alone.

    They are empty in a language that writes all hours as numbers alone.
    """

    name: str
    plain_hours: tuple[str, ...]
    weekdays: tuple[MonthWeekday, ...]
    weeks: tuple[tuple[MonthDay, ...], ...]


@mutable(slots=True)
class _FullDay:
    """A day while its month is made to fit; `brief` where it no longer says whom things are for."""

    day: date
    events: list[EventView]
    left_out: int = 0
    brief: bool = False

    def lines(self, width: float) -> float:
        """How many lines it takes in a square of some points, about."""
        taken = 0.0
        for group in _groups(self.events, brief=self.brief):
            taken += _lines(group.note, width)
            for one in group.events:
                larger = _LARGER if one.large else 1
                taken += larger * _lines(event_text(one), width / larger) + _lines(one.call, width)
        return taken + _lines(self._left_out_text(), width)

    @property
    def spares(self) -> int:
        """How well something can be left out: 2 where more is on, 1 if it is all, 0 if a concert is."""
        if not self.brief or len(self.events) > 1:
            return 2
        return 0 if any(one.kind == "concert" for one in self.events) else 1

    def _left_out_text(self) -> str:
        if not self.left_out:
            return ""
        return more_text(self.left_out) if self.events else none_shown_text(self.left_out)

    def leave_out(self) -> None:
        """Leave out what the month can best do without: what is on most often."""
        if not self.brief:
            self.brief = True
            return
        least = min(self.events, key=lambda one: (_weight(one), -self.events.index(one)))
        self.events.remove(least)
        self.left_out += 1

    def shown(self) -> MonthDay:
        groups = tuple(_groups(self.events, brief=self.brief))
        return MonthDay(str(self.day.day), groups, self._left_out_text(), self.left_out)


_Week = list[_FullDay | None]


def event_text(event: MonthEvent) -> str:
    """Write what is on behind its hour."""
    return " ".join(
        filter(None, (event.begins, with_clauses(filter(None, (event.title, event.who)))))
    )


def more_text(count: int) -> str:
    """Say how much more is on than is shown."""
    return gettext("and %(number)s more", number=count)


def none_shown_text(count: int) -> str:
    """Say of a day with no room for anything how much is on."""
    return ngettext("%(num)s date, see the calendar", "%(num)s dates, see the calendar", count)


def _lines(text: str, width: float) -> int:
    return len(wrap(bare(text), max(1, int((width - _SIDES) / _LETTER))))


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
    _fit(weeks, [across * one / sum(widths) for one in widths], along)
    view = MonthSheetView(
        month.name,
        _plain_hours(),
        tuple(
            MonthWeekday(monday_to_sunday[day], day >= _SATURDAY, narrow) for day, narrow in columns
        ),
        tuple(tuple(one.shown() if one else MonthDay("") for one in days) for days in weeks),
    )
    return Sheet(
        path=addresses.month_sheet(first.year, first.month, context.language),
        kind="month",
        title=month.name,
        view=view,
        one_page=False,
        landscape=True,
    )


def _weeks(first: date, events: Sequence[EventView], before_monday: int) -> list[_Week]:
    day = first - _DAY * ((first.weekday() + before_monday) % 7)
    weeks = list[_Week]()
    while day <= first or day.month == first.month:
        week = [day + _DAY * place for place in range(7)]
        weeks.append([_day(one, events) if one.month == first.month else None for one in week])
        day += _DAY * 7
    return weeks


def _column(days: Sequence[_FullDay | None]) -> tuple[int, bool]:
    """Give of a column its weekday and whether it may be narrow."""
    weekday = next(day.day.weekday() for day in days if day)
    return weekday, weekday >= _SATURDAY and not any(day.events for day in days if day)


def _fit(weeks: Sequence[_Week], widths: Sequence[float], room: float) -> None:
    """Leave things out until all weeks fit on a page: of days that make their week as high as it is.

    The last that a day has goes at last, and a concert after all.
    """
    width = {
        day.day: width for week in weeks for day, width in zip(week, widths, strict=True) if day
    }
    line = _HIGHER_LINES.get(speech().code, _LINE)
    lines = {day.day: day.lines(width[day.day]) for week in weeks for day in week if day}
    while True:
        highest = [
            max((day for day in week if day), key=lambda one: lines[one.day]) for week in weeks
        ]
        heights = (_HEAD + line * max(lines[day.day], _LEAST_LINES) for day in highest)
        some = [day for day in highest if day.events and lines[day.day] > _LEAST_LINES]
        if sum(heights) <= room or not some:
            return
        day = max(some, key=lambda one: (one.spares, lines[one.day]))
        day.leave_out()
        lines[day.day] = day.lines(width[day.day])


def _day(day: date, events: Sequence[EventView]) -> _FullDay:
    return _FullDay(day, [one for one in events if one.day <= day <= one.last and _is_on(one, day)])


def _groups(events: Sequence[EventView], *, brief: bool) -> Iterator[MonthGroup]:
    """Part events by what is noted of them, unless the day itself is called so."""
    called = {event.title for event in events}
    for note, alike in groupby(events, key=lambda one: "" if one.note in called else one.note):
        yield MonthGroup(
            note,
            tuple(
                MonthEvent(
                    _hour(one),
                    one.title,
                    "" if brief else one.readers,
                    one.call,
                    one.kind == "concert",
                )
                for one in alike
            ),
        )


def _hour(event: EventView) -> str:
    """Give the hour at which something begins, a number alone where that says enough."""
    starts = event.starts or (event.sort if event.sort.time() != time() else None)
    if not event.time or not starts:
        return event.time
    return _number(starts) if starts.hour in _PLAIN_HOURS else clock(starts)


def _number(moment: datetime) -> str:
    written = clock(moment)
    found = re.search(r"\d[\d:.]*", written)
    return found[0] if found else written


def _plain_hours() -> tuple[str, ...]:
    hours = [datetime(2000, 1, 1, at) for at in (_PLAIN_HOURS.start, _PLAIN_HOURS.stop)]  # noqa: DTZ001 - no day of the plan
    return () if all(_number(one) == clock(one) for one in hours) else tuple(map(clock, hours))


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

"""Events as a table for a terminal of 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, time

from rich.console import Group
from rich.table import Table
from rich.text import Text as Line

from handbook.domain.event_times import EventMoments
from handbook.domain.values.clock import format_clock
from handbook.plan.events_model import EventRow

_Row = tuple[date, time, str, str, str, str]


def event_table(events: Iterable[EventRow], language: str) -> Group:
    """Draw a line for each day of each event, in order of time."""
    table = Table(expand=False, pad_edge=False, show_edge=False, row_styles=("", "dim"))
    table.add_column("Date", no_wrap=True)
    table.add_column("Call", no_wrap=True)
    table.add_column("Time", no_wrap=True)
    table.add_column("Event, and for whom", overflow="fold")
    rows = [row for event in events for row in _rows(event, language)]
    for _, _, dates, call, hours, words in sorted(rows):
        table.add_row(dates, call, hours, Line(words))
    return Group(Line("Events", style="bold underline"), "", table, "")


def _rows(event: EventRow, language: str) -> Iterator[_Row]:
    name = event.item.name.read(language) if event.item.name else event.item.id
    who = "everyone" if event.everyone else ", ".join(one.id for one in event.ensembles)
    if event.players:
        who = f"{', '.join(event.players)} of {who}"
    if event.due:
        state = "cancelled" if event.item.cancelled else "due"
        moved = _moved(event.item.moved_from)
        yield event.due, time(), _day(event.due), "", state, f"{name} ({who}){moved}"
    for day in event.days:
        begins, that_day = day.moments.begins, f": {day.name.read(language)}" if day.name else ""
        until = f" to {_day(day.last)}" if day.first < day.last else ""
        yield (
            day.first,
            begins.time() if begins else time(),
            f"{_day(day.first)}{until}",
            format_clock(day.moments.call.time()) if day.moments.call else "",
            "cancelled" if day.cancelled else _hours(day.moments),
            f"{name}{that_day} ({who}){_moved(day.moved_from)}",
        )


def _moved(before: Sequence[date]) -> str:
    return f", moved from {', '.join(map(_day, before))}" if before else ""


def _hours(moments: EventMoments) -> str:
    clocks = [format_clock(one.time()) for one in (moments.starts, moments.ends) if one]
    return " to ".join(clocks)


def _day(day: date) -> str:
    return f"{day:%a %b} {day.day:>2}"

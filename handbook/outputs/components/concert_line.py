"""A concert in a line: when, where, and the way to its page."""

from __future__ import annotations

from datetime import date

from handbook.outputs import addresses
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class ConcertLine:
    """A concert in a line."""

    name: str
    path: str
    day: date
    date: str
    time: str
    venue: str
    cycle: str


def concert_line(context: Context, cycle: CyclePlan) -> ConcertLine | None:
    """Show a cycle's concert in a line, if it has one."""
    if cycle.concert is None:
        return None
    concert = cycle.concert
    return ConcertLine(
        name=context.say(concert.item.name),
        path=addresses.concert(cycle.id),
        date=formatting.short_day(concert.item.date),
        day=concert.item.date,
        time=formatting.clock(concert.downbeat),
        venue=context.say(concert.venue.name),
        cycle=context.say(cycle.item.name),
    )

"""A concert in a line: when, where, and the way to its page."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from handbook.outputs import addresses
from handbook.outputs.components.moved import moved_words
from handbook.outputs.components.rain_words import rain_line
from handbook.outputs.html import formatting
from handbook.outputs.i18n.formats import clock_time
from handbook.outputs.page import Context
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.records import dataclass
from handbook.schema.on_the_day import CallOnTheDay


@dataclass(frozen=True, slots=True)
class ConcertLine:
    """A concert in a line; `over` is the moment or the day after which it is.

    `cancelled` says why it is not held, and then it has no hour and nobody to call.
    """

    name: str
    path: str
    day: date
    date: str
    time: str
    venue: str
    cycle: str
    over: str
    rain: str = ""
    cancelled: str = ""
    moved: str = ""
    on_the_day: CallOnTheDay | None = None


def concert_lines(
    context: Context, cycle: CyclePlan, concerts: Iterable[ConcertPlan], ensemble: str = ""
) -> tuple[ConcertLine, ...]:
    """Show concerts of a cycle in a line each, for an ensemble with the hours of its own turns."""
    return tuple(_line(context, cycle, concert, ensemble) for concert in concerts)


def played_at(context: Context, cycle: CyclePlan, band: str, piece: str) -> tuple[ConcertLine, ...]:
    """Show at which of several concerts a band plays a piece; nothing where there is but one."""
    if len(cycle.concerts) == 1:
        return ()
    own = (
        concert
        for concert in cycle.concerts
        if any(piece in turn.pieces and band in turn.names for turn in concert.item.program)
    )
    return concert_lines(context, cycle, own, band)


def concert_hours(concert: ConcertPlan, ensemble: str = "") -> str:
    """Write the hours of an ensemble's own turns, where it has such, else the downbeat."""
    hours = (
        clock_time(turn.first_note)
        for turn in concert.item.program
        if turn.first_note and ensemble in turn.names
    )
    return formatting.listed(list(hours)) or formatting.clock(concert.downbeat)


def _line(context: Context, cycle: CyclePlan, concert: ConcertPlan, ensemble: str) -> ConcertLine:
    item = concert.item
    return ConcertLine(
        name=context.say(item.name),
        path=addresses.concert(cycle.id, concert.id),
        date=formatting.short_day(item.date),
        day=item.date,
        time="" if concert.cancelled else concert_hours(concert, ensemble),
        venue=context.say(concert.venue.name),
        cycle=context.say(cycle.item.name),
        over=formatting.moment(concert.pick_up) if concert.pick_up else item.date.isoformat(),
        rain="" if concert.cancelled else rain_line(context, concert),
        cancelled=context.say(item.cancelled),
        moved="" if concert.cancelled else moved_words(item.date, item.moved_from),
        on_the_day=None if concert.cancelled else item.on_the_day,
    )

"""A concert in a line: when, where, and the way to its page."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from handbook.domain.values.clock import format_clock
from handbook.outputs import addresses
from handbook.outputs.components.rain_words import rain_line
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.model import ConcertPlan, CyclePlan
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
    rain: str = ""


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


def _line(context: Context, cycle: CyclePlan, concert: ConcertPlan, ensemble: str) -> ConcertLine:
    hours = [
        format_clock(turn.first_note)
        for turn in concert.item.program
        if turn.first_note and ensemble in turn.names
    ]
    return ConcertLine(
        name=context.say(concert.item.name),
        path=addresses.concert(cycle.id, concert.id),
        date=formatting.short_day(concert.item.date),
        day=concert.item.date,
        time=" and ".join(hours) or formatting.clock(concert.downbeat),
        venue=context.say(concert.venue.name),
        cycle=context.say(cycle.item.name),
        rain=rain_line(context, concert),
    )

"""The concerts that come after one, for its audience."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time

from handbook.outputs.html.formatting import short_day
from handbook.outputs.i18n.formats import clock_time, with_clauses
from handbook.outputs.page import Context
from handbook.plan.concerts_ahead import MOST
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class NextConcert:
    """A concert that comes next: its name, and in words when and where it is."""

    name: str
    when: str


def next_concerts(
    context: Context, cycle: CyclePlan, concert: ConcertPlan
) -> tuple[NextConcert, ...]:
    """Give the next concerts after one: those of its cycle, then those of later ones."""
    return tuple(_found(context, cycle, concert))[:MOST]


def _found(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Iterator[NextConcert]:
    venues = {one.id: context.say(one.name) for one in context.plan.program.venues}
    own = (
        (one.item.name, one.item.date, one.item.downbeat, one.item.venue)
        for one in cycle.held_concerts
        if one.item.date > concert.item.date
    )
    others = ((one.name, one.date, one.downbeat, one.venue) for one in cycle.ahead)
    for name, day, downbeat, venue in (*own, *others):
        yield NextConcert(context.say(name), _when(day, downbeat, venues.get(venue, "")))


def _when(day: date, downbeat: time, venue: str) -> str:
    return with_clauses(filter(None, (short_day(day), clock_time(downbeat), venue)))

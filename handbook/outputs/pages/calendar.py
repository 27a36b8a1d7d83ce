"""The calendar: every date of every ensemble, in order."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime

from handbook.outputs import addresses
from handbook.outputs.components.rehearsal_names import anchors, what_it_is
from handbook.outputs.html import formatting
from handbook.outputs.model import SearchEntry
from handbook.outputs.page import Context, Page
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class EventView:
    """One date; `who` are ensemble ids for the filter; `path` is empty where no page tells more.

    `last` is the day on which it is over. `kind` is rehearsal, concert, cancelled or closed.
    """

    day: date
    last: date
    date: str
    time: str
    title: str
    detail: str
    path: str
    who: tuple[str, ...]
    kind: str
    sort: datetime


@dataclass(frozen=True, slots=True)
class CalendarMonth:
    """The dates of a month."""

    name: str
    last: date
    events: tuple[EventView, ...]


@dataclass(frozen=True, slots=True)
class CalendarView:
    """The page of all dates."""

    ensembles: tuple[tuple[str, str], ...]
    months: tuple[CalendarMonth, ...]
    zone: str


def pages(context: Context) -> Iterator[Page]:
    """Make the calendar."""
    plan = context.plan
    events = sorted(
        (*_events(context, plan), *_closures(context, plan)),
        key=lambda event: (event.sort, event.title),
    )
    months: dict[str, list[EventView]] = {}
    for event in events:
        months.setdefault(formatting.month(event.day), []).append(event)
    view = CalendarView(
        ensembles=tuple(
            (ensemble.id, context.say(ensemble.name)) for ensemble in plan.program.ensembles
        ),
        months=tuple(
            CalendarMonth(name, max(row.last for row in rows), tuple(rows))
            for name, rows in months.items()
        ),
        zone=plan.zone.key.replace("_", " "),
    )
    yield Page(
        path=addresses.CALENDAR,
        kind="calendar",
        title="Calendar",
        description="Every rehearsal and concert, by ensemble, and the days without school.",
        section="calendar",
        view=view,
        search=(
            SearchEntry(
                "Calendar",
                "Every rehearsal and concert, by ensemble.",
                keywords="dates schedule when",
            ),
        ),
    )


def _events(context: Context, plan: Plan) -> Iterator[EventView]:
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            yield from _rehearsals(context, cycle, ensemble)
            yield from _cancelled(context, cycle, ensemble)
        if cycle.concert:
            concert = cycle.concert
            yield EventView(
                day=concert.item.date,
                last=concert.item.date,
                date=formatting.short_day(concert.item.date),
                time=formatting.clock(concert.downbeat),
                title=context.say(concert.item.name),
                detail=context.say(concert.venue.name),
                path=addresses.concert(cycle.id),
                who=tuple(turn.ensemble.id for turn in concert.appearances),
                kind="concert",
                sort=concert.downbeat.replace(tzinfo=None),
            )


def _rehearsals(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[EventView]:
    path = addresses.ensemble(cycle.id, ensemble.item.id)
    for row, anchor in zip(ensemble.rehearsals, anchors(ensemble), strict=True):
        rehearsal = row.rehearsal
        yield EventView(
            day=rehearsal.day,
            last=rehearsal.day,
            date=formatting.short_day(rehearsal.day),
            time=formatting.span(rehearsal.start, rehearsal.end),
            title=f"{context.say(ensemble.item.name)}, rehearsal {rehearsal.n} of {rehearsal.of}",
            detail=" · ".join(
                filter(
                    None,
                    (
                        what_it_is(row),
                        context.say(row.stage.item.name),
                        context.say(row.room.name) if row.room else "",
                    ),
                )
            ),
            path=f"{path}#{anchor}",
            who=(ensemble.item.id,),
            kind="rehearsal",
            sort=rehearsal.start.replace(tzinfo=None),
        )


def _cancelled(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[EventView]:
    for missed in ensemble.missed:
        if missed.cause == "cancelled":
            yield EventView(
                day=missed.day,
                last=missed.day,
                date=formatting.short_day(missed.day),
                time="cancelled",
                title=f"Cancelled: {context.say(ensemble.item.name)} rehearsal",
                detail=missed.why,
                path=addresses.ensemble(cycle.id, ensemble.item.id),
                who=(ensemble.item.id,),
                kind="cancelled",
                sort=datetime(missed.day.year, missed.day.month, missed.day.day),  # noqa: DTZ001 - for order only
            )


def _closures(context: Context, plan: Plan) -> Iterator[EventView]:
    """Show the days without school that fall within a cycle, each once."""
    who = tuple(ensemble.id for ensemble in plan.program.ensembles)
    shown = dict.fromkeys(
        (first, last, context.say(closure.name))
        for cycle in plan.cycles
        for closure in cycle.year.closures
        if (first := closure.date or closure.from_) and (last := closure.date or closure.to)
        if first <= cycle.last and cycle.first <= last
    )
    for first, last, name in shown:
        until = "" if first == last else f" – {formatting.short_day(last)}"
        yield EventView(
            day=first,
            last=last,
            date=f"{formatting.short_day(first)}{until}",
            time="",
            title=f"No school: {name}",
            detail="",
            path="",
            who=who,
            kind="closed",
            sort=datetime(first.year, first.month, first.day),  # noqa: DTZ001 - for order only
        )

"""Events beside rehearsals and concerts: who and what is wanted twice, found in the plan."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from handbook.checks.check import check, finding
from handbook.checks.wording import day, first_few
from handbook.domain.values.clock import format_clock
from handbook.plan.absences import absences
from handbook.plan.concert_day.classes import away
from handbook.plan.concert_model import UseRow
from handbook.plan.events_model import AwayRow, EventDay, EventRow
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.plan.parts import takes_part
from handbook.plan.players import Players, players_of
from handbook.plan.shared_players import shared_counts
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.program import Ensemble


@check
def event_away_unclear(plan: Plan) -> Iterator[Problem]:
    """An event does not say how long its players are away, and rehearsals fall on its days.

    They are away from the call, the ride or the start to the end, the ride back or the
    pick-up. If none of these is known, nobody is taken out of rehearsal.

    Bad:

        events:
          - {id: trip, name: River trip, from: 2026-11-02, to: 2026-11-04, who: [lantern]}

    Good:

        events:
          - {id: trip, name: River trip, from: 2026-11-02, to: 2026-11-04, who: [lantern], away: all day}
    """
    told = set()
    for cycle in plan.cycles:
        for event in cycle.events:
            for one in event.days:
                if one.away or one.facts.away or one.cancelled or one.address in told:
                    continue
                held = [row for band in cycle.ensembles for row in _during(event, one, band)]
                if held:
                    told.add(one.address)
                    first = min(row.rehearsal.start for row in held)
                    count = (
                        "a rehearsal falls" if len(held) == 1 else f"{len(held)} rehearsals fall"
                    )
                    yield finding(
                        f"{_name(plan, event)} does not say until when its players are away, and {count} on its days, the first on {day(first.date())} at {format_clock(first.time())}",
                        one.address,
                        "add `ends:` or `pick_up:`; or say `away: all day`, or `away: none` if nobody misses class",
                        Severity.WARNING,
                    )


def _during(event: EventRow, one: EventDay, band: EnsemblePlan) -> Iterator[RehearsalRow]:
    """Give the rehearsals of a band of the event that may fall within it."""
    begins, over = one.moments.begins, one.moments.over
    for row in band.rehearsals if event.is_for(band.band) else ():
        held = row.rehearsal
        after = begins is not None and held.end <= begins
        before = over is not None and held.start >= over
        if one.first <= held.day <= one.last and not after and not before:
            yield row


@check
def event_during_concert(plan: Plan) -> Iterator[Problem]:
    """Players are wanted at an event and at a concert at the same time.

    It is only a warning where some players are wanted twice, of one instrument or shared by
    two bands, or where the event is for everyone.

    Bad:

        events:
          - {id: games, name: Games, date: 2026-12-10, call: 6:30 pm, starts: 7 pm, ends: 9 pm, who: [lantern]}   # the day of the concert

    Good:

        events:
          - {id: games, name: Games, date: 2026-12-11, call: 6:30 pm, starts: 7 pm, ends: 9 pm, who: [lantern]}
    """
    for cycle in plan.cycles:
        for concert in cycle.held_concerts:
            found: dict[Address, list[_Wanted]] = {}
            for group in concert.day.groups:
                if group.ensemble is None or group.section:
                    continue
                there = away(group)
                for row in _wanted(plan, cycle, Players(group.ensemble)):
                    if row.overlaps(*there):
                        found.setdefault(row.day.address, []).append((row, group.ensemble, there))
            for address, bands in found.items():
                yield _during_concert(plan, concert, address, bands)


_Wanted = tuple[AwayRow, Ensemble, tuple[datetime, datetime]]


def _during_concert(
    plan: Plan, concert: ConcertPlan, address: Address, bands: list[_Wanted]
) -> Problem:
    """Tell once of all bands that are wanted at an event and at a concert."""
    first, *_ = (row for row, _, _ in bands)
    start = min(there[0] for _, _, there in bands)
    end = max(there[1] for _, _, there in bands)
    who = first_few([_who(plan, row, band) for row, band, _ in bands])
    name = concert.item.name.read(plan.languages[0])
    whole = any(row.whole and not row.event.everyone for row, _, _ in bands)
    return finding(
        f"{who} are at {_name(plan, first.event)} {_when(first)}, and at {name} from {format_clock(start.time())} to {format_clock(end.time())}",
        address,
        "change a time or a date, or say under `who:` and `players:` who is at the event",
        Severity.ERROR if whole else Severity.WARNING,
        (Note("the concert's day is here", (*concert.address, "date")),),
    )


@check
def event_over_extra(plan: Plan) -> Iterator[Problem]:
    """An extra rehearsal is held while its players are at an event.

    An event takes ordinary rehearsals away, and leaves extra ones, since somebody asked for
    them.

    Bad:

        extra:
          - {ensemble: lantern, date: 2026-11-20, start: 6:30 pm, end: 8 pm}
        events:
          - {id: games, name: Games, date: 2026-11-20, call: 6 pm, starts: 7 pm, ends: 9 pm, who: [lantern]}

    Good:

        extra:
          - {ensemble: lantern, date: 2026-11-19, start: 6:30 pm, end: 8 pm}
    """
    for cycle in plan.cycles:
        for band in cycle.ensembles:
            extras = [row for row in band.rehearsals if row.rehearsal.index is not None]
            if not extras:
                continue
            item = next(one for one in plan.program.ensembles if one.id == band.band)
            players = next(one for one in players_of(item) if one.id == band.item.id)
            for row in _wanted(plan, cycle, players):
                for extra in extras:
                    held = extra.rehearsal
                    if row.overlaps(held.start, held.end):
                        yield finding(
                            f"{_who(plan, row, band.item)} are at {_name(plan, row.event)} {_when(row)}, while this rehearsal is held",
                            (*cycle.address, "extra", held.index or 0, "date"),
                            "change its time or its date, or let the event leave these players out",
                            Severity.WARNING,
                            (Note("the event is here", row.day.address),),
                        )


@check
def event_room_taken(plan: Plan) -> Iterator[Problem]:
    """A band rehearses, or a concert needs a room, where an event is at the same time.

    Bad:

        events:
          - {id: fitting, name: Uniform fitting, date: 2026-11-04, starts: 10 am, ends: 11 am, who: [harbor], room: band-room, away: none}   # lantern rehearses there

    Good:

        events:
          - {id: fitting, name: Uniform fitting, date: 2026-11-04, starts: 1 pm, ends: 2 pm, who: [harbor], room: band-room, away: none}
    """
    for cycle in plan.cycles:
        for event in cycle.events:
            for one in event.days:
                found = _in_its_room(cycle, one)
                if found is None:
                    continue
                band, row = found
                yield finding(
                    f"{band.item.name.read(plan.languages[0])} rehearses in the room of {_name(plan, event)} from {format_clock(row.rehearsal.start.time())} to {format_clock(row.rehearsal.end.time())} on {day(row.rehearsal.day)}",
                    one.address,
                    "choose another room or time, or cancel the rehearsal in the cycle's file",
                    Severity.WARNING,
                    (Note("the band is here", band.address),),
                )
    yield from _beside_concerts(plan)


def _beside_concerts(plan: Plan) -> Iterator[Problem]:
    """Tell the first use of a room on concert day that an event of the day is in too."""
    told = set()
    for cycle in plan.cycles:
        for event in cycle.events:
            for one in event.days:
                taken = _concert_in_its_room(cycle, one)
                if taken is None or one.address in told:
                    continue
                told.add(one.address)
                concert, use = taken
                say = plan.languages[0]
                yield finding(
                    f"{_name(plan, event)} is in {use.room.name.read(say)} while {concert.item.name.read(say)} needs it, from {format_clock(use.start.time())} to {format_clock(use.end.time())} on {day(concert.item.date)}",
                    one.address,
                    "choose another room or time for one of them",
                    Severity.WARNING,
                    (Note("the concert needs it here", use.address),),
                )


def _concert_in_its_room(cycle: CyclePlan, one: EventDay) -> tuple[ConcertPlan, UseRow] | None:
    span, room = one.span, one.place.room if one.place else None
    if span is None or room is None:
        return None
    return next(
        (
            (concert, use)
            for concert in cycle.held_concerts
            for use in concert.day.uses
            if use.room.id == room.id and _overlap(span, (use.start, use.end))
        ),
        None,
    )


def _in_its_room(cycle: CyclePlan, one: EventDay) -> tuple[EnsemblePlan, RehearsalRow] | None:
    """Find the first rehearsal that is held in the room of an event."""
    span, room = one.span, one.place.room if one.place else None
    if span is None or room is None:
        return None
    return next(
        (
            (band, row)
            for band in cycle.ensembles
            for row in band.rehearsals
            if row.room == room
            and not row.day_plan.sections
            and _overlap(span, (row.rehearsal.start, row.rehearsal.end))
        ),
        None,
    )


def _overlap(one: tuple[datetime, datetime], other: tuple[datetime, datetime]) -> bool:
    start, end = (moment.astimezone(UTC) for moment in one)
    return other[0].astimezone(UTC) < end and start < other[1].astimezone(UTC)


def _wanted(plan: Plan, cycle: CyclePlan, players: Players) -> tuple[AwayRow, ...]:
    """Give the times at which players are at events, in class time or not."""
    return absences(cycle.events, players, plan.program, there=True)


def _name(plan: Plan, event: EventRow) -> str:
    name = event.item.name
    return name.read(plan.languages[0]) if name else event.item.id


def _who(plan: Plan, row: AwayRow, band: Ensemble) -> str:
    """Say which players of a band are at an event, with their number where it is known."""
    name = band.name.read(plan.languages[0])
    if row.because:
        count = shared_counts(plan.program.ensembles).get(frozenset((band.id, row.because.id)), 0)
        too = f"of {name} who are in {row.because.name.read(plan.languages[0])} too"
        return f"{_players(count) if count else 'players'} {too}"
    count = sum(
        players
        for instrument, players in band.instruments.items()
        if takes_part(instrument, plan.program.instrument(instrument), row.players)
    )
    if count:
        return f"{_players(count)} of {name}"
    return f"players of {name}" if row.players else f"all of {name}"


def _players(count: int) -> str:
    return "1 player" if count == 1 else f"{count} players"


def _when(row: AwayRow) -> str:
    return f"from {format_clock(row.start.time())} to {format_clock(row.end.time())}"

"""What cannot be so on concert day, found in the reckoned plan."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from itertools import combinations, product

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.concert_traversal import concerts, group_name
from handbook.checks.wording import day, evening_meant
from handbook.domain.call_times import mark_after, mark_before
from handbook.domain.room_use import Clash, share_players, sharing_pairs
from handbook.domain.values.clock import format_clock
from handbook.plan.concert_day.classes import away
from handbook.plan.concert_model import DayConflict
from handbook.plan.model import ConcertPlan, Plan
from handbook.problems import Note, Problem, Severity
from handbook.source.names import listed


@check
def concert_room_twice(plan: Plan) -> Iterator[Problem]:
    """One room is needed twice at the same time on concert day.

    A band's room is its own from the time it must be ready there until the last of it has
    packed: its cases stay there while it plays. Two bands may share one if they warm up in
    turn; at the same minutes it is asked whether that is meant, and nothing stops.

    Bad:

        calls:
          - {ensemble: harbor, room: band-room}
          - {ensemble: lantern, room: band-room}   # both warm up at 6:25 pm

    Good:

        calls:
          - {ensemble: harbor, room: band-room}
          - {ensemble: lantern, room: choir-room}
    """
    for conflict in _conflicts(plan, Clash.ROOM_TWICE):
        yield _clash(
            f"{conflict.room} is needed twice {_when(conflict)}: for {conflict.first.what} and for {conflict.second.what}",
            conflict,
            "move one of them to another room, or to another time",
        )
    for conflict in _conflicts(plan, Clash.WARM_UPS_TOGETHER):
        yield replace(
            _clash(
                f"two bands are in {conflict.room} at once {_when(conflict)}: {conflict.first.what} and {conflict.second.what}",
                conflict,
                "move one of them to another room or another time; if there is one room alone, let them warm up in turn, each with a `call` of its own",
            ),
            severity=Severity.WARNING,
        )


@check
def call_in_words_alone(plan: Plan) -> Iterator[Problem]:
    """It is said only in words where a band gets ready, so that nobody sees whether the room is taken.

    Rooms stand once in program.yaml, at school or under their venue. A turn or a call that
    names one by its `room` is looked at beside all others; `place` may say how to find it.

    Bad:

        calls:
          - {ensemble: lantern, place: The old dining hall}

    Good:

        calls:
          - {ensemble: lantern, room: choir-room, place: By the back stairs}
    """
    for _, concert in concerts(plan):
        for group in concert.day.groups:
            if group.ensemble and group.place and group.room is None:
                yield finding(
                    f"where {group_name(plan, group)} gets ready is said in words alone: “{group.place.read(plan.languages[0])}”",
                    group.address,
                    "add it to the rooms of program.yaml or of the venue, and write `room:` with its id; "
                    "only then is it seen if it is needed twice",
                    Severity.WARNING,
                )


@check
def players_in_two_places(plan: Plan) -> Iterator[Problem]:
    """Players are wanted in two places at once on concert day.

    Either one ensemble is, or two that share players.

    Bad:

        ensembles:
          - {id: jazz, name: Jazz Band, shares_players_with: [harbor]}
        calls:
          - {ensemble: harbor, room: band-room}
          - {ensemble: jazz, room: choir-room}   # at the same time

    Good:

        calls:
          - {ensemble: harbor, room: band-room}
          - {ensemble: jazz, room: choir-room, minutes: {warm_up: 0, unpack: 0}}
    """
    for conflict in _conflicts(plan, Clash.PLAYERS_TWICE):
        yield _clash(
            f"the same players are wanted twice {_when(conflict)}: for {conflict.first.what} and for {conflict.second.what}",
            conflict,
            "put them one after the other, or play the ensembles in another order",
        )


@check
def two_concerts_at_once(plan: Plan) -> Iterator[Problem]:
    """Two concerts of one day need the same players, or the same room, at one time.

    A band's time at a concert is from the bus, or from its room, until it is collected or has
    packed. That of bands which share players counts too.

    Bad:

        downbeat: 7:00 pm   # as the other concert of that day, in concerts/holiday-show.yaml

    Good:

        downbeat: 5:00 pm
    """
    pairs = sharing_pairs({one.id: one.shares_players_with for one in plan.program.ensembles})
    found = sorted((one for _, one in concerts(plan)), key=lambda one: one.downbeat)
    for first, second in combinations(found, 2):
        if first.item.date == second.item.date:
            clash = _same_players(plan, first, second, pairs) or _same_room(plan, first, second)
            if clash:
                yield finding(
                    f"{clash} on {day(first.item.date)}",
                    (*second.address, "downbeat"),
                    "give one of the two another hour or another day",
                    notes=(Note("the other concert is here", (*first.address, "downbeat")),),
                )


def _same_players(
    plan: Plan, first: ConcertPlan, second: ConcertPlan, pairs: frozenset[frozenset[str]]
) -> str:
    for one, other in product(first.day.groups, second.day.groups):
        if not (one.ensemble and other.ensemble) or one.section or other.section:
            continue
        start, end = _common(away(one), away(other))
        if start < end and share_players([one.ensemble.id], [other.ensemble.id], pairs):
            return (
                f"{group_name(plan, one)} is wanted at {_called(plan, first)} while "
                f"{group_name(plan, other)} is at {_called(plan, second)}, "
                f"from {_span(start, end)},"
            )
    return ""


def _same_room(plan: Plan, first: ConcertPlan, second: ConcertPlan) -> str:
    for one, other in product(first.day.uses, second.day.uses):
        start, end = _common((one.start, one.end), (other.start, other.end))
        if one.room.id == other.room.id and start < end:
            return (
                f"{one.room.name.read(plan.languages[0])} is needed for {_called(plan, first)} and for "
                f"{_called(plan, second)} from {_span(start, end)}"
            )
    return ""


def _common(
    one: tuple[datetime, datetime], other: tuple[datetime, datetime]
) -> tuple[datetime, datetime]:
    """Give the time that two spans have in common; its end is not after its start if they have none."""
    starts, ends = (one[0], other[0]), (one[1], other[1])
    return max(starts, key=_instant), min(ends, key=_instant)


def _instant(moment: datetime) -> datetime:
    return moment.astimezone(UTC)


def _called(plan: Plan, concert: ConcertPlan) -> str:
    return f"“{concert.item.name.read(plan.languages[0])}”"


def _span(start: datetime, end: datetime) -> str:
    return (
        f"{format_clock(mark_before(start, 1).time())} to {format_clock(mark_after(end, 1).time())}"
    )


@check
def warm_up_over_performance(plan: Plan) -> Iterator[Problem]:
    """Players warm up while they, or an ensemble that shares them, are on stage.

    Bad:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
          - {ensemble: jazz, pieces: [night-ferry]}   # shares players with harbor
        calls:
          - {ensemble: jazz, room: choir-room, minutes: {warm_up: 20}}

    Good:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
          - ensemble: jazz
            before: [{what: intermission, minutes: 15}]
            pieces: [night-ferry]
        calls:
          - {ensemble: jazz, room: choir-room, minutes: {warm_up: 10}}
    """
    for conflict in _conflicts(plan, Clash.WARM_UP_OVER_PERFORMANCE):
        yield _clash(
            f"players are to warm up while they play {_when(conflict)}: {conflict.first.what} and {conflict.second.what}",
            conflict,
            "shorten the warm-up, put a pause between the two, or play them in another order",
        )


@check
def call_before_school_out(plan: Plan) -> Iterator[Problem]:
    """Players must be at the bus, or ready in the room, before school is out.

    The end of school is that of the day's bells in the year's file. If it is meant, write
    `during_school: yes` into the concert.

    Bad:

        downbeat: 3:00 pm
        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 2:15 pm}   # school ends at 2:45 pm

    Good:

        downbeat: 4:00 pm
        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 3:15 pm}
    """
    for conflict in _conflicts(plan, Clash.CALL_BEFORE_SCHOOL_OUT):
        downbeat = next(
            one.item.downbeat
            for _, one in concerts(plan)
            if conflict in (*one.day.conflicts, *_in_rain(one))
        )
        out = conflict.end.time()
        meant = evening_meant(conflict.start.time(), lambda clock: out <= clock <= downbeat, "")  # noqa: B023 - called at once
        yield _clash(
            f"{conflict.first.what} is before {conflict.second.what}",
            conflict,
            meant
            or "begin later, shorten the steps before the first note, or write `during_school: yes` if it is meant",
        )


@check
def outside_venue_hours(plan: Plan) -> Iterator[Problem]:
    """Somebody is to be in the venue before it opens or after it closes.

    Bad:

        closes: 8:00 pm
        downbeat: 7:00 pm   # the last band has packed at 8:20 pm

    Good:

        closes: 8:30 pm
        downbeat: 7:00 pm
    """
    for conflict in _conflicts(plan, Clash.OUTSIDE_OPENING):
        yield _clash(
            f"{conflict.first.what} is outside {conflict.second.what} {_when(conflict)}",
            conflict,
            "ask the venue for other hours, or move what is outside them",
        )


@check
def evening_too_long(plan: Plan) -> Iterator[Problem]:
    """A band is picked up later than the evening allows.

    Bad:

        evening_ends: 8:30 pm
        pick_up: 8:45 pm

    Good:

        evening_ends: 9:00 pm
        pick_up: 8:45 pm
    """
    for conflict in _conflicts(plan, Clash.PAST_EVENING_LIMIT):
        yield _clash(
            f"{conflict.first.what} is after {conflict.second.what}",
            conflict,
            "begin earlier, or shorten the program, its pauses or the way home",
        )


@check
def bus_seats_short(plan: Plan) -> Iterator[Problem]:
    """More riders than seats.

    Riders are the players that the program counts for the ensembles of the ride (or
    `students`, if that is given) and the adults with them. Seats that hold instruments
    hold no riders.

    Bad:

        instruments: {flute: 20, clarinet: 20, trumpet: 20}
        rides:
          - {ensembles: [harbor], adults: 4, buses: [{id: bus-1, seats: 52}]}

    Good:

        rides:
          - {ensembles: [harbor], adults: 4, buses: [{id: bus-1, seats: 52}, {id: bus-2, seats: 28}]}
    """
    for _, concert in concerts(plan):
        for ride in concert.day.rides:
            if ride.short:
                yield finding(
                    f"{ride.short.riders} riders have {ride.short.seats} seats: {ride.short.short} are missing",
                    (*ride.address, "buses"),
                    "add a bus or a larger one, or state how many students ride",
                    notes=(Note("the riders are here", (*ride.address, "ensembles")),),
                )


@check
def venue_stock_short(plan: Plan) -> Iterator[Problem]:
    """The venue has too few of what one set-up needs.

    What stands on the stage follows from the counts of players; what the venue has is
    under `stock`.

    Bad:

        stock: {chair: 40}   # harbor alone needs 43

    Good:

        stock: {chair: 60}
    """
    for cycle, concert in concerts(plan):
        rain = concert.rain
        found = [(concert.venue, concert.day, (*concert.address, "venue"))]
        if rain and rain.day and rain.item.venue:
            found.append((rain.venue, rain.day, (*rain.address, "venue")))
        for venue, at_day, address in found:
            seating = at_day.seating
            if seating is None or not seating.stock.short:
                continue
            lacks = listed([f"{each.short} × {each.thing}" for each in seating.stock.short], "and")
            yield finding(
                f"{venue.id} has too little for the largest set-up of {cycle}: bring {lacks}",
                address,
                "bring them along and list them under equipment, let players share, or correct the stock",
                Severity.WARNING,
            )


@check
def too_heavy_for_carrier(plan: Plan) -> Iterator[Problem]:
    """One piece weighs more than its cart or truck takes.

    Bad:

        carriers:
          - {id: cart, name: Cart, weight: 60 lb}
        equipment:
          - {id: timpani, name: Timpani, weight: 85 lb, from: band-room, to: stage, carrier: cart}

    Good:

        equipment:
          - {id: timpani, name: Timpani, weight: 85 lb, from: band-room, to: stage, carrier: truck}
    """
    for _, concert in concerts(plan):
        load = concert.day.load
        heavy = {
            (one, route.carrier.id)
            for route in (load.routes if load else ())
            if route.trips and route.carrier
            for one in route.trips.too_heavy
        }
        for place, gear in traversal.moves(concert.item.equipment):
            if (gear.id, gear.carrier) in heavy:
                carriers = [carrier.id for carrier in concert.item.carriers]
                at = (*concert.address, "carriers", carriers.index(gear.carrier or ""), "weight")
                yield finding(
                    f"one `{gear.id}` weighs more than `{gear.carrier}` takes",
                    (*concert.address, "equipment", *place, "carrier"),
                    "let something else carry it",
                    notes=(Note("what it takes is here", at),),
                )


def _conflicts(plan: Plan, clash: Clash) -> Iterator[DayConflict]:
    """Give the conflicts of one kind, each pair of places once."""
    told = set()
    for _, concert in concerts(plan):
        for conflict in (*concert.day.conflicts, *_in_rain(concert)):
            places = (conflict.first.address, conflict.second.address)
            if conflict.clash is clash and places not in told:
                told.add(places)
                yield conflict


def _in_rain(concert: ConcertPlan) -> Iterator[DayConflict]:
    """Give what clashes in bad weather alone, and says so."""
    for conflict in concert.rain.conflicts if concert.rain else ():
        first = replace(conflict.first, what=f"{conflict.first.what}, in bad weather,")
        yield replace(conflict, first=first)


def _clash(message: str, conflict: DayConflict, hint: str) -> Problem:
    note = Note(f"{conflict.second.what} is here", conflict.second.address)
    return finding(message, conflict.first.address, hint, notes=(note,))


def _when(conflict: DayConflict) -> str:
    return f"from {_span(conflict.start, conflict.end)}"

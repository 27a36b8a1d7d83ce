"""Groups, rides and loads of concert day that name nobody or nothing."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import unknown
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook


@check
@once_a_name
def unknown_role(handbook: Handbook) -> Iterator[Problem]:
    """A role of the crew is named that the concert does not have.

    Bad:

        crew:
          - {id: stage-crew, name: Stage crew}
        calls:
          - {role: stage-hands}

    Good:

        calls:
          - {role: stage-crew}
    """
    for _, concert in traversal.concerts(handbook):
        known = {role.id for role in concert.item.crew}
        named: list[tuple[Address, str | None]] = [
            ((concert.file, "calls", place, "role"), call.role)
            for place, call in enumerate(concert.item.calls)
        ]
        named += [
            ((concert.file, "bookings", place, "who"), booking.who)
            for place, booking in enumerate(concert.item.bookings)
        ]
        named += [
            ((concert.file, "equipment", *at, "who"), gear.who)
            for at, gear in traversal.moves(concert.item.equipment)
        ]
        for address, name in named:
            if name is not None and name not in known:
                yield unknown("role of the crew", name, address, known, "under crew")


@check
def role_without_time(handbook: Handbook) -> Iterator[Problem]:
    """A role of the crew has something to do, and nothing says when.

    Its people look for an hour and find none. It has one by a call, by a task that is due at a
    time, or by a room that is booked for it.

    Bad:

        crew:
          - {id: truck-crew, name: Truck crew, tasks: [Load the truck]}

    Good:

        crew:
          - {id: truck-crew, name: Truck crew, tasks: [Load the truck]}
        calls:
          - {role: truck-crew, call: 4:30 pm}
    """
    for _, concert in traversal.concerts(handbook):
        item = concert.item
        timed = {call.role for call in item.calls} | {booking.who for booking in item.bookings}
        moving = {gear.who for _, gear in traversal.moves(item.equipment)}
        for place, role in enumerate(item.crew):
            busy = role.tasks or role.id in moving
            if busy and role.id not in timed and not any(task.by for task in role.tasks):
                yield finding(
                    f"nothing says when `{role.id}` is needed",
                    (concert.file, "crew", place, "id"),
                    f"add `- {{role: {role.id}, call: ...}}` under calls, or `by:` to a task",
                    Severity.WARNING,
                )


@check
@once_a_name
def unknown_carrier(handbook: Handbook) -> Iterator[Problem]:
    """Equipment goes by a cart or truck that the concert does not have.

    Bad:

        carriers:
          - {id: truck, name: Box truck}
        equipment:
          - {id: timpani, name: Timpani, from: band-room, to: dock, carrier: van}

    Good:

        equipment:
          - {id: timpani, name: Timpani, from: band-room, to: dock, carrier: truck}
    """
    for _, concert in traversal.concerts(handbook):
        known = {carrier.id for carrier in concert.item.carriers}
        for at, gear in traversal.moves(concert.item.equipment):
            if gear.carrier is not None and gear.carrier not in known:
                address = (concert.file, "equipment", *at, "carrier")
                what = "cart or truck"
                yield unknown(what, gear.carrier, address, known, "under carriers")


@check
@once_a_name
def unknown_equipment(handbook: Handbook) -> Iterator[Problem]:
    """A lift is of an item that is not under `equipment`.

    Bad:

        lifts:
          - what: Into the truck
            equipment: timpano
            start: {reach: 15 in, height: 20 in}
            end: {reach: 15 in, height: 40 in}
            per_minute: 0.2

    Good:

        lifts:
          - what: Into the truck
            equipment: timpani
            start: {reach: 15 in, height: 20 in}
            end: {reach: 15 in, height: 40 in}
            per_minute: 0.2
    """
    for _, concert in traversal.concerts(handbook):
        known = {gear.id for gear in concert.item.equipment}
        for place, lift in enumerate(concert.item.care.lifts if concert.item.care else ()):
            if lift.equipment is not None and lift.equipment not in known:
                at = (concert.file, "care", "lifts", place, "equipment")
                what = "item of equipment"
                yield unknown(what, lift.equipment, at, known, "under equipment")


@check
def lift_without_weight(handbook: Handbook) -> Iterator[Problem]:
    """A lift has no weight, neither its own nor that of its item.

    A weight is never guessed: weigh it, or take it from the maker's papers.

    Bad:

        equipment:
          - {id: timpani, name: Timpani, from: band-room, to: dock}
        lifts:
          - what: Into the truck
            equipment: timpani
            start: {reach: 15 in, height: 20 in}
            end: {reach: 15 in, height: 40 in}
            per_minute: 0.2

    Good:

        equipment:
          - {id: timpani, name: Timpani, weight: 85 lb, from: band-room, to: dock}
    """
    for _, concert in traversal.concerts(handbook):
        weights = {gear.id: gear.weight for gear in concert.item.equipment}
        for place, lift in enumerate(concert.item.care.lifts if concert.item.care else ()):
            if lift.weight is not None or (lift.equipment or "") not in {"", *weights}:
                continue
            if weights.get(lift.equipment or "") is None:
                yield finding(
                    "this lift has no weight",
                    (
                        concert.file,
                        "care",
                        "lifts",
                        place,
                        "equipment" if lift.equipment else "what",
                    ),
                    "add `weight:` here, or to the item under equipment",
                )


@check
def call_without_group(handbook: Handbook) -> Iterator[Problem]:
    """An entry of `calls` does not say whom it is for, or is for an ensemble and a role at once.

    It is for an ensemble, for a `section` of one, or for a `role` of the crew.

    Bad:

        calls:
          - {section: percussion, room: band-room}

    Good:

        calls:
          - {ensemble: lantern, section: percussion, room: band-room}
    """
    for _, concert in traversal.concerts(handbook):
        for place, call in enumerate(concert.item.calls):
            at: Address = (concert.file, "calls", place)
            if call.ensemble is None and call.role is None:
                yield finding(
                    "this entry of `calls` does not say whom it is for",
                    at,
                    "add `ensemble:`, or `role:` for a role of the crew",
                )
            elif call.role is not None and (call.ensemble or call.section):
                yield finding(
                    "this entry of `calls` is for a role of the crew and for an ensemble, and only one can hold",
                    (*at, "role"),
                    "write an entry for each",
                )


@check
def ensemble_in_two_rides(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble is to travel in two rides.

    Its players could not know which bus is theirs.

    Bad:

        rides:
          - {ensembles: [lantern, harbor], buses: [{id: bus-1, seats: 52}]}
          - {ensembles: [harbor], buses: [{id: bus-2, seats: 52}]}

    Good:

        rides:
          - {ensembles: [lantern], buses: [{id: bus-1, seats: 52}]}
          - {ensembles: [harbor], buses: [{id: bus-2, seats: 52}]}
    """
    for _, concert in traversal.concerts(handbook):
        first: dict[str, Address] = {}
        for place, ride in enumerate(concert.item.travel.rides if concert.item.travel else ()):
            for number, name in enumerate(ride.ensembles):
                at = (concert.file, "travel", "rides", place, "ensembles", number)
                if name in first:
                    yield finding(
                        f"`{name}` is in two rides",
                        at,
                        "keep it in one",
                        notes=(Note("its other ride is here", first[name]),),
                    )
                first.setdefault(name, at)

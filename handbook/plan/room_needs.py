"""When each room is in use on a concert's day: by players, by the crew, and until the last is collected.

A room is needed as long as anybody is in it. Where the crew is at which minute is not written
anywhere, so its rooms are taken for all of its time: a room may be open too long, never too short.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime

from handbook.domain.room_use import Purpose
from handbook.plan.concert_day.ground import room_called
from handbook.plan.concert_model import ConcertDay, GroupDay
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass
from handbook.schema.loads import CrewRole
from handbook.schema.program import Program, Room


@dataclass(frozen=True, slots=True)
class RoomTime:
    """A room in use from `start` to `end`; of nobody but a role of the `crew` where that is set."""

    room: Room
    start: datetime
    end: datetime
    crew: CrewRole | None = None


def concert_rooms(concert: ConcertPlan, program: Program) -> Iterator[RoomTime]:
    """Give every use of a room on a concert's day, in no order; uses may overlap."""
    day, stage = concert.day, _stage(concert.day)
    rooms = {room.id: room for room in (*program.rooms, *concert.venue.rooms)}
    for use in day.uses:
        yield RoomTime(use.room, use.start, use.end, use.role)
    if stage is not None:
        yield RoomTime(stage, concert.downbeat, day.ends)  # remarks at the end, too
        rooms[stage.id] = stage
    for group in day.groups:
        if group.role is not None and group.ensemble is None:
            yield from _of_crew(concert, group, group.role, rooms, stage)
        elif group.room is not None and group.call is not None:
            start = min(group.call, group.times.duties, key=_instant)
            yield RoomTime(group.room, start, group.times.packed)
        yield from _waiting(concert, group, program)


def players_groups(day: ConcertDay, bands: Mapping[str, object]) -> tuple[GroupDay, ...]:
    """Give the groups that are players of a band: who plays, and a crew that is a band's."""
    return tuple(
        group
        for group in day.groups
        if group.ensemble is not None or (group.role is not None and group.role.ensemble in bands)
    )


def _stage(day: ConcertDay) -> Room | None:
    return next((use.room for use in day.uses if use.purpose is Purpose.PERFORMANCE), None)


def _of_crew(
    concert: ConcertPlan,
    group: GroupDay,
    role: CrewRole,
    rooms: Mapping[str, Room],
    stage: Room | None,
) -> Iterator[RoomTime]:
    """Give the rooms of a role from its call until it is done.

    They are its own, and those from and to which it moves things; with neither, nor a booking of
    its own, it serves the stage. Where it has bookings of its own it is there at those hours, and
    in other rooms only before.
    """
    done = group.pick_up or group.times.packed
    if group.call is None or _instant(done) <= _instant(group.call):
        return
    own = [use for use in concert.day.uses if use.role is not None and use.role.id == role.id]
    booked = {use.room.id for use in own}
    found = {group.room.id: group.room} if group.room is not None else {}
    for move in concert.day.load.moves if concert.day.load else ():
        if move.who == role.id:
            found |= {name: rooms[name] for name in (move.from_, move.to) if name in rooms}
    if not found and not booked and group.place is None and stage is not None:
        found = {stage.id: stage}
    for name, room in found.items():
        if name in booked:
            continue
        end = min([done, *(use.start for use in own)], key=_instant)
        if _instant(group.call) < _instant(end):
            yield RoomTime(room, group.call, end, role)


def _waiting(concert: ConcertPlan, group: GroupDay, program: Program) -> Iterator[RoomTime]:
    """Give the room in which players wait to be collected; their own if no other place is named."""
    if group.collect is None or group.to_class:
        return
    if group.ensemble is None and (group.role is None or group.role.ensemble is None):
        return
    place, start = concert.item.pick_up_place, group.times.packed
    if place is not None:
        room = room_called(place, (*concert.venue.rooms, *program.rooms))
    else:
        room = group.room if group.ride is None else None
    if group.ride is not None:
        start = concert.day.rides[group.ride].back.unloaded
    if room is not None and _instant(start) < _instant(group.collect):
        yield RoomTime(room, start, group.collect)


def _instant(moment: datetime) -> datetime:
    return moment.astimezone(UTC)

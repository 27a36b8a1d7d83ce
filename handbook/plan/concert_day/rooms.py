"""Rooms over the day: warm-ups, the stage, bookings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from handbook.domain.room_use import ItemType, Purpose, Ref, RoomUse, stage_uses
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.groups import CalledGroup
from handbook.plan.concert_day.show import Show
from handbook.plan.concert_model import UseRow
from handbook.problems import Address
from handbook.schema.program import Room


@dataclass(frozen=True, slots=True)
class PlacedUse:
    """A use of a room for the calculators, beside what pages and messages need of it."""

    use: RoomUse
    row: UseRow


def placed_uses(ground: Ground, groups: Sequence[CalledGroup], show: Show) -> tuple[PlacedUse, ...]:
    """Give all uses in order of time."""
    found = [
        *_warm_ups(ground, groups),
        *_turns(ground, show),
        *_bookings(ground),
    ]
    return tuple(sorted(found, key=lambda placed: (placed.use.start, placed.use.end)))


def section_id(group: CalledGroup) -> str:
    """Name a section as if it were an ensemble, since its players may be elsewhere than its band."""
    return group.id


def _warm_ups(ground: Ground, groups: Sequence[CalledGroup]) -> Iterator[PlacedUse]:
    """Give a room to each group from its first case opened until it walks to the stage.

    A section in the same room as its band needs none of its own.
    """
    bands = {group.id: group.room for group in groups if not group.section}
    for group in groups:
        if group.room is None or not group.reckoned or group.times.unpack == group.times.walk:
            continue
        band = group.ensemble.id if group.ensemble else ""
        if group.section and bands.get(band) == group.room:
            continue
        use = RoomUse(
            Ref(ItemType.USE, f"group:{group.id}"),
            group.room.id,
            group.times.unpack,
            group.times.walk,
            (section_id(group),) if group.ensemble else (),
            Purpose.WARM_UP if group.ensemble else Purpose.OTHER,
        )
        yield PlacedUse(use, _row(ground, use, group.room, group.address, group))


def _turns(ground: Ground, show: Show) -> Iterator[PlacedUse]:
    for use in stage_uses(show.run, ground.stage.id):
        address = show.addresses[int(use.ref.key)]
        yield PlacedUse(use, _row(ground, use, ground.stage, address[:3]))


def _bookings(ground: Ground) -> Iterator[PlacedUse]:
    for n, booking in enumerate(ground.item.bookings):
        room = ground.rooms.get(booking.room)
        start, end = ground.moment(booking.start), ground.ending(booking.end)
        if room is None or end < start:  # told by the checks of references
            continue
        use = RoomUse(
            Ref(ItemType.USE, f"booking:{n}"), room.id, start, end, tuple(booking.ensembles)
        )
        row = _row(ground, use, room, ground.at("bookings", n))
        yield PlacedUse(use, replace(row, what=booking.what))


def _row(
    ground: Ground, use: RoomUse, room: Room, address: Address, group: CalledGroup | None = None
) -> UseRow:
    ids = [group.ensemble.id] if group and group.ensemble else list(use.ensembles)
    return UseRow(
        room=room,
        start=use.start,
        end=use.end,
        purpose=use.purpose,
        ensembles=tuple(ground.ensembles[one] for one in ids if one in ground.ensembles),
        group=group.id if group else None,
        what=(group.name or (group.role.name if group.role else None)) if group else None,
        address=address,
    )

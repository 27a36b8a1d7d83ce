"""Rooms over the day: those of the bands, the stage, steps after the performance, bookings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Literal

from handbook.domain.call_times import EarlierTime, LaterTime
from handbook.domain.room_use import ItemType, Purpose, Ref, RoomUse, Span, stage_uses
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.groups import CalledGroup
from handbook.plan.concert_day.show import Show
from handbook.plan.concert_model import UseRow
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.program import Room


@dataclass(frozen=True, slots=True)
class PlacedUse:
    """A use of a room for the calculators, beside what pages and messages need of it."""

    use: RoomUse
    row: UseRow


def placed_uses(ground: Ground, groups: Sequence[CalledGroup], show: Show) -> tuple[PlacedUse, ...]:
    """Give all uses in order of time."""
    found = [
        *_own_rooms(ground, groups),
        *_turns(ground, groups, show),
        *_steps(ground, groups, "before"),
        *_steps(ground, groups, "after"),
        *_bookings(ground),
    ]
    return tuple(sorted(found, key=lambda placed: (placed.use.start, placed.use.end)))


def section_id(group: CalledGroup) -> str:
    """Name a section as if it were an ensemble, since its players may be elsewhere than its band."""
    return group.id


def _own_rooms(ground: Ground, groups: Sequence[CalledGroup]) -> Iterator[PlacedUse]:
    """Give each group its room from its call until the last of it has packed.

    The room holds its cases while it plays, but its players are wanted there only from the
    first case opened until they walk to the stage. A section in the same room as its band
    needs none of its own, and a band that warms up with the one it joins is there with it.
    """
    bands = {group.id: group.room for group in groups if not group.section}
    for group in groups:
        if group.room is None or bands.get(_leader(group)) == group.room:
            continue
        together = [
            one
            for one in groups
            if one is group or (_leader(one) == group.id and one.room == group.room)
        ]
        joining = [one.id for one in together if one.host and not one.section]
        for n, (start, end, wanted) in enumerate(_spans(ground, group, together)):
            if start >= end:
                continue
            use = RoomUse(
                Ref(ItemType.USE, f"group:{group.id}" + (f":{n}" if n else "")),
                group.room.id,
                start,
                end,
                (section_id(group), *joining) if group.ensemble else (),
                Purpose.WARM_UP if group.ensemble else Purpose.OTHER,
                wanted,
            )
            yield PlacedUse(use, _row(ground, use, group.room, group.address, group))


def _leader(group: CalledGroup) -> str:
    """Give the id of the band whose room a group may share: its own band, or the one it joins."""
    return (_band(group) if group.section else group.host) or ""


def _spans(
    ground: Ground, group: CalledGroup, together: Sequence[CalledGroup]
) -> Iterator[tuple[datetime, datetime, Span]]:
    """Give the stretches over which a group holds its room, and when its players are in it.

    Between two turns of which each has its hour it takes its cases along.
    """
    start, end = _held(ground, group, together)
    elsewhere = any(
        ground.room_in(entry.room, entry.place)
        for entry in (ground.item.before[one.step.index] for one in group.times.beforehand)
    )
    wanted = (group.times.warm_up if elsewhere else group.times.unpack, group.times.walk)
    for again in group.times.returns:
        yield start, min(end, again.off_stage), wanted
        start, wanted = min(again.call, again.unpack), (again.unpack, again.walk)
    on_stage = group.room is not None and group.room.id == ground.stage.id
    yield start, wanted[1] if on_stage and group.times.returns else end, wanted


def _held(
    ground: Ground, group: CalledGroup, together: Sequence[CalledGroup]
) -> tuple[datetime, datetime]:
    """Find from when till when a room is held; the crew's, and the stage, only for its own steps."""
    times = group.times
    if group.ensemble is None:
        return times.unpack, times.walk
    calls = [min(one.call, one.times.unpack) for one in together if one.call]
    if not calls:
        return times.walk, times.walk
    on_stage = group.room is not None and group.room.id == ground.stage.id
    return min(calls), times.walk if on_stage else max(one.times.packed for one in together)


def _band(group: CalledGroup) -> str:
    return group.ensemble.id if group.ensemble else ""


def _turns(ground: Ground, groups: Sequence[CalledGroup], show: Show) -> Iterator[PlacedUse]:
    """Give the stage to each turn from the moment its first players sit in place."""
    seated: dict[str, datetime] = {}
    for group in groups:
        seated[_band(group)] = min(
            seated.get(_band(group), group.times.in_place), group.times.in_place
        )
    returned = {
        (_band(group), again.first_note): again.in_place
        for group in groups
        if not group.section
        for again in group.times.returns
    }
    for use in stage_uses(show.run, ground.stage.id, seated):
        sits = [returned[key] for one in use.ensembles if (key := (one, use.start)) in returned]
        use = replace(use, start=min([use.start, *sits]))  # noqa: PLW2901 - the same use
        turn = show.turns[int(use.ref.key)]
        yield PlacedUse(use, _row(ground, use, ground.stage, ground.at("program", turn or 0)))


def _steps(
    ground: Ground, groups: Sequence[CalledGroup], field: Literal["before", "after"]
) -> Iterator[PlacedUse]:
    """Give a room to each step beside the usual ones; bands in it at the same time go together."""
    found: dict[tuple[int, datetime, datetime], list[str]] = {}
    entries = ground.item.before if field == "before" else ground.item.after
    for group in groups:
        for step in _times(group, field) if not group.section else ():
            found.setdefault((step.step.index, step.start, step.end), []).append(group.id)
    for (n, start, end), bands in found.items():
        entry = entries[n]
        step_room = ground.room_in(entry.room, entry.place)
        if step_room is not None:
            ref = Ref(ItemType.USE, f"{field}:{n}:{bands[0]}")
            use = RoomUse(ref, step_room.id, start, end, tuple(bands))
            row = _row(ground, use, step_room, ground.at(field, n))
            yield PlacedUse(use, replace(row, what=entry.name, step=True))


def _times(
    group: CalledGroup, field: Literal["before", "after"]
) -> Sequence[EarlierTime | LaterTime]:
    return group.times.beforehand if field == "before" else group.times.afterward


def _bookings(ground: Ground) -> Iterator[PlacedUse]:
    for n, booking in enumerate(ground.item.bookings):
        room = ground.rooms.get(booking.room)
        start, end = ground.moment(booking.start), ground.ending(booking.end)
        if room is None:  # told by the checks of references
            continue
        use = RoomUse(
            Ref(ItemType.USE, f"booking:{n}"), room.id, start, end, tuple(booking.ensembles)
        )
        row = _row(ground, use, room, ground.at("bookings", n))
        role = next((one for one in ground.item.crew if one.id == booking.who), None)
        yield PlacedUse(use, replace(row, what=booking.what, role=role))


def _row(
    ground: Ground, use: RoomUse, room: Room, address: Address, group: CalledGroup | None = None
) -> UseRow:
    ids = [one.partition("/")[0] for one in use.ensembles]
    return UseRow(
        room=room,
        start=use.start,
        end=use.end,
        purpose=use.purpose,
        ensembles=tuple(ground.performers[one] for one in ids if one in ground.performers),
        group=group.id if group else None,
        what=(group.name or (group.role.name if group.role else None)) if group else None,
        address=address,
    )

"""What cannot be so on concert day, each with both things in words and with both places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from handbook.domain.call_times import mark_after, mark_before
from handbook.domain.room_use import (
    Clash,
    Conflict,
    ItemType,
    OpeningHours,
    Purpose,
    Ref,
    RoomUse,
    calls_before_school_out,
    outside_opening,
    overlapping_uses,
    past_evening_limit,
    sharing_pairs,
)
from handbook.domain.values.clock import format_clock
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.rooms import PlacedUse
from handbook.plan.concert_day.school_day import SchoolOut, school_out
from handbook.plan.concert_day.show import Show
from handbook.plan.concert_model import ConflictSide, DayConflict, GroupDay, UseRow
from handbook.plan.shared_players import shared_counts
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class _Day:
    """What the finders look at, and how each thing they name is called."""

    ground: Ground
    groups: Sequence[GroupDay]
    uses: Sequence[PlacedUse]
    show: Show
    sides: Mapping[Ref, ConflictSide]
    warm_ups: Mapping[Ref, ConflictSide]


def conflicts(
    ground: Ground, groups: Sequence[GroupDay], uses: Sequence[PlacedUse], show: Show
) -> tuple[DayConflict, ...]:
    """Find all of them: rooms and players first, then hours."""
    out = None if ground.item.during_school else school_out(ground)
    sides = dict(_sides(ground, groups, uses, out))
    day = _Day(ground, groups, uses, show, sides, dict(_warm_ups(ground, groups, uses)))
    found = (*_overlaps(day), *_hours(day), *_school(day, out), *_evening(day))
    return tuple(_told(day, conflict) for conflict in found)


def group_name(ground: Ground, group: GroupDay) -> str:
    """Name a group in the language of messages."""
    say = ground.language
    if group.role:
        return group.role.name.read(say)
    band = group.ensemble.name.read(say) if group.ensemble else group.id
    if not group.section:
        return band
    section = group.name.read(say) if group.name else group.section.replace("-", " ")
    return f"{band}, {section}"


def use_name(ground: Ground, row: UseRow, groups: Sequence[GroupDay]) -> str:
    """Say who uses a room for what."""
    say = ground.language
    if row.group:
        group = next(group for group in groups if group.id == row.group)
        joining = (one for one in row.ensembles if group.ensemble and one.id != group.ensemble.id)
        name = " with ".join((group_name(ground, group), *(one.name.read(say) for one in joining)))
        own = "warm-up" if group.again else "warm-up to packed"
        return f"{name}, from {own}" if row.purpose is Purpose.WARM_UP else name
    if row.purpose is Purpose.PERFORMANCE:
        names = " with ".join(ensemble.name.read(say) for ensemble in row.ensembles)
        return f"the turn of {names} on stage"
    return f"“{row.what.read(say)}”" if row.what else "a booked room"


def _sides(
    ground: Ground, groups: Sequence[GroupDay], uses: Sequence[PlacedUse], out: SchoolOut | None
) -> Iterator[tuple[Ref, ConflictSide]]:
    """Pair whatever a conflict may name with its words and its address."""
    for placed in uses:
        row = placed.row
        yield (
            placed.use.ref,
            ConflictSide(
                f"{use_name(ground, row, groups)} ({_span(row.start, row.end)})", row.address
            ),
        )
    for group in groups:
        name = group_name(ground, group)
        if group.report:
            words = f"{name}, {_meeting(group)} at {_clock(group.report)},"
            yield Ref(ItemType.CALL, group.id), ConflictSide(words, group.call_address)
        if group.collect:
            words = f"the pick-up of {name} ({_clock(group.collect)})"
            yield Ref(ItemType.PICK_UP, group.id), ConflictSide(words, group.pick_up_address)
        words = f"{name} ({_span(*_presence(ground, group))})"
        yield Ref(ItemType.ENSEMBLE, group.id), ConflictSide(words, group.address)
    yield Ref(ItemType.VENUE, ground.venue.id), _venue_side(ground)
    if out:
        words = f"the end of school ({_clock(out.moment)})"
        yield (
            Ref(ItemType.SCHOOL_DAY, ground.item.date.isoformat()),
            ConflictSide(words, out.address),
        )
    if ground.item.evening_ends:
        limit = ground.ending(ground.item.evening_ends)
        words = f"the latest pick-up ({_clock(limit)})"
        yield (
            Ref(ItemType.EVENING_LIMIT, limit.date().isoformat()),
            ConflictSide(words, ground.at("evening_ends")),
        )


def _warm_ups(
    ground: Ground, groups: Sequence[GroupDay], uses: Sequence[PlacedUse]
) -> Iterator[tuple[Ref, ConflictSide]]:
    """Name the warm-ups themselves, for conflicts about players and not about rooms."""
    by_id = {group.id: group for group in groups}
    for placed in uses:
        group = by_id.get(placed.row.group or "")
        if group and placed.use.wanted and placed.use.purpose is Purpose.WARM_UP:
            words = f"the warm-up of {group_name(ground, group)} ({_span(*placed.use.wanted)})"
            yield placed.use.ref, ConflictSide(words, placed.row.address)


def _meeting(group: GroupDay) -> str:
    """Name the moment at which a group must be where it meets first."""
    return "at the bus" if group.ride is not None else "ready in the room"


def _venue_side(ground: Ground) -> ConflictSide:
    """Name the venue's hours; the address is that of its closing, or of its opening if it has no other."""
    item, name = ground.item, ground.venue.name.read(ground.language)
    opens = _clock(ground.moment(item.opens)) if item.opens else ""
    closes = _clock(ground.ending(item.closes)) if item.closes else ""
    hours = (
        f"{opens} to {closes}"
        if opens and closes
        else f"from {opens}"
        if opens
        else f"until {closes}"
    )
    return ConflictSide(
        f"the time that {name} is open ({hours})", ground.at("closes" if closes else "opens")
    )


def _overlaps(day: _Day) -> Iterator[Conflict]:
    """Find rooms and players wanted twice; a section may be elsewhere than its own band."""
    sharing = _sharing(day)
    found = overlapping_uses(
        [placed.use for placed in day.uses], sharing, _partly(day.ground, sharing)
    )
    bands = {placed.use.ref: _bands(placed.use) for placed in day.uses}
    for conflict in found:
        same_band = bands[conflict.first] & bands[conflict.second]
        if conflict.clash is Clash.PLAYERS_TWICE and same_band:
            purposes = {
                p.use.purpose for p in day.uses if p.use.ref in {conflict.first, conflict.second}
            }
            if purposes == {Purpose.WARM_UP}:
                continue
        yield conflict


def _bands(use: RoomUse) -> frozenset[str]:
    return frozenset(ensemble.partition("/")[0] for ensemble in use.ensembles)


def _sharing(day: _Day) -> frozenset[frozenset[str]]:
    """Give the pairs with players in common: a section shares with its band and with what that shares."""
    bands = sharing_pairs(
        {one.id: one.shares_players_with for one in day.ground.program.item.ensembles}
    )
    names = {one for placed in day.uses for one in placed.use.ensembles}
    return frozenset(
        frozenset((first, second))
        for first in names
        for second in names
        if first != second
        and (
            (mine := first.partition("/")[0]) == (theirs := second.partition("/")[0])
            or frozenset((mine, theirs)) in bands
        )
    )


def _partly(ground: Ground, sharing: frozenset[frozenset[str]]) -> frozenset[frozenset[str]]:
    """Give the pairs of which it is known that each band has players who are not in the other."""
    bands = ground.ensembles
    sizes = {one: sum(band.instruments.values()) for one, band in bands.items()}
    known = {
        pair
        for pair, count in shared_counts(bands.values()).items()
        if count < min(sizes.get(one, 0) for one in pair)
    }
    return frozenset(
        pair for pair in sharing if frozenset(one.partition("/")[0] for one in pair) in known
    )


def _presence(ground: Ground, group: GroupDay) -> tuple[datetime, datetime]:
    """Give the time a group spends in the venue: all of its evening, or just that on stage."""
    times = group.times
    if group.room is not None and group.room.id not in ground.venue_rooms:
        return times.in_place, times.packing if times.group.stays else times.off_stage
    return min(times.duties, group.call or times.duties), times.packed


def _hours(day: _Day) -> Iterator[Conflict]:
    item, ground = day.ground.item, day.ground
    if not (item.opens or item.closes):
        return
    always = timedelta(days=2)
    opens = ground.moment(item.opens) if item.opens else ground.downbeat - always
    closes = ground.ending(item.closes) if item.closes else ground.downbeat + always
    inside = f"{ground.venue.id}/inside"
    hours = OpeningHours(ground.venue.id, ground.venue_rooms | {inside}, opens, closes)
    present = [
        RoomUse(Ref(ItemType.ENSEMBLE, group.id), inside, *_presence(ground, group))
        for group in day.groups
    ]
    booked = [
        placed.use
        for placed in day.uses
        if placed.row.group is None and placed.row.purpose is not Purpose.PERFORMANCE
    ]
    bands = {
        (conflict.first.key, conflict.end <= opens)
        for conflict in outside_opening(present, [hours])
    }
    for conflict in outside_opening([*present, *booked], [hours]):
        band, _, section = str(conflict.first.key).partition("/")
        if not (section and (band, conflict.end <= opens) in bands):  # told with its band
            yield conflict


def _school(day: _Day, out: SchoolOut | None) -> Iterator[Conflict]:
    calls = {
        Ref(ItemType.CALL, group.id): group.report
        for group in _once_a_ride(day.groups)
        if group.report
    }
    yield from calls_before_school_out(calls, out.moment if out else None)


def _evening(day: _Day) -> Iterator[Conflict]:
    if day.ground.item.evening_ends is None:
        return
    ends = {
        Ref(ItemType.PICK_UP, group.id): group.collect
        for group in _once_a_ride(day.groups)
        if group.collect
    }
    yield from past_evening_limit(ends, day.ground.ending(day.ground.item.evening_ends))


def _once_a_ride(groups: Sequence[GroupDay]) -> Iterator[GroupDay]:
    """Give all groups of players, but only the first of those who ride together."""
    seen = set()
    for group in groups:
        if group.ensemble and group.ride not in seen:
            yield group
        if group.ride is not None:
            seen.add(group.ride)


def _told(day: _Day, conflict: Conflict) -> DayConflict:
    rooms = {placed.use.ref: placed.row.room for placed in day.uses}
    of_rooms = {Clash.ROOM_TWICE, Clash.WARM_UPS_TOGETHER}
    room = rooms.get(conflict.first) if conflict.clash in of_rooms else None
    sides = day.sides if conflict.clash is Clash.ROOM_TWICE else {**day.sides, **day.warm_ups}
    second = sides[conflict.second]
    opens = day.ground.item.opens
    if (
        conflict.clash is Clash.OUTSIDE_OPENING
        and opens
        and conflict.end <= day.ground.moment(opens)
    ):
        second = replace(second, address=day.ground.at("opens"))
    return DayConflict(
        conflict.clash,
        sides[conflict.first],
        second,
        conflict.start,
        conflict.end,
        room.name.read(day.ground.language) if room else "",
    )


def _clock(moment: datetime) -> str:
    return format_clock(moment.time())


def _span(start: datetime, end: datetime) -> str:
    """Write a span of whole minutes that holds all of it."""
    return f"{_clock(mark_before(start, 1))} to {_clock(mark_after(end, 1))}"

"""An outdoor concert in bad weather: the same entries at another place or time, as far as they are stated."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import time
from typing import TypeVar

from handbook.plan.concert_day.ground import Ground
from handbook.schema.base import Item
from handbook.schema.concert import Concert
from handbook.schema.rain import ConcertRainPlan

ItemT = TypeVar("ItemT", bound=Item)
_MINUTES_A_DAY = 24 * 60
Moving = Callable[[time | None], time | None]


def rain_ground(ground: Ground) -> Ground | None:
    """Put the concert where and when it is in bad weather; None where it is not given then.

    Rooms of the place in the open are left out; what the rain plan says of rooms and hours
    takes their place.
    """
    rain = ground.item.rain
    if rain is None or not rain.is_given:
        return None
    venues = {venue.id: venue for venue in ground.program.item.venues}
    venue = venues.get(rain.venue or "", ground.venue)
    outside = ground.venue_rooms if venue.id != ground.venue.id else frozenset()
    item = _in_rain(ground.item, rain, outside)
    return replace(ground, concert=replace(ground.concert, item=item), venue=venue)


def _in_rain(item: Concert, rain: ConcertRainPlan, outside: frozenset[str]) -> Concert:
    move = _moving(item.downbeat, rain.downbeat or item.downbeat)
    elsewhere = bool(outside)
    same_day = rain.date is None
    travel = item.travel and item.travel.model_copy(
        update={"rides": _moved(item.travel.rides, move, ("leaves",))}
    )
    return item.model_copy(
        update={
            "venue": rain.venue or item.venue,
            "date": rain.date or item.date,
            "downbeat": rain.downbeat or item.downbeat,
            "doors": move(item.doors),
            "pick_up": move(item.pick_up),
            "opens": rain.opens if elsewhere or rain.opens else move(item.opens),
            "closes": rain.closes if elsewhere or rain.closes else move(item.closes),
            "program": _roomed(_moved(item.program, move, ("first_note", "call")), rain, outside),
            "calls": _roomed(_moved(item.calls, move, ("call", "pick_up")), rain, outside),
            "before": _roomed(_moved(item.before, move, ("starts",)), rain, outside),
            "after": _roomed(_moved(item.after, move, ("starts",)), rain, outside),
            "bookings": tuple(one for one in item.bookings if same_day and one.room not in outside),
            "travel": travel,
        }
    )


def _moving(usual: time, then: time) -> Moving:
    """Move a stated time as the downbeat moves."""
    by = _minutes(then) - _minutes(usual)

    def move(clock: time | None) -> time | None:
        if clock is None or not by:
            return clock
        hour, minute = divmod((_minutes(clock) + by) % _MINUTES_A_DAY, 60)
        return time(hour, minute)

    return move


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute


def _moved(entries: Sequence[ItemT], move: Moving, fields: Sequence[str]) -> tuple[ItemT, ...]:
    return tuple(
        entry.model_copy(update={field: move(getattr(entry, field)) for field in fields})
        for entry in entries
    )


def _roomed(
    entries: Sequence[ItemT], rain: ConcertRainPlan, outside: frozenset[str]
) -> tuple[ItemT, ...]:
    """Give entries the rooms of the rain plan; words for a place hold for the usual one alone."""
    found = []
    for entry in entries:
        own = rain.rooms.get(getattr(entry, "ensemble", None) or "")
        stays = getattr(entry, "room", None) not in outside
        if own:
            found.append(entry.model_copy(update={"room": own, "place": None}))
        elif outside:
            kept = getattr(entry, "room", None) if stays else None
            found.append(entry.model_copy(update={"room": kept, "place": None}))
        else:
            found.append(entry)
    return tuple(found)

"""Rides: buses back from the calls at the venue and forward from the last one packed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from handbook.domain.call_times import StatedTime, check_departure
from handbook.domain.run_of_show import RunOfShow
from handbook.domain.shared_players import together
from handbook.domain.travel import Bus, Outbound, RideMinutes, homebound, outbound, seats_short
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.groups import CalledGroup
from handbook.plan.concert_model import RideDay
from handbook.plan.shared_players import shared_counts
from handbook.schema.travel import Ride, Travel


def rides(ground: Ground, groups: Sequence[CalledGroup], run: RunOfShow) -> tuple[RideDay, ...]:
    """Reckon each ride; one bus load waits for its earliest call and its last player."""
    travel = ground.item.travel
    if travel is None:
        return ()
    return tuple(_ride(ground, travel, n, groups, run) for n in range(len(travel.rides)))


def ride_of(ground: Ground, group: CalledGroup) -> int | None:
    """Give the place of the ride that a group's ensemble is in."""
    if ground.item.travel is None or group.ensemble is None:
        return None
    return next(
        (
            n
            for n, ride in enumerate(ground.item.travel.rides)
            if group.ensemble.id in ride.ensembles
        ),
        None,
    )


def _ride(
    ground: Ground, travel: Travel, place: int, groups: Sequence[CalledGroup], run: RunOfShow
) -> RideDay:
    item = travel.rides[place]
    minutes = RideMinutes(travel.load, travel.drive, travel.unload)
    riding = [group for group in groups if ride_of(ground, group) == place]
    buses = [Bus(bus.id, bus.seats, min(bus.held, bus.seats)) for bus in item.buses]
    riders = _students(item, ground) + item.adults
    leaves = ground.ending(item.leaves) if item.leaves else None
    ready = max((group.times.ready for group in riding), default=run.end)
    return RideDay(
        item=item,
        riders=riders,
        seats=sum(bus.free for bus in buses),
        there=_there(riding, minutes),
        back=homebound(ready, minutes, leaves),
        early=_early(homebound(ready, minutes).depart, leaves),
        last=next((group.id for group in riding if group.times.ready == ready), None),
        short=seats_short(riders, buses),
        address=ground.at("travel", "rides", place),
    )


def _students(ride: Ride, ground: Ground) -> int:
    """Count the players of the ride's ensembles, each once, unless the director gives a number."""
    if ride.students is not None:
        return ride.students
    known = ground.ensembles
    counts = {one: known[one].instruments for one in ride.ensembles if one in known}
    return sum(together(counts, shared_counts(known.values())).values())


def _there(riding: Sequence[CalledGroup], minutes: RideMinutes) -> Outbound | None:
    calls = [group.call for group in riding if group.call]
    return outbound(min(calls), minutes) if calls else None


def _early(all_in: datetime, leaves: datetime | None) -> StatedTime | None:
    found = check_departure(all_in, leaves) if leaves else None
    return found if found and found.shortfall else None

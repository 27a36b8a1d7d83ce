"""The day of one concert, put together from its topics."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from handbook.domain.calls import CallTimes, StatedTime, check_call, check_pick_up
from handbook.plan.concert_day.conflicts import conflicts
from handbook.plan.concert_day.equipment import load_day
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.groups import CalledGroup, called_groups
from handbook.plan.concert_day.rides import ride_of, rides
from handbook.plan.concert_day.rooms import placed_uses
from handbook.plan.concert_day.setups import seating_day
from handbook.plan.concert_day.show import show
from handbook.plan.concert_model import ConcertDay, GroupDay, RideDay
from handbook.plan.model import EnsemblePlan


def concert_day(ground: Ground, plans: Mapping[str, EnsemblePlan]) -> ConcertDay:
    """Reckon the whole day from its entries and from the durations of the pieces."""
    played = show(ground, plans)
    called = called_groups(ground, played.run)
    ridden = rides(ground, called, played.run)
    groups = tuple(_group_day(ground, group, ridden) for group in called)
    uses = placed_uses(ground, called, played)
    item = ground.item
    return ConcertDay(
        rows=played.rows,
        ends=played.run.end,
        seconds=played.run.seconds,
        groups=groups,
        rides=ridden,
        uses=tuple(placed.row for placed in uses),
        seating=seating_day(ground, played.run),
        load=load_day(ground),
        conflicts=conflicts(ground, groups, uses, played),
        doors=ground.moment(item.doors) if item.doors else None,
        opens=ground.moment(item.opens) if item.opens else None,
        closes=ground.ending(item.closes) if item.closes else None,
    )


def _group_day(ground: Ground, group: CalledGroup, ridden: Sequence[RideDay]) -> GroupDay:
    """Join a group with its ride: families meet the bus, and collect where it comes back to."""
    place = ride_of(ground, group)
    ride = ridden[place] if place is not None else None
    there, back = (ride.there, ride.back) if ride else (None, None)
    times = replace(group.times, ready=back.unloaded) if back else group.times
    reckoned_pick_up = (back.pick_up if back else times.pick_up) if group.reckoned else None
    pick_up = group.stated_pick_up or reckoned_pick_up
    return GroupDay(
        id=group.id,
        ensemble=group.ensemble,
        section=group.section,
        role=group.role,
        name=group.name,
        room=group.room,
        place=group.place,
        times=group.times,
        reckoned=group.reckoned,
        call=group.call,
        pick_up=pick_up,
        report=there.report if there else group.call,
        collect=pick_up,
        ride=place,
        late_call=_late(times, group.stated_call),
        early_pick_up=_early(times, group.stated_pick_up),
        address=group.address,
        call_address=group.call_address,
        pick_up_address=group.pick_up_address,
    )


def _late(times: CallTimes, stated: datetime | None) -> StatedTime | None:
    found = check_call(times, stated) if stated else None
    return found if found and found.shortfall else None


def _early(times: CallTimes, stated: datetime | None) -> StatedTime | None:
    found = check_pick_up(times, stated) if stated else None
    return found if found and found.shortfall else None

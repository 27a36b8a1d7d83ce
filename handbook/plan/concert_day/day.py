"""The day of one concert, put together from its topics."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from itertools import groupby, pairwise

from handbook.domain.call_times import (
    CallTimes,
    EarlierTime,
    LaterTime,
    StatedTime,
    check_call,
    check_pick_up,
    minutes_short,
)
from handbook.domain.run_of_show import RunOfShow, Turn
from handbook.plan.concert_day.classes import missed_classes
from handbook.plan.concert_day.conflicts import conflicts
from handbook.plan.concert_day.equipment import load_day
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_day.groups import CalledGroup, called_groups
from handbook.plan.concert_day.rides import ride_of, rides
from handbook.plan.concert_day.rooms import placed_uses
from handbook.plan.concert_day.school_day import SchoolOut, school_out
from handbook.plan.concert_day.setups import seating_day
from handbook.plan.concert_day.show import Show, show
from handbook.plan.concert_model import AgainDay, ConcertDay, GroupDay, RideDay, StepRow, Stint
from handbook.plan.model import EnsemblePlan
from handbook.schema.concert import Guest
from handbook.schema.program import Ensemble


def concert_day(ground: Ground, plans: Mapping[str, EnsemblePlan]) -> ConcertDay:
    """Reckon the whole day from its entries and from the durations of the pieces."""
    played = show(ground, plans)
    called = called_groups(ground, played.run)
    ridden = rides(ground, called, played.run)
    out = school_out(ground) if ground.item.during_school else None
    groups = tuple(_group_day(ground, group, ridden, played, out) for group in called)
    uses = placed_uses(ground, called, played)
    item = ground.item
    return ConcertDay(
        rows=played.rows,
        ends=played.run.end,
        seconds=played.run.seconds,
        groups=groups,
        rides=ridden,
        uses=tuple(placed.row for placed in uses),
        seating=seating_day(ground, played),
        load=load_day(ground),
        conflicts=conflicts(ground, groups, uses, played),
        missed=missed_classes(ground, groups, plans),
        late_turns=played.late,
        doors=ground.moment(item.doors) if item.doors else None,
        opens=ground.moment(item.opens) if item.opens else None,
        closes=ground.ending(item.closes) if item.closes else None,
    )


def _group_day(
    ground: Ground,
    group: CalledGroup,
    ridden: Sequence[RideDay],
    played: Show,
    out: SchoolOut | None,
) -> GroupDay:
    """Join a group with its ride: families meet the bus, and collect where it comes back to."""
    run = played.run
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
        collect=_collected(ground, group, pick_up),
        ride=place,
        late_call=_late(times, group.stated_call),
        early_pick_up=_early(times, group.stated_pick_up),
        address=group.address,
        call_address=group.call_address,
        pick_up_address=group.pick_up_address,
        short_in_place=_short_in_place(group, run),
        in_place_address=group.in_place_address,
        beforehand=tuple(_earlier(ground, step) for step in group.times.beforehand),
        afterward=tuple(_later(ground, step) for step in group.times.afterward),
        stints=tuple(_stints(ground, group, run)),
        again=tuple(_again(ground, group, played)),
        to_class=bool(out and pick_up and group.stated_pick_up is None and pick_up < out.moment),
    )


def _collected(ground: Ground, group: CalledGroup, done: datetime | None) -> datetime | None:
    """Give when families collect a group: a band that is the crew waits for the stated pick-up of all."""
    band = group.role.ensemble if group.role else None
    if done is None or band is None or band in ground.item.players or group.stated_pick_up:
        return done
    return max(done, ground.ending(ground.item.pick_up)) if ground.item.pick_up else done


def _again(ground: Ground, group: CalledGroup, played: Show) -> Iterator[AgainDay]:
    """Give the later turns for which a group gathers again, with the calls stated for them."""
    for times in group.times.returns:
        place = played.turns[times.index] if times.index is not None else None
        turn = ground.item.program[place or 0]
        stated = ground.ending(turn.call) if turn.call and not group.section else None
        short = minutes_short(times.unpack, stated) if stated and group.reckoned else 0
        yield AgainDay(
            times,
            stated or (times.call if group.reckoned else None),
            StatedTime(stated, times.unpack, short) if stated and short else None,
            ground.at("program", place or 0, *(("call",) if stated else ())),
        )


def _short_in_place(group: CalledGroup, run: RunOfShow) -> int:
    """Give the minutes in place that the stage takes, where the director could have them back.

    That is where they are stated for this band, or where something stands in the pause
    before the reset. The usual changeover leaves no time to sit, and is nobody's mistake.
    """
    waits = any(
        turn.start == group.times.first_note and turn.reset and turn.reset > before.end
        for before, turn in pairwise(run.turns())
    )
    short = group.times.group.allowances.in_place - group.times.minutes_in_place
    return short if waits or group.own_in_place else 0


def _earlier(ground: Ground, time: EarlierTime) -> StepRow:
    item = ground.item.before[time.step.index]
    return StepRow(
        item=item,
        start=time.start,
        end=time.end,
        room=ground.room_in(item.room, item.place),
        late=minutes_short(time.until, time.end),
        free=time.until,
        address=ground.at("before", time.step.index),
    )


def _later(ground: Ground, time: LaterTime) -> StepRow:
    item = ground.item.after[time.step.index]
    return StepRow(
        item=item,
        start=time.start,
        end=time.end,
        room=ground.room_in(item.room, item.place),
        late=minutes_short(time.start, time.free),
        free=time.free,
        address=ground.at("after", time.step.index),
    )


def _stints(ground: Ground, group: CalledGroup, run: RunOfShow) -> Iterator[Stint]:
    if group.ensemble is None:
        return
    for stretch in run.stretches_of(group.ensemble.id):
        turns = [(turn, _partners(ground, turn, group.ensemble.id)) for turn in stretch]
        for place, (partners, alike) in enumerate(groupby(turns, key=lambda pair: pair[1])):
            first, *others = (turn for turn, _ in alike)
            yield Stint(first.start, (others or [first])[-1].end, partners, place > 0)


def _partners(ground: Ground, turn: Turn, ensemble: str) -> tuple[Ensemble | Guest, ...]:
    return tuple(ground.performers[one] for one in turn.ensembles if one != ensemble)


def _late(times: CallTimes, stated: datetime | None) -> StatedTime | None:
    found = check_call(times, stated) if stated else None
    return found if found and found.shortfall else None


def _early(times: CallTimes, stated: datetime | None) -> StatedTime | None:
    found = check_pick_up(times, stated) if stated else None
    return found if found and found.shortfall else None

"""A band's concert day, step by step, until the pick-up, in the times that families read.

Reckoned times are rounded outward to 5 minutes: down for what begins, up for what is over. A
time that the director states is shown as it is stated.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from handbook.domain.call_times import CallTimes, ReturnTimes, mark_after, mark_before
from handbook.outputs.components.concert_words import (
    AT_THE_BUS,
    IN_THE_ROOM,
    names,
    place_of,
    room_of_step,
)
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.concert_model import AgainDay, GroupDay
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass

_FAMILIES, _PICK_UP = "families", "pick-up"
_HEAR = "; hear the other bands"


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: its time as families read it, by the school's clock, and what happens.

    `kind` is `pick-up`, or `families` for what else concerns them; nothing for the players' own.
    """

    at: datetime
    what: str
    kind: str = ""

    @property
    def time(self) -> str:
        """The time as it is read."""
        return formatting.clock(self.at)

    @property
    def moment(self) -> str:
        """The day and the time as the script reads them, `2026-12-17T17:20`."""
        return self.at.strftime("%Y-%m-%dT%H:%M")


@dataclass(frozen=True, slots=True)
class DayCard:
    """One band's day; `n` is its number in the filter."""

    n: int
    band: str
    anchor: str
    steps: tuple[StepView, ...]


def day_card(context: Context, concert: ConcertPlan, group: GroupDay, n: int) -> DayCard | None:
    """Gather a band's steps; None where the content gives no minutes to reckon them from."""
    if not group.reckoned or group.ensemble is None:
        return None
    return DayCard(
        n=n,
        band=names(context, [group.ensemble]),
        anchor=f"day-{group.ensemble.id}",
        steps=tuple(_steps(context, concert, group)),
    )


def _steps(context: Context, concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    yield from _there(context, concert, group)
    yield from _before(context, group)
    yield from _on_stage(context, group)
    yield from _afterward(context, concert, group)
    yield from _back(concert, group)


def _there(context: Context, concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    travel, ride = concert.item.travel, group.ride
    if travel is not None and ride is not None:
        there = concert.day.rides[ride].there
        if there:
            meet = _small(context.say(travel.meet))
            yield StepView(there.report, f"{AT_THE_BUS}{_at(meet)}", _FAMILIES)
            yield StepView(mark_before(there.depart), "Buses leave")
            yield StepView(
                mark_before(there.arrive), f"Arrive at {context.say(concert.venue.name)}"
            )
    if group.call:
        yield StepView(group.call, f"{IN_THE_ROOM}{_at(place_of(context, group))}", _FAMILIES)


def _before(context: Context, group: GroupDay) -> Iterator[StepView]:
    """Give the steps that take any time."""
    times = group.times
    if times.duties < times.unpack:
        yield StepView(mark_before(times.duties), "Set up")
    yield from _to_the_stage(context, group, times)


def _returning(context: Context, group: GroupDay, again: AgainDay) -> Iterator[StepView]:
    """Give the steps between two turns of which each has its hour."""
    yield StepView(mark_after(again.times.off_stage), "Off the stage, free until called again")
    if again.call:
        where = _at(place_of(context, group))
        yield StepView(again.call, f"{IN_THE_ROOM} again{where}", _FAMILIES)
    yield from _to_the_stage(context, group, again.times)


def _to_the_stage(
    context: Context, group: GroupDay, times: CallTimes | ReturnTimes
) -> Iterator[StepView]:
    room = context.say(group.room.name) if group.room else ""
    first = isinstance(times, CallTimes)
    unpacked = (times.unpacked if isinstance(times, CallTimes) else None) or times.warm_up
    if times.unpack < unpacked:
        yield StepView(mark_before(times.unpack), f"Unpack{_in(room)}")
    for step in group.beforehand if first else ():
        what = f"{context.say(step.item.name)}{_at(room_of_step(context, step))}"
        start = step.start if step.item.starts else mark_before(step.start)
        yield StepView(start, f"{what}, {step.item.minutes} min")
    steps = (
        (times.warm_up, times.walk, f"Warm-up{_in(room)}"),
        (times.walk, times.in_place, "Walk to the stage"),
        (times.in_place, times.first_note, "In place"),
    )
    for start, end, what in steps:
        if start < end:
            yield StepView(mark_before(start), what)


def _on_stage(context: Context, group: GroupDay) -> Iterator[StepView]:
    """Give the first note and the last, and between them each return to the stage."""
    returns = {again.times.first_note: again for again in group.again}
    for place, stint in enumerate(group.stints):
        again = returns.get(stint.start)
        if again:
            yield from _returning(context, group, again)
        partners = names(context, stint.partners)
        words = "First note again" if again else "On stage again" if place else "First note"
        if stint.goes_on:
            words = "Play on" if partners else "Play on alone"
        begins = not stint.goes_on and (again is not None or not place)
        kind = _FAMILIES if begins else ""
        yield StepView(mark_before(stint.start), f"{words}{_with(partners)}", kind)
    yield StepView(mark_after(group.times.last_note), "Last note")


def _afterward(context: Context, concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    """Give what follows the last note, each at the band's own time."""
    times, ends = group.times, concert.day.ends
    seated = times.off_stage > ends  # the last band to play sits on stage until the end
    if seated and times.last_note < ends:
        yield StepView(mark_after(ends), "The concert ends", _FAMILIES)
    listens = times.group.stays and not seated
    pack_at_once = times.packing == times.off_stage and times.packed > times.packing
    next_at_once = ", pack up" if pack_at_once else _HEAR if listens and not group.afterward else ""
    yield StepView(mark_after(times.off_stage), f"Off the stage{next_at_once}")
    for step in group.afterward:
        what = f"{context.say(step.item.name)}{_at(room_of_step(context, step))}"
        start = step.start if step.item.starts else mark_after(step.start)
        yield StepView(start, f"{what}, {step.item.minutes} min")
    if listens:
        if group.afterward:
            yield StepView(mark_after(_free(group)), "Sit and hear the other bands")
        packs = "; then pack up" if times.packed > times.packing else ""
        yield StepView(mark_after(ends), f"The concert ends{packs}", _FAMILIES)
    elif not pack_at_once and times.packed > times.packing:
        yield StepView(mark_after(times.packing), "Pack up")
    yield StepView(mark_after(times.packed), "Packed")


def _free(group: GroupDay) -> datetime:
    """Give the moment at which a band has nothing more to do but to hear the others."""
    return max([group.times.off_stage, *(step.end for step in group.afterward)])


def _back(concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    if group.ride is not None:
        ride = concert.day.rides[group.ride]
        leave = ride.back.depart
        yield StepView(
            leave if ride.item.leaves else mark_after(leave),
            "Buses leave for school",
        )
        yield StepView(mark_after(ride.back.arrive), "Back at school", _FAMILIES)
    if group.collect:
        last = ("Then class", _FAMILIES) if group.to_class else ("Pick-up", _PICK_UP)
        yield StepView(group.collect, *last)


def _at(place: str) -> str:
    return f", {place}" if place else ""


def _with(partners: str) -> str:
    return f" with {partners}" if partners else ""


def _in(room: str) -> str:
    return f" in {room}" if room else ""


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]

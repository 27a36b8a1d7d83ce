"""A band's concert day, step by step, until the pick-up, in the times that families read.

They are reckoned to the nearest minute, as the crew reads them, so that no two bands seem to be
on stage at once. Only calls, buses and pick-ups are rounded outward to 5 minutes. A time that the
director states is shown as it is stated.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from handbook.domain.call_times import CallTimes, ReturnTimes
from handbook.domain.run_of_show import shown
from handbook.outputs.components.concert_words import (
    at_the_bus,
    bus_times,
    in_the_room,
    names,
    place_of,
    room_of_step,
    way_to,
)
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext, speech
from handbook.outputs.page import Context
from handbook.plan.concert_model import AgainDay, GroupDay, StepRow
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass

_FAMILIES, _PICK_UP = "families", "pick-up"


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: its time as families read it, by the school's clock, and what happens.

    `kind` is `pick-up`, or `families` for what else concerns them, or `end` for the last of all;
    nothing for the players' own.
    What is `due`, a task in its own words, is to be done by then; `way` is how to find the place.
    """

    at: datetime
    what: str
    kind: str = ""
    due: bool = False
    way: str = ""

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
        bus = bus_times(concert.day.rides[ride])
        if bus.there:
            meet = _small(context.say(travel.meet))
            be_there = gettext("Be at the bus, %(place)s", place=meet) if meet else at_the_bus()
            yield StepView(bus.there.report, be_there, _FAMILIES)
            yield StepView(bus.there.leaves, gettext("Buses leave"))
            venue = context.say(concert.venue.name)
            yield StepView(bus.there.arrives, gettext("Arrive at %(venue)s", venue=venue))
    if group.call:
        place = place_of(context, group)
        ready = gettext("Ready in the room, %(place)s", place=place) if place else in_the_room()
        yield StepView(group.call, ready, _FAMILIES, way=way_to(context, group))


def _before(context: Context, group: GroupDay) -> Iterator[StepView]:
    """Give the steps that take any time."""
    times = group.times
    if times.duties < times.unpack:
        yield StepView(shown(times.duties), pgettext("step of a concert day", "Set up"))
    yield from _to_the_stage(context, group, times)


def _returning(context: Context, group: GroupDay, again: AgainDay) -> Iterator[StepView]:
    """Give the steps between two turns of which each has its hour."""
    yield StepView(shown(again.times.off_stage), gettext("Off the stage, free until called again"))
    if again.call:
        place = place_of(context, group)
        ready = (
            gettext("Ready in the room again, %(place)s", place=place)
            if place
            else gettext("Ready in the room again")
        )
        yield StepView(again.call, ready, _FAMILIES)
    yield from _to_the_stage(context, group, again.times)


def _to_the_stage(
    context: Context, group: GroupDay, times: CallTimes | ReturnTimes
) -> Iterator[StepView]:
    room = context.say(group.room.name) if group.room else ""
    first = isinstance(times, CallTimes)
    unpacked = (times.unpacked if isinstance(times, CallTimes) else None) or times.warm_up
    if times.unpack < unpacked:
        unpack = (
            gettext("Unpack in %(room)s", room=room)
            if room
            else pgettext("step of a concert day", "Unpack")
        )
        yield StepView(shown(times.unpack), unpack)
    for step in group.beforehand if first else ():
        yield StepView(shown(step.start), _own_step(context, step))
    warm_up = (
        gettext("Warm-up in %(room)s", room=room)
        if room
        else pgettext("step of a concert day", "Warm-up")
    )
    steps = (
        (times.warm_up, times.walk, warm_up),
        (times.walk, times.in_place, gettext("Walk to the stage")),
        (times.in_place, times.first_note, pgettext("step of a concert day", "In place")),
    )
    for start, end, what in steps:
        if start < end:
            yield StepView(shown(start), what)


def _on_stage(context: Context, group: GroupDay) -> Iterator[StepView]:
    """Give the first note and the last, and between them each return to the stage."""
    returns = {again.times.first_note: again for again in group.again}
    for place, stint in enumerate(group.stints):
        again = returns.get(stint.start)
        if again:
            yield from _returning(context, group, again)
        partners = names(context, stint.partners)
        if stint.goes_on:
            words = _plays_on(partners)
        elif again:
            words = _first_note_again(partners)
        else:
            words = _on_stage_again(partners) if place else _first_note(partners)
        begins = not stint.goes_on and (again is not None or not place)
        yield StepView(shown(stint.start), words, _FAMILIES if begins else "")
    last = pgettext("step of a concert day", "Last note")
    yield StepView(shown(group.times.last_note), last)


def _first_note(partners: str) -> str:
    if partners:
        return gettext("First note with %(bands)s", bands=partners)
    return pgettext("step of a concert day", "First note")


def _first_note_again(partners: str) -> str:
    if partners:
        return gettext("First note again with %(bands)s", bands=partners)
    return gettext("First note again")


def _on_stage_again(partners: str) -> str:
    if partners:
        return gettext("On stage again with %(bands)s", bands=partners)
    return gettext("On stage again")


def _plays_on(partners: str) -> str:
    if partners:
        return gettext("Play on with %(bands)s", bands=partners)
    return gettext("Play on alone")


def _afterward(context: Context, concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    """Give what follows the last note, each at the band's own time."""
    times, ends = group.times, concert.day.ends
    seated = times.off_stage > ends  # the last band to play sits on stage until the end
    if seated and times.last_note < ends:
        yield StepView(shown(ends), gettext("The concert ends"), _FAMILIES)
    listens = times.group.stays and not seated
    pack_at_once = times.packing == times.off_stage and times.packed > times.packing
    if pack_at_once:
        off = gettext("Off the stage, pack up")
    elif listens and not group.afterward:
        off = gettext("Off the stage; hear the other bands")
    else:
        off = gettext("Off the stage")
    yield StepView(shown(times.off_stage), off)
    for step in group.afterward:
        yield StepView(shown(step.start), _own_step(context, step))
    if listens:
        if group.afterward:
            yield StepView(shown(_free(group)), gettext("Sit and hear the other bands"))
        end = (
            gettext("The concert ends; then pack up")
            if times.packed > times.packing
            else gettext("The concert ends")
        )
        yield StepView(shown(ends), end, _FAMILIES)
    elif not pack_at_once and times.packed > times.packing:
        yield StepView(shown(times.packing), gettext("Pack up"))
    yield StepView(shown(times.packed), pgettext("step of a concert day", "Packed"))


def _free(group: GroupDay) -> datetime:
    """Give the moment at which a band has nothing more to do but to hear the others."""
    return max([group.times.off_stage, *(step.end for step in group.afterward)])


def _back(concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    if group.ride is not None:
        bus = bus_times(concert.day.rides[group.ride])
        yield StepView(bus.leaves_hall, gettext("Buses leave for school"))
        yield StepView(bus.at_school, gettext("Back at school"), _FAMILIES)
    if group.collect:
        if group.to_class:
            yield StepView(group.collect, gettext("Then class"), _FAMILIES)
        else:
            yield StepView(group.collect, gettext("Pick-up"), _PICK_UP)


def _own_step(context: Context, step: StepRow) -> str:
    what, place = context.say(step.item.name), room_of_step(context, step)
    minutes = step.item.minutes
    if not place:
        return gettext("%(what)s, %(minutes)s min", what=what, minutes=minutes)
    return gettext("%(what)s, %(place)s, %(minutes)s min", what=what, place=place, minutes=minutes)


def _small(words: str) -> str:
    """Begin words with a small letter, where a language writes no common noun with a capital."""
    return words[:1].lower() + words[1:] if speech().code == "en" else words

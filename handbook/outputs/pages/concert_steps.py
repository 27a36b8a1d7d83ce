"""A band's concert day, step by step, from the call to the pick-up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from handbook.outputs.pages import formatting
from handbook.outputs.pages.concert_words import clock, names, place_of
from handbook.outputs.pages.draft import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan


@dataclass(frozen=True, slots=True)
class StepView:
    """A step: its time as families read it, and what happens."""

    time: str
    what: str


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
    times = group.times
    yield from _there(context, concert, group)
    yield from _before(context, group)
    yield StepView(clock(times.first_note), "First note")
    if times.group.stays and times.last_note < concert.day.ends:
        yield StepView(clock(times.last_note), "Last note; then sit and hear the other bands")
        yield StepView(clock(concert.day.ends), "The concert ends")
    else:
        yield StepView(clock(times.last_note), "Last note")
    if times.packed > times.finished:
        yield StepView(clock(times.finished), "Off the stage, pack up")
    yield StepView(clock(times.packed), "Packed")
    yield from _back(concert, group)


def _there(context: Context, concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    travel, ride = concert.item.travel, group.ride
    if travel is not None and ride is not None:
        there = concert.day.rides[ride].there
        if there:
            yield StepView(
                formatting.clock(there.report), f"Be at the {_small(context.say(travel.meet))}"
            )
            yield StepView(clock(there.depart), "Buses leave")
            yield StepView(clock(there.arrive), f"Arrive at {context.say(concert.venue.name)}")
    elif group.call:
        yield StepView(formatting.clock(group.call), f"Call{_at(place_of(context, group))}")


def _before(context: Context, group: GroupDay) -> Iterator[StepView]:
    """Give the steps that take any time."""
    times, room = group.times, context.say(group.room.name) if group.room else ""
    steps = (
        (times.duties, times.unpack, "Set up"),
        (times.unpack, times.warm_up, f"Unpack{_in(room)}"),
        (times.warm_up, times.walk, f"Warm-up{_in(room)}"),
        (times.walk, times.in_place, "Walk to the stage"),
        (times.in_place, times.first_note, "In place"),
    )
    for start, end, what in steps:
        if start < end:
            yield StepView(clock(start), what)


def _back(concert: ConcertPlan, group: GroupDay) -> Iterator[StepView]:
    if group.ride is not None:
        back = concert.day.rides[group.ride].back
        yield StepView(clock(back.depart), "Buses leave for school")
        yield StepView(clock(back.arrive), "Back at school")
    if group.collect:
        yield StepView(formatting.clock(group.collect), "Pick-up")


def _at(place: str) -> str:
    return f", {place}" if place else ""


def _in(room: str) -> str:
    return f" in {room}" if room else ""


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]

"""Facts of events: games, trips, deadlines."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from handbook.domain.facts import Fact, Topic
from handbook.outputs.components.event_words import (
    dates,
    day_name,
    hours,
    place_name,
    place_of_deadline,
)
from handbook.outputs.components.on_the_day import whom_to_call
from handbook.outputs.facts.keys import event_day_keys, event_key
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import with_clauses, with_semicolons
from handbook.outputs.page import Context
from handbook.plan.events_model import EventDay, EventRow, PlaceRow, RainRow
from handbook.plan.players import everyone


def event_facts(context: Context) -> Iterator[Fact]:
    """Give the facts of all events."""
    for event in context.plan.events:
        for _, facts in day_facts(context, event):
            yield from facts
        yield from deadline_facts(context, event)


def day_facts(context: Context, event: EventRow) -> Iterator[tuple[EventDay, tuple[Fact, ...]]]:
    """Give each day of an event with its facts, of which the first is the day itself."""
    for day, key in zip(event.days, event_day_keys(event), strict=True):
        yield day, tuple(_day(context, event, day, key))


def _readers(event: EventRow) -> tuple[str, ...]:
    return () if event.everyone else tuple(one.id for one in everyone(event.ensembles))


def deadline_facts(context: Context, event: EventRow) -> Iterator[Fact]:
    """Give the facts of a deadline, of which the first is the deadline itself."""
    key, about, readers = event_key(event), context.say(event.item.name), _readers(event)
    if event.due:
        due = gettext("due %(day)s", day=formatting.short_day(event.due))
        if event.item.cancelled:
            due = gettext("cancelled: %(why)s", why=context.say(event.item.cancelled))
        off = event.item.cancelled is not None
        yield Fact(key, readers, Topic.DAY, about, due, event.due, off)
        if off:
            return
        if about_it := context.say(event.item.about):
            what = with_clauses((about, pgettext("fact", "about")))
            yield Fact(f"{key}/about", readers, Topic.THINGS, what, about_it, event.due)
        if things := with_semicolons(map(context.say, event.item.bring)):
            what = with_clauses((about, pgettext("fact", "bring")))
            yield Fact(f"{key}/bring", readers, Topic.THINGS, what, things, event.due)
        if where := place_name(context, place_of_deadline(event)):
            what = with_clauses((about, pgettext("fact", "where")))
            yield Fact(f"{key}/place", readers, Topic.PLACE, what, where, event.due)


def _day(context: Context, event: EventRow, day: EventDay, key: str) -> Iterator[Fact]:
    readers, first = _readers(event), day.first
    when = dates(day.first, day.last)
    about = with_clauses((day_name(context, event, day), when))
    state = hours(day.moments) or gettext("all day")
    if day.cancelled:
        state = gettext("cancelled: %(why)s", why=context.say(day.facts.cancelled))
    yield Fact(key, readers, Topic.DAY, about, state, first, day.cancelled)
    if day.cancelled:
        return
    moments = day.moments
    venue, room = (day.place.venue, day.place.room) if day.place else (None, None)
    parts = [
        (
            "call",
            Topic.CALL,
            pgettext("fact", "be there"),
            moments.call and formatting.clock(moments.call),
        ),
        (
            "leaves",
            Topic.CALL,
            pgettext("fact", "ride leaves"),
            moments.leaves and formatting.clock(moments.leaves),
        ),
        (
            "back",
            Topic.CALL,
            pgettext("fact", "ride is back"),
            moments.back and formatting.clock(moments.back),
        ),
        (
            "pick-up",
            Topic.CALL,
            pgettext("fact", "pick-up"),
            moments.pick_up and formatting.clock(moments.pick_up),
        ),
        (
            "on-the-day",
            Topic.CALL,
            pgettext("fact", "on the day, call"),
            whom_to_call(context, day.facts.on_the_day),
        ),
        ("place", Topic.PLACE, pgettext("fact", "where"), _where(context, day.place)),
        ("meet", Topic.PLACE, pgettext("fact", "meets at"), place_name(context, day.meet)),
        ("rain", Topic.PLACE, pgettext("fact", "rain plan"), _rain(context, day.rain, first)),
        (
            "parking",
            Topic.PLACE,
            pgettext("fact", "parking"),
            context.say(venue.parking if venue else None),
        ),
        (
            "access",
            Topic.PLACE,
            pgettext("fact", "access"),
            context.say(venue.access if venue else None),
        ),
        (
            "directions",
            Topic.PLACE,
            pgettext("fact", "directions"),
            context.say(room.directions if room else None),
        ),
        ("about", Topic.THINGS, pgettext("fact", "about"), context.say(day.facts.about)),
        (
            "wear",
            Topic.THINGS,
            pgettext("fact", "wear"),
            with_semicolons(map(context.say, day.facts.attire)),
        ),
        (
            "bring",
            Topic.THINGS,
            pgettext("fact", "bring"),
            with_semicolons(map(context.say, day.facts.bring)),
        ),
    ]
    for part, topic, what, value in parts:
        if value:
            yield Fact(f"{key}/{part}", readers, topic, with_clauses((about, what)), value, first)


def _where(context: Context, place: PlaceRow | None) -> str:
    """Name a place, with the address of a venue."""
    address = context.say(place.venue.address) if place and place.venue else ""
    return with_clauses(filter(None, (place_name(context, place), address)))


def _rain(context: Context, rain: RainRow | None, first: date) -> str:
    """Give what holds in bad weather; what is decided on the day itself moves with it."""
    if rain is None:
        return ""
    on = rain.decided.date() if rain.decided else first
    decided = ""
    if rain.decided and on == first:
        decided = gettext("decided that day, %(time)s", time=formatting.clock(rain.decided))
    elif rain.decided:
        day, at = formatting.short_day(on), formatting.clock(rain.decided)
        decided = gettext("decided %(day)s, %(time)s", day=day, time=at)
    parts = [
        decided,
        _where(context, rain.place),
        formatting.short_day(rain.day) if rain.day else "",
        formatting.clock(rain.starts) if rain.starts else "",
        context.say(rain.about),
    ]
    return with_semicolons(filter(None, parts))

"""An outdoor concert in bad weather, in words."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.outputs.components.concert_words import group_name, place_of
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, ConcertRain


def rain_line(context: Context, concert: ConcertPlan) -> str:
    """Say in a line where and when it is then, and when that is decided; nothing without a rain plan."""
    rain = concert.rain
    if rain is None:
        return ""
    return " ".join(filter(None, (_then(context, rain), _decided(concert, rain))))


def rain_calls(context: Context, concert: ConcertPlan) -> Iterator[tuple[str, str]]:
    """Give each band's name, and when and where it meets and is collected then, if that differs."""
    rain = concert.rain
    for group in rain.day.groups if rain and rain.day else ():
        usual = next((one for one in concert.day.groups if one.id == group.id), None)
        differs = usual and _meeting(context, group) != _meeting(context, usual)
        if differs and group.ensemble and (words := ", ".join(_words(context, group))):
            yield group_name(context, group), words


def _words(context: Context, group: GroupDay) -> Iterator[str]:
    if group.report:
        where = "at the bus" if group.ride is not None else "ready in the room"
        yield f"{where} at {formatting.clock(group.report)}"
    if group.ride is None and (place := place_of(context, group)):
        yield place
    if group.collect:
        yield f"pick-up {formatting.clock(group.collect)}"


def rain_place(context: Context, concert: ConcertPlan) -> str:
    """Say what else families need of the other place: its address, its doors, its parking."""
    rain = concert.rain
    if rain is None or not rain.item.venue:
        return ""
    doors = rain.day.doors if rain.day else None
    facts = (
        context.say(rain.venue.address),
        f"Doors {formatting.clock(doors)}" if doors else "",
        f"Parking: {context.say(rain.venue.parking)}" if rain.venue.parking else "",
    )
    return " ".join(f"{fact.rstrip('.')}." for fact in facts if fact)


def _meeting(context: Context, group: GroupDay) -> tuple[object, ...]:
    moments = (group.report, group.collect)
    return *(moment and moment.time() for moment in moments), place_of(context, group)


def _then(context: Context, rain: ConcertRain) -> str:
    if not rain.item.is_given:
        return "" if rain.item.about else "In bad weather there is no concert."
    parts = [
        context.say(rain.venue.name) if rain.item.venue or not rain.item.date else "",
        formatting.short_day(rain.item.date) if rain.item.date else "",
        formatting.clock(rain.downbeat) if rain.item.downbeat or rain.item.date else "",
    ]
    return f"In bad weather: {', '.join(filter(None, parts))}."


def _decided(concert: ConcertPlan, rain: ConcertRain) -> str:
    if rain.decided is None:
        return ""
    day = rain.decided.date()
    on = "that day" if day == concert.item.date else f"on {formatting.short_day(day)}"
    return f"Decided {on} by {formatting.clock(rain.decided)}."

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


def rain_calls(context: Context, concert: ConcertPlan) -> Iterator[tuple[str, str, str]]:
    """Give who meets at another time or place then: name, time and place."""
    rain = concert.rain
    for group in rain.day.groups if rain and rain.day else ():
        usual = next((one for one in concert.day.groups if one.id == group.id), None)
        if usual and group.ensemble and _meeting(context, group) != _meeting(context, usual):
            place = place_of(context, group)
            if group.call or place:
                time = formatting.clock(group.call) if group.call else ""
                yield group_name(context, group), time, place


def _meeting(context: Context, group: GroupDay) -> tuple[object, str]:
    return group.call and group.call.time(), place_of(context, group)


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

"""An outdoor concert in bad weather, in words."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.outputs.components.concert_words import group_name, place_of, unended
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_clauses
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
        if differs and group.ensemble and (words := with_clauses(_words(context, group))):
            yield group_name(context, group), words


def _words(context: Context, group: GroupDay) -> Iterator[str]:
    if group.report:
        at = formatting.clock(group.report)
        if group.ride is not None:
            yield gettext("at the bus at %(time)s", time=at)
        else:
            yield gettext("ready in the room at %(time)s", time=at)
    if group.ride is None and (place := place_of(context, group)):
        yield place
    if group.collect:
        yield gettext("pick-up %(time)s", time=formatting.clock(group.collect))


def rain_place(context: Context, concert: ConcertPlan) -> str:
    """Say what else families need of the other place: its address, its doors, its parking."""
    rain = concert.rain
    if rain is None or not rain.item.venue:
        return ""
    doors = rain.day.doors if rain.day else None
    address, parking = (
        unended(context.say(words)) for words in (rain.venue.address, rain.venue.parking)
    )
    facts = (
        gettext("%(address)s.", address=address) if address else "",
        gettext("Doors %(time)s.", time=formatting.clock(doors)) if doors else "",
        gettext("Parking: %(words)s.", words=parking) if parking else "",
    )
    return " ".join(filter(None, facts))


def _meeting(context: Context, group: GroupDay) -> tuple[object, ...]:
    moments = (group.report, group.collect)
    return *(moment and moment.time() for moment in moments), place_of(context, group)


def _then(context: Context, rain: ConcertRain) -> str:
    if not rain.item.is_given:
        return "" if rain.item.about else gettext("In bad weather there is no concert.")
    parts = [
        context.say(rain.venue.name) if rain.item.venue or not rain.item.date else "",
        formatting.short_day(rain.item.date) if rain.item.date else "",
        formatting.clock(rain.downbeat) if rain.item.downbeat or rain.item.date else "",
    ]
    # Translators: the other place, day and time, as far as they are others.
    return gettext("In bad weather: %(plan)s.", plan=with_clauses(filter(None, parts)))


def _decided(concert: ConcertPlan, rain: ConcertRain) -> str:
    if rain.decided is None:
        return ""
    day, at = rain.decided.date(), formatting.clock(rain.decided)
    if day == concert.item.date:
        return gettext("Decided that day by %(time)s.", time=at)
    return gettext("Decided on %(day)s by %(time)s.", day=formatting.short_day(day), time=at)

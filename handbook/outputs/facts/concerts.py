"""Facts of a concert, for families and players."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.domain.facts import Fact, Topic
from handbook.domain.values.text import Text
from handbook.outputs.components.concert_words import (
    AT_THE_BUS,
    IN_THE_ROOM,
    group_name,
    place_of,
)
from handbook.outputs.components.rain_words import rain_line
from handbook.outputs.facts.keys import concert_key
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.plan.players import everyone


def concert_facts(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Iterator[Fact]:
    """Give the facts of one concert; all but a band's own call are for everyone who plays."""
    say, item, day = context.say, concert.item, concert.item.date
    key, name = concert_key(cycle, concert), say(item.name)
    bands = [one for one in context.plan.program.ensembles if one.id in item.players]
    readers = tuple(one.id for one in everyone(bands))

    def fact(part: str, topic: Topic, about: str, value: str) -> Iterator[Fact]:
        if value:
            yield Fact(f"{key}{part}", readers, topic, f"{name}{about}", value, day)

    if item.cancelled:
        why = f"cancelled: {say(item.cancelled)}"
        yield Fact(key, readers, Topic.DAY, name, why, day, cancelled=True)
        return
    when = f"{formatting.short_day(day)}, {formatting.clock(concert.downbeat)}"
    yield from fact("", Topic.DAY, "", when)
    yield from fact("/doors", Topic.DAY, ", doors", _clock(concert, "doors"))
    where = f"{say(concert.venue.name)}, {say(concert.venue.address)}"
    yield from fact("/venue", Topic.PLACE, ", where", where)
    yield from fact("/rain", Topic.PLACE, ", rain plan", rain_line(context, concert))
    yield from fact("/wear", Topic.THINGS, ", wear", _lines(context, item.attire))
    yield from fact("/bring", Topic.THINGS, ", bring", _lines(context, item.bring))
    yield from fact("/after", Topic.THINGS, ", after", _lines(context, item.pick_up_rules))
    yield from fact("/program", Topic.MUSIC, ", program", _program(context, concert))
    for band in bands:
        own = tuple(one.id for one in everyone([band]))
        for part, about, things in (
            ("wear", "wear", item.attire_for),
            ("bring", "bring", item.bring_for),
        ):
            if words := _lines(context, things.get(band.id, ())):
                besides = f"{name}, {say(band.name)}, {about} besides"
                yield Fact(f"{key}/{part}/{band.id}", own, Topic.THINGS, besides, words, day)
    for group in concert.day.groups:
        if group.ensemble is not None:
            own = tuple(one.id for one in everyone([group.ensemble]))
            yield from _group(context, key, name, own, concert, group)


def _group(
    context: Context,
    key: str,
    name: str,
    readers: tuple[str, ...],
    concert: ConcertPlan,
    group: GroupDay,
) -> Iterator[Fact]:
    """Give where a band, or a section of it, must be when, and when it is over."""
    about, day = f"{name}, {group_name(context, group)}", concert.item.date
    base = f"{key}/group/{group.id.replace('/', '-')}"
    riding = group.ride is not None and concert.item.travel is not None
    meets = AT_THE_BUS if group.ride is not None else IN_THE_ROOM
    travel = concert.item.travel
    place = context.say(travel.meet) if riding and travel else place_of(context, group)
    if group.report:
        at = formatting.clock(group.report)
        yield Fact(f"{base}/call", readers, Topic.CALL, f"{about}, {meets.lower()}", at, day)
    if place:
        yield Fact(f"{base}/place", readers, Topic.PLACE, f"{about}, meets at", place, day)
    if group.collect:
        at = formatting.clock(group.collect)
        what = "back at school, then class" if group.to_class else "pick-up"
        yield Fact(f"{base}/pick-up", readers, Topic.CALL, f"{about}, {what}", at, day)
        if where := context.say(concert.item.pick_up_place):
            about = f"{about}, pick-up at"
            yield Fact(f"{base}/pick-up-place", readers, Topic.PLACE, about, where, day)


def _clock(concert: ConcertPlan, field: str) -> str:
    moment = getattr(concert.day, field)
    return formatting.clock(moment) if moment else ""


def _lines(context: Context, texts: Iterable[Text]) -> str:
    return "; ".join(map(context.say, texts))


def _program(context: Context, concert: ConcertPlan) -> str:
    """Give who plays what, in order."""
    turns = []
    for turn in concert.appearances:
        who = turn.ensemble or turn.guest
        titles = [context.say(piece.item.title) for piece in turn.pieces]
        titles += [context.say(piece.title) for piece in (turn.guest.pieces if turn.guest else ())]
        named = context.say(who.name) if who else ""
        turns.append(f"{named} ({', '.join(titles)})" if titles else named)
    return ", then ".join(turns)

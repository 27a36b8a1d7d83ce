"""Facts of a concert, for families and players."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handbook.domain.facts import Fact, Topic
from handbook.domain.values.text import Text
from handbook.outputs.components.concert_steps import day_card
from handbook.outputs.components.concert_words import (
    at_the_bus,
    group_name,
    in_the_room,
    place_of,
)
from handbook.outputs.components.missed_class import missed_words
from handbook.outputs.components.rain_words import rain_calls, rain_line, rain_place
from handbook.outputs.components.texts_for import said_for
from handbook.outputs.facts.keys import concert_key, digest_of
from handbook.outputs.html import formatting
from handbook.outputs.html.formatting import listed
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.plan.players import everyone
from handbook.schema.program import Ensemble
from handbook.schema.texts_for import TextFor


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
    yield from fact("/doors", Topic.CALL, ", doors", _clock(concert, "doors"))
    where = f"{say(concert.venue.name)}, {say(concert.venue.address)}"
    yield from fact("/venue", Topic.PLACE, ", where", where)
    yield from fact("/rain", Topic.PLACE, ", rain plan", _rain(context, concert))
    for part, told in (("parking", concert.venue.parking), ("access", concert.venue.access)):
        yield from fact(f"/{part}", Topic.PLACE, f", {part}", say(told))
    yield from fact("/about", Topic.THINGS, ", about", say(item.about))
    yield from fact("/wear", Topic.THINGS, ", wear", _lines(context, item.attire))
    yield from fact("/wear-note", Topic.THINGS, ", clothes", say(item.attire_note))
    yield from fact("/bring", Topic.THINGS, ", bring", _things_to_bring(context, item.bring))
    yield from fact("/after", Topic.THINGS, ", after", _lines(context, item.pick_up_rules))
    yield from fact("/program", Topic.MUSIC, ", program", _program(context, concert))
    for one in item.not_playing:
        yield from fact(f"/not-playing/{one.ensemble}", Topic.MUSIC, "", say(one.why))
    yield from _missed(context, key, name, concert)
    for band in bands:
        yield from _things(context, key, name, concert, band)
    for group in concert.day.groups:
        if group.ensemble is not None:
            own = tuple(one.id for one in everyone([group.ensemble]))
            yield from _group(context, key, name, own, concert, group)


def _things(
    context: Context, key: str, name: str, concert: ConcertPlan, band: Ensemble
) -> Iterator[Fact]:
    """Give what players of one band wear and bring besides."""
    item, own = concert.item, tuple(one.id for one in everyone([band]))
    for part, words in (
        ("wear", _lines(context, item.attire_for.get(band.id, ()))),
        ("bring", _things_to_bring(context, item.bring_for.get(band.id, ()))),
    ):
        if words:
            besides = f"{name}, {context.say(band.name)}, {part} besides"
            yield Fact(f"{key}/{part}/{band.id}", own, Topic.THINGS, besides, words, item.date)


def _missed(context: Context, key: str, name: str, concert: ConcertPlan) -> Iterator[Fact]:
    """Give which classes are missed, for each band that has them."""
    found: dict[str, list[str]] = {}
    readers: dict[str, tuple[str, ...]] = {}
    for missed in concert.day.missed:
        found.setdefault(missed.ensemble.id, []).append(missed_words(context, missed))
        readers[missed.ensemble.id] = (missed.ensemble.id,)
    for band, words in found.items():
        about, day = f"{name}, class", concert.item.date
        yield Fact(f"{key}/class/{band}", readers[band], Topic.CALL, about, " ".join(words), day)


def _rain(context: Context, concert: ConcertPlan) -> str:
    """Give what holds in bad weather; nothing without a rain plan."""
    about = context.say(concert.rain.item.about) if concert.rain else ""
    calls = (": ".join(line) for line in rain_calls(context, concert))
    parts = (rain_line(context, concert), rain_place(context, concert), about, *calls)
    return " ".join(filter(None, parts))


def _steps(
    context: Context,
    base: str,
    about: str,
    readers: tuple[str, ...],
    concert: ConcertPlan,
    group: GroupDay,
) -> Iterator[Fact]:
    """Give the steps of a band's day; they belong to its call, with which most of them move."""
    card, found = day_card(context, concert, group, 0), dict[str, list[str]]()
    for step in card.steps if card else ():
        found.setdefault(step.what, []).append(step.time)
    for what, times in found.items():
        key = f"{base}/call/{digest_of(what)}"
        at = listed(times)
        yield Fact(key, readers, Topic.MUSIC, f"{about}, {what}", at, concert.item.date)


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
    meets = at_the_bus() if group.ride is not None else in_the_room()
    travel = concert.item.travel
    place = context.say(travel.meet) if riding and travel else place_of(context, group)
    if group.report:
        at = formatting.clock(group.report)
        yield Fact(f"{base}/call", readers, Topic.CALL, f"{about}, {meets.lower()}", at, day)
    if not group.section:
        yield from _steps(context, base, about, readers, concert, group)
    for again in group.again if not group.section else ():
        if again.call:
            key = f"{base}/call-again-{again.times.first_note:%H%M}"
            at = formatting.clock(again.call)
            yield Fact(
                key, readers, Topic.CALL, f"{about}, again, {in_the_room().lower()}", at, day
            )
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


def _things_to_bring(context: Context, things: Iterable[TextFor]) -> str:
    return "; ".join(said_for(context, thing) for thing in things)


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

"""Facts of a concert, for families and players."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from handbook.domain.facts import Fact, Topic
from handbook.domain.values.text import Text
from handbook.outputs.components.concert_steps import StepView, day_card
from handbook.outputs.components.concert_words import (
    group_name,
    place_of,
)
from handbook.outputs.components.crew_bands import crew_bands, crew_days
from handbook.outputs.components.crew_steps import crew_pick_up, crew_steps, meets_at
from handbook.outputs.components.missed_class import missed_words
from handbook.outputs.components.on_the_day import whom_to_call
from handbook.outputs.components.rain_words import rain_calls, rain_line, rain_place
from handbook.outputs.components.texts_for import said_for
from handbook.outputs.facts.keys import base_context, concert_key, digest_of
from handbook.outputs.html import formatting
from handbook.outputs.html.formatting import listed
from handbook.outputs.i18n import gettext, pgettext, speaking
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.formats import with_clauses, with_commas, with_semicolons
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.plan.players import everyone
from handbook.schema.program import Ensemble
from handbook.schema.texts_for import TextFor


def concert_facts(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Iterator[Fact]:
    """Give the facts of one concert; all but a band's own call are for everyone who plays.

    Those of the day, the place and the way home are also for bands that are only its crew.
    """
    say, item, day = context.say, concert.item, concert.item.date
    key, name = concert_key(cycle, concert), say(item.name)
    bands = [one for one in context.plan.program.ensembles if one.id in item.players]
    helping = [one for one in context.plan.program.ensembles if one.id in crew_bands(concert)]
    players = _ids(bands)
    readers = _ids([*bands, *helping])

    def fact(
        part: str, topic: Topic, about: str, value: str, readers: tuple[str, ...] = readers
    ) -> Iterator[Fact]:
        if value:
            what = with_clauses(filter(None, (name, about)))
            yield Fact(f"{key}{part}", readers, topic, what, value, day)

    def own(part: str, topic: Topic, about: str, value: str) -> Iterator[Fact]:
        return fact(part, topic, about, value, players)

    if item.cancelled:
        why = gettext("cancelled: %(why)s", why=say(item.cancelled))
        yield Fact(key, readers, Topic.DAY, name, why, day, cancelled=True)
        return
    when = with_clauses((formatting.short_day(day), formatting.clock(concert.downbeat)))
    yield from fact("", Topic.DAY, "", when)
    yield from fact("/doors", Topic.CALL, pgettext("fact", "doors"), _clock(concert, "doors"))
    yield from fact(
        "/on-the-day",
        Topic.CALL,
        pgettext("fact", "on the day, call"),
        whom_to_call(context, item.on_the_day),
    )
    where = with_clauses((say(concert.venue.name), say(concert.venue.address)))
    yield from fact("/venue", Topic.PLACE, pgettext("fact", "where"), where)
    yield from fact("/rain", Topic.PLACE, pgettext("fact", "rain plan"), _rain(context, concert))
    parking, access = concert.venue.parking, concert.venue.access
    yield from fact("/parking", Topic.PLACE, pgettext("fact", "parking"), say(parking))
    yield from fact("/access", Topic.PLACE, pgettext("fact", "access"), say(access))
    yield from fact("/about", Topic.THINGS, pgettext("fact", "about"), say(item.about))
    yield from own("/wear", Topic.THINGS, pgettext("fact", "wear"), _lines(context, item.attire))
    yield from own("/wear-note", Topic.THINGS, pgettext("fact", "clothes"), say(item.attire_note))
    yield from own(
        "/bring", Topic.THINGS, pgettext("fact", "bring"), _things_to_bring(context, item.bring)
    )
    yield from fact(
        "/after", Topic.THINGS, pgettext("fact", "after"), _lines(context, item.pick_up_rules)
    )
    yield from fact(
        "/program", Topic.MUSIC, pgettext("fact", "program"), _program(context, concert)
    )
    for one in item.not_playing:
        yield from own(f"/not-playing/{one.ensemble}", Topic.MUSIC, "", say(one.why))
    yield from _missed(context, key, name, concert)
    for band in bands:
        yield from _things(context, key, name, concert, band)
    for group in concert.day.groups:
        if group.ensemble is not None:
            yield from _group(context, key, name, _ids([group.ensemble]), concert, group)
    for band in helping:
        yield from _crew(context, key, name, concert, band)


def _things(
    context: Context, key: str, name: str, concert: ConcertPlan, band: Ensemble
) -> Iterator[Fact]:
    """Give what players of one band wear and bring besides."""
    item, own = concert.item, _ids([band])
    for part, what, words in (
        (
            "wear",
            pgettext("fact", "wear besides"),
            _lines(context, item.attire_for.get(band.id, ())),
        ),
        (
            "bring",
            pgettext("fact", "bring besides"),
            _things_to_bring(context, item.bring_for.get(band.id, ())),
        ),
    ):
        if words:
            besides = with_clauses((name, context.say(band.name), what))
            yield Fact(f"{key}/{part}/{band.id}", own, Topic.THINGS, besides, words, item.date)


def _missed(context: Context, key: str, name: str, concert: ConcertPlan) -> Iterator[Fact]:
    """Give which classes are missed, for each band that has them."""
    found: dict[str, list[str]] = {}
    readers: dict[str, tuple[str, ...]] = {}
    for missed in concert.day.missed:
        found.setdefault(missed.ensemble.id, []).append(missed_words(context, missed))
        readers[missed.ensemble.id] = (missed.ensemble.id,)
    for band, words in found.items():
        about, day = with_clauses((name, pgettext("fact", "class"))), concert.item.date
        yield Fact(f"{key}/class/{band}", readers[band], Topic.CALL, about, " ".join(words), day)


def _rain(context: Context, concert: ConcertPlan) -> str:
    """Give what holds in bad weather; nothing without a rain plan."""
    about = context.say(concert.rain.item.about) if concert.rain else ""
    calls = (
        gettext("%(band)s: %(words)s", band=band, words=words)
        for band, words in rain_calls(context, concert)
    )
    parts = (rain_line(context, concert), rain_place(context, concert), about, *calls)
    return " ".join(filter(None, parts))


def _steps(
    base: str,
    about: str,
    readers: tuple[str, ...],
    day: date,
    steps: Sequence[StepView],
    for_keys: Sequence[StepView],
) -> Iterator[Fact]:
    """Give the steps of an evening; they belong to the call, with which most of them move.

    Each goes by its words as `for_keys` has them, whatever language it is told in.
    """
    found, times = dict[str, str](), dict[str, list[str]]()
    for step, named in zip(steps, for_keys, strict=True):
        found.setdefault(named.what, step.what)
        at = gettext("by %(time)s", time=step.time) if step.due else step.time
        times.setdefault(named.what, []).append(at)
    for named_by, what in found.items():
        key, at = f"{base}/call/{digest_of(named_by)}", listed(times[named_by])
        yield Fact(key, readers, Topic.MUSIC, with_clauses((about, what)), at, day)


def _steps_of(context: Context, concert: ConcertPlan, group: GroupDay) -> Sequence[StepView]:
    card = day_card(context, concert, group, 0)
    return card.steps if card else ()


def _crew(
    context: Context, key: str, name: str, concert: ConcertPlan, band: Ensemble
) -> Iterator[Fact]:
    """Give what a band does that has roles of the crew and does not play."""
    readers, day = _ids([band]), concert.item.date
    for role, group in crew_days(concert, band.id):
        base = f"{key}/crew/{role.id}"
        about = with_clauses((name, context.say(role.name)))
        for part, topic, what, value in (
            (
                "call",
                Topic.CALL,
                pgettext("fact", "be ready"),
                formatting.clock(group.call) if group and group.call else "",
            ),
            (
                "place",
                Topic.PLACE,
                pgettext("fact", "meets at"),
                meets_at(context, concert, role),
            ),
            (
                "done",
                Topic.CALL,
                pgettext("fact", "done by about"),
                formatting.clock(group.pick_up) if group and group.pick_up else "",
            ),
            *(_crew_pick_up(context, concert, group) if group else ()),
        ):
            if value:
                yield Fact(
                    f"{base}/{part}", readers, topic, with_clauses((about, what)), value, day
                )
        steps = crew_steps(context, concert, role)
        with speaking(SOURCE):
            for_keys = crew_steps(base_context(context), concert, role)
        yield from _steps(base, about, readers, day, steps, for_keys)


def _group(
    context: Context,
    key: str,
    name: str,
    readers: tuple[str, ...],
    concert: ConcertPlan,
    group: GroupDay,
) -> Iterator[Fact]:
    """Give where a band, or a section of it, must be when, and when it is over."""
    about, day = with_clauses((name, group_name(context, group))), concert.item.date
    base = f"{key}/group/{group.id.replace('/', '-')}"
    riding = group.ride is not None and concert.item.travel is not None
    ready = pgettext("fact", "ready in the room")
    meets = pgettext("fact", "be at the bus") if group.ride is not None else ready
    travel = concert.item.travel
    place = context.say(travel.meet) if riding and travel else place_of(context, group)
    if group.report:
        at = formatting.clock(group.report)
        yield Fact(f"{base}/call", readers, Topic.CALL, with_clauses((about, meets)), at, day)
    if not group.section:
        steps = _steps_of(context, concert, group)
        with speaking(SOURCE):
            for_keys = _steps_of(base_context(context), concert, group)
        yield from _steps(base, about, readers, day, steps, for_keys)
    for again in group.again if not group.section else ():
        if again.call:
            key = f"{base}/call-again-{again.times.first_note:%H%M}"
            at = formatting.clock(again.call)
            back = with_clauses((about, pgettext("fact", "again"), ready))
            yield Fact(key, readers, Topic.CALL, back, at, day)
    if place:
        meets_at = with_clauses((about, pgettext("fact", "meets at")))
        yield Fact(f"{base}/place", readers, Topic.PLACE, meets_at, place, day)
    if group.room and (way := context.say(group.room.directions)):
        about_way = with_clauses((about, pgettext("fact", "directions")))
        yield Fact(f"{base}/directions", readers, Topic.PLACE, about_way, way, day)
    if group.collect:
        at = formatting.clock(group.collect)
        pick_up = pgettext("fact", "pick-up")
        what = pgettext("fact", "back at school, then class") if group.to_class else pick_up
        yield Fact(f"{base}/pick-up", readers, Topic.CALL, with_clauses((about, what)), at, day)
        if where := context.say(concert.item.pick_up_place):
            about = with_clauses((about, pgettext("fact", "pick-up at")))
            yield Fact(f"{base}/pick-up-place", readers, Topic.PLACE, about, where, day)


def _crew_pick_up(
    context: Context, concert: ConcertPlan, group: GroupDay
) -> Iterator[tuple[str, Topic, str, str]]:
    if at := crew_pick_up(group):
        yield "pick-up", Topic.CALL, pgettext("fact", "pick-up"), formatting.clock(at)
        where = context.say(concert.item.pick_up_place)
        yield "pick-up-place", Topic.PLACE, pgettext("fact", "pick-up at"), where


def _ids(bands: Iterable[Ensemble]) -> tuple[str, ...]:
    return tuple(one.id for one in everyone(bands))


def _clock(concert: ConcertPlan, field: str) -> str:
    moment = getattr(concert.day, field)
    return formatting.clock(moment) if moment else ""


def _lines(context: Context, texts: Iterable[Text]) -> str:
    return with_semicolons(map(context.say, texts))


def _things_to_bring(context: Context, things: Iterable[TextFor]) -> str:
    return with_semicolons(said_for(context, thing) for thing in things)


def _program(context: Context, concert: ConcertPlan) -> str:
    """Give who plays what, in order."""
    told = ""
    for turn in concert.appearances:
        who = turn.ensemble or turn.guest
        titles = [context.say(piece.item.title) for piece in turn.pieces]
        titles += [context.say(piece.title) for piece in (turn.guest.pieces if turn.guest else ())]
        named = context.say(who.name) if who else ""
        if titles:
            titled = with_commas(titles)
            named = gettext("%(band)s (%(pieces)s)", band=named, pieces=titled)
        told = gettext("%(turns)s, then %(next)s", turns=told, next=named) if told else named
    return told

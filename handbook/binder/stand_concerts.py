"""What the stand view shows where no class comes: the cycle's concerts, with each band's hours."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from itertools import chain

from handbook.binder.model import Binder
from handbook.binder.private_notes import OwnNote, notes_of_day, told_lines
from handbook.domain.run_of_show import shown
from handbook.outputs.components.concert_steps import StepView, day_card
from handbook.outputs.components.concert_words import in_the_room, names
from handbook.outputs.html import formatting
from handbook.outputs.html.page_data import Json
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.other_language import bare
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, CyclePlan

_MINUTES_OF_HOUR = 60


def concerts_data(binder: Binder, cycle: CyclePlan, day: date | None = None) -> list[Json]:
    """Give the concerts that are held, of one day alone if a `day` is named; moments are in seconds since 1970.

    `over` is when the last band is done, as far as its minutes are known. A band has its id, its
    name, its steps, and when it plays: its first and its last note.
    """
    return [
        _concert(binder, cycle, concert)
        for concert in cycle.held_concerts
        if day in {None, concert.item.date}
    ]


def _concert(binder: Binder, cycle: CyclePlan, concert: ConcertPlan) -> Json:
    say, start = binder.context.say, concert.downbeat
    bands = list(_bands(binder, concert))
    over = max(concert.day.ends, *(step.at for _, _, steps in bands for step in steps), start)
    return {
        "day": concert.item.date.isoformat(),
        "name": bare(say(concert.item.name)),
        "venue": bare(say(concert.venue.name)),
        "at": _seconds(start),
        "clock": start.hour * _MINUTES_OF_HOUR + start.minute,
        "over": _seconds(over),
        "facts": list(_facts(concert)),
        "private": told_lines(_own_notes(binder, cycle, concert)),
        "bands": [
            [
                group.id,
                name,
                [[_seconds(step.at), bare(step.time), bare(step.what)] for step in steps],
                [_seconds(group.times.first_note), _seconds(group.times.last_note)],
            ]
            for group, name, steps in bands
        ],
    }


def _own_notes(binder: Binder, cycle: CyclePlan, concert: ConcertPlan) -> tuple[OwnNote, ...]:
    """Give the director's notes of the day of all that play, each once."""
    bands = (notes_of_day(binder, cycle, concert.item.date, one) for one in concert.item.players)
    return tuple(dict.fromkeys(chain.from_iterable(bands)))


def _facts(concert: ConcertPlan) -> Iterator[str]:
    if concert.day.doors:
        yield gettext("Doors open at %(time)s", time=formatting.clock(concert.day.doors))


def _bands(
    binder: Binder, concert: ConcertPlan
) -> Iterator[tuple[GroupDay, str, tuple[StepView, ...]]]:
    """Give each band's day with its name, and its steps as families read them."""
    for n, group in enumerate(concert.day.groups, start=1):
        if group.section or group.ensemble is None:
            continue
        card = day_card(binder.context, concert, group, n)
        name = card.band if card else names(binder.context, [group.ensemble])
        yield group, bare(name), card.steps if card else tuple(_known(group))


def _known(group: GroupDay) -> Iterator[StepView]:
    """Give what is known of a band's day where the content has no minutes to reckon it from."""
    if group.call:
        yield StepView(group.call, in_the_room())
    first = pgettext("step of a concert day", "First note")
    yield StepView(shown(group.times.first_note), first)
    yield StepView(shown(group.times.last_note), pgettext("step of a concert day", "Last note"))
    if group.pick_up:
        yield StepView(group.pick_up, gettext("Pick-up"))


def _seconds(moment: datetime) -> int:
    return int(moment.timestamp())

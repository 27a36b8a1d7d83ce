"""Rain plans of events and concerts."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.dated_events import dated_events
from handbook.checks.wording import day
from handbook.domain.values.clock import format_clock
from handbook.problems import Address, Problem, Severity
from handbook.schema.concert import Concert
from handbook.schema.handbook import Handbook, Sourced
from handbook.schema.rain import AnyRainPlan


@check
def rain_plan_too_late(handbook: Handbook) -> Iterator[Problem]:
    """A rain plan is decided after the event has begun, or its other date is no later day.

    Of an event on several dates, each says its own rain date. A concert's is decided by the
    downbeat.

    Bad:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10, starts: 10 am, rain: {decided: 11 am, place: School gym}}

    Good:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10, starts: 10 am, rain: {decided: 7 am, place: School gym}}
    """
    told = set()
    for one in dated_events(handbook):
        rain = one.facts.rain
        if rain is None:
            continue
        if rain.date and rain.date <= one.last:
            at = one.at("rain", "date")
            sentence = f"the rain date, {day(rain.date)}, is not after the event, {day(one.last)}"
            hint = "choose a later day; of several dates, each says its own `rain:`"
        elif rain.decided and (begins := one.moments.begins):
            decided = datetime.combine(rain.decided.day or one.first, rain.decided.clock, UTC)
            if decided <= begins:
                continue
            at = one.at("rain", "decided")
            sentence = f"this is decided on {day(decided.date())} at {format_clock(decided.time())}, after the event begins, on {day(one.first)} at {format_clock(begins.time())}"
            hint = "decide earlier, or write the date too: `Fri 2027-05-14, 2 pm`"
        else:
            continue
        if at not in told:
            told.add(at)
            yield finding(sentence, at, hint)
    for _, concert in traversal.held_concerts(handbook):
        yield from _concert_rain_too_late(concert)


def _concert_rain_too_late(concert: Sourced[Concert]) -> Iterator[Problem]:
    item, rain = concert.item, concert.item.rain
    if rain is None:
        return
    if rain.date and rain.date <= item.date:
        yield finding(
            f"the rain date, {day(rain.date)}, is not after the concert, {day(item.date)}",
            (concert.file, "rain", "date"),
            "choose a later day",
        )
    decided = rain.decided
    if decided and (decided.day or item.date, decided.clock) > (item.date, item.downbeat):
        yield finding(
            f"this is decided on {day(decided.day or item.date)} at {format_clock(decided.clock)}, after the concert begins, on {day(item.date)} at {format_clock(item.downbeat)}",
            (concert.file, "rain", "decided"),
            "decide earlier, or write the date too: `Fri 2027-05-14, 2 pm`",
        )


@check
def rain_plan_says_nothing(handbook: Handbook) -> Iterator[Problem]:
    """A rain plan does not say what holds in bad weather.

    Bad:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10, starts: 10 am, rain: {decided: 7 am}}

    Good:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10, starts: 10 am, rain: {decided: 7 am, about: In heavy rain there is no parade.}}
    """
    told = set()
    for rain, at in _rain_plans(handbook):
        if at in told:
            continue
        if not rain.model_fields_set - {"decided"}:
            told.add(at)
            yield finding(
                "this rain plan does not say what holds in bad weather",
                at,
                "add another `room:`, `venue:` or `place:`, another `date:`, or `about:`",
                Severity.WARNING,
                on_key=True,
            )


def _rain_plans(handbook: Handbook) -> Iterator[tuple[AnyRainPlan, Address]]:
    for one in dated_events(handbook):
        if one.facts.rain is not None:
            yield one.facts.rain, one.at("rain")
    for _, concert in traversal.concerts(handbook):
        if concert.item.rain is not None:
            yield concert.item.rain, (concert.file, "rain")

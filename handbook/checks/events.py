"""Events that do not say what they are, or say what cannot be."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import takewhile

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.dated_events import DatedEvent, dated_events
from handbook.checks.wording import day, evening_meant, unknown
from handbook.domain.event_times import EventMoments
from handbook.domain.room_use import share_players, sharing_pairs
from handbook.domain.school_year import year_days
from handbook.domain.values.clock import format_clock
from handbook.plan.concert_day.school_day import SchoolHours, hours_on
from handbook.plan.events import dates_of, whole_events
from handbook.plan.school_days import school_year
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.source.names import listed

# Summers last ten or eleven weeks (common practice, no source); a slip in the year is 365 days off.
_FAR = timedelta(days=200)
_NOT_OF_DEADLINES = ("call", "starts", "ends", "pick_up", "ride", "rain", "attire", "on_the_day")

# What comes before what, in the words of fields; of each pair the first that is wrong is told.
_ORDER = (
    ("starts", "ends"),
    ("call", "starts"),
    ("leaves", "starts"),
    ("ends", "pick_up"),
    ("ends", "back"),
    ("back", "pick_up"),
    ("call", "ends"),
    ("leaves", "ends"),
    ("starts", "back"),
    ("starts", "pick_up"),
    ("call", "pick_up"),
    ("leaves", "back"),
)


@check
def event_without_name(handbook: Handbook) -> Iterator[Problem]:
    """An event has no name.

    It needs one, unless it is `like` an event above it that has one.

    Bad:

        events:
          - {id: harvest-parade, date: 2026-10-10}

    Good:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10}
    """
    for event in whole_events(handbook.events):
        if event.item.name is None and not event.lost:
            yield finding(
                "this event has no name, and is like none that has one",
                (*event.address, "id"),
                "add `name:`, as families know it",
            )


@check
def event_without_days(handbook: Handbook) -> Iterator[Problem]:
    """An event does not say when it is.

    It is on one `date`, on several days `from` and `to`, on each of the dates under `on`, or
    it is a deadline and `due` on a day.

    Bad:

        events:
          - {id: harvest-parade, name: Harvest parade, from: 2026-10-10}

    Good:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10}
    """
    for event in whole_events(handbook.events):
        item = event.item
        if item.date or item.due or item.on or (item.from_ and item.to) or event.lost:
            continue
        lacks = "its last day, `to`" if item.from_ else "when it is"
        lacks = "its first day, `from`" if item.to else lacks
        yield finding(
            f"this event does not say {lacks}",
            event.at("from_", "to", "id"),
            "give it one `date:`, `from:` and `to:`, dates under `on:`, or `due:` for a deadline",
        )


@check
def event_days_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """An event says in two ways when it is, so that it is unclear which one holds.

    Bad:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10, due: 2026-10-12}

    Good:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10}
          - {id: parade-forms, name: Parade forms, due: 2026-10-01}
    """
    for event in whole_events(handbook.events):
        item = event.item
        said = [
            name
            for name, is_said in (
                ("date", item.date),
                ("from", item.from_ or item.to),
                ("on", item.on),
                ("due", item.due),
            )
            if is_said
        ]
        if len(said) > 1:
            yield finding(
                f"this event says {listed(said)}, and only one of them can hold",
                event.at(*(name if name != "from" else "from_" for name in said[1:])),
                "keep one of them; a deadline is an event of its own",
            )


@check
def unknown_event_above(handbook: Handbook) -> Iterator[Problem]:
    """An event is like one that does not stand above it.

    Bad:

        events:
          - {id: away-games, like: home-game, on: [2026-12-04]}
          - {id: home-games, name: Home games, on: [2026-12-11]}

    Good:

        events:
          - {id: home-games, name: Home games, on: [2026-12-11]}
          - {id: away-games, like: home-games, on: [2026-12-04]}
    """
    every = [event.item.id for event in whole_events(handbook.events)]
    for place, event in enumerate(whole_events(handbook.events)):
        above, like = every[:place], event.item.like
        if like is None or like in above:
            continue
        at = (*event.address, "like")
        if like in every[place:]:
            yield finding(
                f"`{like}` does not stand above this event",
                at,
                "put the event that others are like first",
            )
        else:
            yield unknown("event above this one", like, at, above, "above it")


@check
def deadline_with_times(handbook: Handbook) -> Iterator[Problem]:
    """A deadline says something that only an event with a day of its own can have.

    Bad:

        events:
          - {id: trip-forms, name: Trip forms, due: 2027-03-01, pick_up: 4 pm}

    Good:

        events:
          - {id: trip-forms, name: Trip forms, due: 2027-03-01, about: Hand them in at the band office by 4 pm.}
    """
    for event in whole_events(handbook.events):
        said = [name for name in _NOT_OF_DEADLINES if name in event.item.model_fields_set]
        if event.item.due and said:
            yield finding(
                f"this is a deadline, which has no {listed(said)}",
                event.at(*said),
                "remove it, say it under `about:`, or write `date:` in place of `due:`",
                on_key=True,
            )


@check
def event_times_out_of_order(handbook: Handbook) -> Iterator[Problem]:
    """An event ends before it starts, its players are called after it has begun, or the like.

    What ends before 4 am is taken for the night after the day.

    Bad:

        events:
          - {id: home-games, name: Home games, date: 2026-12-04, call: 6:45 pm, starts: 6:30 pm}

    Good:

        events:
          - {id: home-games, name: Home games, date: 2026-12-04, call: 5:45 pm, starts: 6:30 pm}
    """
    told = set()
    for one in dated_events(handbook):
        wrong = _wrong_order(one.moments)
        if wrong is None:
            continue
        (first, early), (second, late) = wrong
        if (at := one.at(*_field(second))) not in told:
            told.add(at)
            yield finding(
                f"{_words(second)} at {format_clock(late.time())}, but {_words(first)} at {format_clock(early.time())}",
                at,
                evening_meant(
                    late.time(),
                    lambda evening: early.time() < evening,  # noqa: B023 - called at once
                    "change the two about, or check am and pm",
                ),
                notes=(Note("the other time is here", one.at(*_field(first))),),
            )


_Moment = tuple[str, datetime]


def _wrong_order(moments: EventMoments) -> tuple[_Moment, _Moment] | None:
    for first, second in _ORDER:
        early, late = getattr(moments, first), getattr(moments, second)
        if early and late and (late < early or (late == early and second == "ends")):
            return (first, early), (second, late)
    return None


def _field(name: str) -> tuple[str, ...]:
    return ("ride", name) if name in {"leaves", "back"} else (name,)


def _words(name: str) -> str:
    return {
        "call": "players are called",
        "leaves": "the ride leaves",
        "starts": "this starts",
        "ends": "this ends",
        "back": "the ride is back",
        "pick_up": "players are picked up",
    }[name]


@check
def event_far_from_years(handbook: Handbook) -> Iterator[Problem]:
    """An event is more than 200 days away from any school year.

    Most often the year of the date is a slip.

    Bad:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2062-10-10}

    Good:

        events:
          - {id: harvest-parade, name: Harvest parade, date: 2026-10-10}
    """
    years = [year for _, year in traversal.years(handbook)]
    if not years:
        return
    first, last = min(year.first_day for year in years), max(year.last_day for year in years)
    for event in whole_events(handbook.events):
        days: list[tuple[date, Address]] = [(one, at) for one, _, _, at in dates_of(event)]
        if event.item.due:
            days.append((event.item.due, event.at("due")))
        for one, at in days:
            if one < first - _FAR or one > last + _FAR:
                yield finding(
                    f"{day(one)} is far from any school year: they run from {day(first)} to {day(last)}",
                    at,
                    "check the date, above all its year",
                    Severity.WARNING,
                )


@check
def event_before_school_out(handbook: Handbook) -> Iterator[Problem]:
    """Players are called out of class for an event that starts after school.

    The end of school is that of the day's bells in the year's file. If it is meant, say under
    `away` when they are out of class. Who goes to an event that starts during school misses
    class without a question.

    Bad:

        events:
          - {id: games, name: Games, date: 2026-12-04, call: 2:30 pm, starts: 6 pm, ends: 8 pm}   # school ends at 3:10 pm

    Good:

        events:
          - {id: games, name: Games, date: 2026-12-04, call: 5:30 pm, starts: 6 pm, ends: 8 pm}
    """
    found = [
        one
        for one in dated_events(handbook)
        if one.facts.away is None and one.facts.cancelled is None and one.moments.starts
    ]
    hours = _hours(handbook) if found else {}
    told = set()
    for one in found:
        moments, school = one.moments, hours.get(one.first)
        if school is None or moments.begins is None or moments.starts is None:
            continue
        at = _begins_at(one, moments)
        if not moments.begins.time() < school.ends <= moments.starts.time() or at in told:
            continue
        told.add(at)
        yield finding(
            f"players of {one.name} are called at {format_clock(moments.begins.time())} on {day(one.first)}, before school is out at {format_clock(school.ends)}",
            at,
            _if_meant(moments),
            Severity.WARNING,
            (Note("the end of school is here", school.address),),
        )


def _begins_at(one: DatedEvent, moments: EventMoments) -> Address:
    """Give the address of the time from which players are there."""
    names = ("call", "leaves", "starts")
    first = next(name for name in names if getattr(moments, name) == moments.begins)
    return one.at(*_field(first))


def _if_meant(moments: EventMoments) -> str:
    span = moments.span
    if span is None:
        return (
            "if it is meant, write `away: {from: 1 pm, to: 3 pm}`, `away: all day` or `away: none`"
        )
    start, end = (format_clock(moment.time()) for moment in span)
    return f"if it is meant, write `away: {{from: {start}, to: {end}}}`, or `away: none` if nobody misses class"


_IF_CLOSED_LATE = "if it is off, write `cancelled:` and why; if it moved, its new `date:`, and `moved_from:` with the old one; if it is held all the same, `away: none`"


@check
def event_without_school(handbook: Handbook) -> Iterator[Problem]:
    """An event falls on a day when school is closed, or a deadline on a day without school.

    Families are away in a break, and nobody takes a form in. If an event is meant for such a
    day, say `away: none`. If the closure came later, as a snow day does, say `cancelled:` or
    `moved_from:` first of all. A weekend is as good as any day for an event, but not for a deadline.

    Bad:

        closures:
          - {name: Labor Day, date: 2026-09-07}
        events:
          - {id: forms, name: Forms, due: 2026-09-07}

    Good:

        events:
          - {id: forms, name: Forms, due: 2026-09-08}
    """
    if not handbook.events:
        return
    days = {
        one.day: one
        for sourced in handbook.years.values()
        if sourced.item.first_day <= sourced.item.last_day
        for one in year_days(school_year(sourced.item))
    }
    told = set()
    for one in dated_events(handbook):
        closed = [
            found.closure
            for n in range((one.last - one.first).days + 1)
            if (found := days.get(one.first + timedelta(days=n))) and found.closure
        ]
        free = one.facts.away or one.facts.cancelled or one.address in told
        if closed and not free:
            told.add(one.address)
            late = next((closure for closure in closed if closure.late), None)
            yield finding(
                f"school is closed then: {(late or closed[0]).name}",
                one.address,
                _IF_CLOSED_LATE
                if late
                else "choose another day; if it is meant, write `away: none`",
                Severity.WARNING,
            )
    for event in whole_events(handbook.events):
        due = event.item.due
        if due and (found := days.get(due)) and not found.is_school:
            why = f": {found.closure.name}" if found.closure else ""
            yield finding(
                f"there is no school on {day(due)}{why}, so nothing can be handed in",
                event.at("due"),
                "choose a school day",
                Severity.WARNING,
            )


def _hours(handbook: Handbook) -> dict[date, SchoolHours]:
    """Give the hours of school of each day that has any."""
    return {
        one.day: hours
        for sourced in handbook.years.values()
        if sourced.item.first_day <= sourced.item.last_day
        for one in year_days(school_year(sourced.item))
        if (hours := hours_on(sourced, one))
    }


@check
def events_at_once(handbook: Handbook) -> Iterator[Problem]:
    """Two events want the same players, or the same room, at the same time.

    It is only a warning where some players are wanted twice, of one instrument or shared by
    two bands, or where one of the events is for everyone.

    Bad:

        events:
          - {id: parade, name: Parade, date: 2026-10-10, starts: 9 am, ends: 11 am, who: [lantern]}
          - {id: fair, name: Fair, date: 2026-10-10, starts: 10 am, ends: noon, who: [lantern]}

    Good:

        events:
          - {id: parade, name: Parade, date: 2026-10-10, starts: 9 am, ends: 11 am, who: [lantern]}
          - {id: fair, name: Fair, date: 2026-10-10, starts: noon, ends: 2 pm, who: [lantern]}
    """
    timed = [(span, one) for one in dated_events(handbook) if (span := one.span)]
    timed.sort(key=lambda pair: pair[0])
    shared = sharing_pairs(
        {band.id: band.shares_players_with for _, band in traversal.ensembles(handbook)}
    )
    seen: dict[tuple[Address, Address], bool] = {}
    for place, (span, one) in enumerate(timed):
        later = takewhile(lambda pair: pair[0][0] < span[1], timed[place + 1 :])  # noqa: B023 - used at once
        for other_span, other in later:
            pair = (one.event.address, other.event.address)
            if seen.get(pair):
                continue
            wanted = _wanted_twice(handbook, one, other, shared)
            seen[pair] = wanted is not None
            if wanted is None:
                continue
            what, severity = wanted
            end = min(span[1], other_span[1])
            yield finding(
                f"{one.name} and {other.name} want {what} from {format_clock(other_span[0].time())} to {format_clock(end.time())} on {day(other_span[0].date())}",
                other.address,
                "change a time or a date, or say under `who:` and `players:` who is at which",
                severity,
                (Note("the other event is here", one.address),),
            )


def _wanted_twice(
    handbook: Handbook, one: DatedEvent, other: DatedEvent, shared: frozenset[frozenset[str]]
) -> tuple[str, Severity] | None:
    """Say what both want, the gravest first."""
    first, second = one.event.item, other.event.item
    apart = first.players and second.players and not {*first.players} & {*second.players}
    everyone = [band.id for band in handbook.program.item.ensembles]
    who, others = first.who or everyone, second.who or everyone
    both = [band for band in who if band in others]
    if both and not apart:
        narrow = first.players or second.players or not (first.who and second.who)
        return f"{listed(both)}", Severity.WARNING if narrow else Severity.ERROR
    if not apart and share_players(who, others, shared):
        return "players that their bands share", Severity.WARNING
    room = one.facts.room
    return (f"`{room}`", Severity.WARNING) if room and room == other.facts.room else None

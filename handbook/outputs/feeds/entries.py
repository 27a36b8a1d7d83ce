"""What stands in the calendars that readers subscribe to, made of the facts of a plan.

An entry goes by the key of its fact, so that it stays itself when its title, its hour or its
place among others changes. None names a person.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import chain

from handbook.domain.calendar_events import CalendarEvent, key_in
from handbook.domain.calendar_records import LabelMove, Why, in_time
from handbook.domain.call_times import mark_after
from handbook.domain.facts import Fact, Topic
from handbook.domain.meetings import RehearsalKind
from handbook.domain.school_year import Resume, day_labels
from handbook.outputs import addresses
from handbook.outputs.components.concert_line import concert_hours
from handbook.outputs.components.crew_bands import crew_bands, crew_days
from handbook.outputs.components.event_words import capital, day_name, place_name
from handbook.outputs.components.moved import moved_words
from handbook.outputs.components.rain_words import rain_calls, rain_line, rain_place
from handbook.outputs.components.rehearsal_names import anchors, makes_up, name_and_kind, why_lost
from handbook.outputs.components.section_rooms import section_rooms
from handbook.outputs.facts.concerts import concert_facts
from handbook.outputs.facts.events import day_facts, deadline_facts
from handbook.outputs.facts.rehearsals import rehearsal_facts
from handbook.outputs.facts.school import school_lines
from handbook.outputs.facts.telling import below
from handbook.outputs.html import formatting
from handbook.outputs.html.prose import plain
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_clauses, with_semicolons
from handbook.outputs.page import Context
from handbook.plan.concert_model import ConcertDay, GroupDay
from handbook.plan.events_model import EventDay, EventRow, PlaceRow
from handbook.plan.model import ConcertPlan, ConcertRain, CyclePlan, EnsemblePlan, RehearsalRow
from handbook.plan.players import everyone
from handbook.plan.school_days import school_dates, school_year
from handbook.schema.program import Room, Venue
from handbook.schema.year import SchoolClosure

_ONE_DAY = timedelta(days=1)
_MARK_LETTERS = 12  # of a digest: no two programs on Earth share them
_FEW_LABELS = 3  # as many as a line can name
_SHOWN = frozenset({Topic.DAY, Topic.CALL, Topic.PLACE, Topic.THINGS})


def calendar_events(context: Context) -> tuple[CalendarEvent, ...]:
    """Give all entries of a plan, in order of time; no two have the same UID."""
    cycles = (cycle_entries(context, cycle) for cycle in context.plan.cycles)
    return each_once((*chain.from_iterable(cycles), *entries_beside(context)))


def each_once(entries: Iterable[CalendarEvent]) -> tuple[CalendarEvent, ...]:
    """Put entries in order of time; what several cycles have in common stands once."""
    return tuple(sorted({one.uid: one for one in entries}.values(), key=in_time))


def cycle_entries(context: Context, cycle: CyclePlan) -> tuple[CalendarEvent, ...]:
    """Give the entries of one cycle: rehearsals, concerts, days without school or made up."""
    uid = _uids(context)
    return (
        *chain.from_iterable(
            _rehearsals(context, cycle, ensemble, uid) for ensemble in cycle.ensembles
        ),
        *chain.from_iterable(_concert(context, cycle, one, uid) for one in cycle.concerts),
        *_school(context, cycle, uid),
    )


def entries_beside(context: Context) -> tuple[CalendarEvent, ...]:
    """Give the entries of all events and deadlines."""
    uid = _uids(context)
    return tuple(entry for event in context.plan.events for entry in _event(context, event, uid))


def lost_rehearsals(context: Context) -> Mapping[str, Why]:
    """Say of each rehearsal of a plan that is lost why, by the key of its entry if it had one."""
    return {
        key: why for cycle in context.plan.cycles for key, why in lost_of(context, cycle).items()
    }


def lost_of(context: Context, cycle: CyclePlan) -> Mapping[str, Why]:
    """Say it of the rehearsals of one cycle, and of days that may have had another label."""
    uid, found = _uids(context), dict[str, Why]()
    for ensemble in cycle.ensembles:
        for missed in ensemble.missed:
            key = key_in(uid(f"{cycle.id}/{ensemble.item.id}/rehearsal/{missed.day}"))
            why = capital(why_lost(context, missed))
            # Of a class and an extra rehearsal on one day, the class is told of first.
            found.setdefault(key, why)
            found[f"{key}-extra"] = why
        for day in _days_of_others(context, cycle, ensemble):
            key = key_in(uid(f"{cycle.id}/{ensemble.item.id}/rehearsal/{day}"))
            found.setdefault(key, _label_moves(context, cycle, uid))
    return found


def _days_of_others(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[date]:
    """Give the days of a cycle whose label is none of those on which a band meets, if it meets by labels."""
    year = cycle.year
    own = {
        label
        for meeting in year.meetings
        if meeting.ensemble == ensemble.band
        for label in meeting.labels
    }
    if own:
        labels = context.once("day labels", year, lambda: day_labels(school_year(year)))
        for day, label in labels.items():
            if cycle.first <= day <= cycle.last and label not in own:
                yield day


def _label_moves(
    context: Context, cycle: CyclePlan, uid: Callable[[str], str]
) -> tuple[LabelMove, ...]:
    """Give the closures of a year after which labels go on with the next, the latest first."""
    year = cycle.year

    def found() -> Iterator[LabelMove]:
        labels = year.day_labels
        few = formatting.listed(labels) if len(labels) <= _FEW_LABELS else ""
        lines = zip(school_lines(context, cycle.item.year, year), school_dates(year), strict=True)
        for (key, line), dates in lines:
            entry = dates.entry
            if isinstance(entry, SchoolClosure) and (entry.resume or year.resume) is Resume.NEXT:
                words = _moved_on(few, context.say(entry.name), line.when)
                yield LabelMove(key_in(uid(key)), line.first, words)

    return context.once(
        "label moves", year, lambda: tuple(sorted(found(), key=lambda one: one.day, reverse=True))
    )


def _moved_on(labels: str, name: str, when: str) -> str:
    if not labels:
        return gettext("Day labels moved on after %(name)s, %(when)s", name=name, when=when)
    return gettext(
        "%(labels)s days moved on after %(name)s, %(when)s", labels=labels, name=name, when=when
    )


def _uids(context: Context) -> Callable[[str], str]:
    """Give how a key becomes a UID: two programs may well have the same keys."""
    program = context.plan.program
    named = "\n".join((context.say(program.school), context.say(program.name)))
    mark = hashlib.sha256(named.encode()).hexdigest()[:_MARK_LETTERS]
    # A slash would end a name where clients keep each entry in a file named by its UID.
    return lambda key: f"{key.replace('/', '.')}@{mark}"


def _rehearsals(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, uid: Callable[[str], str]
) -> Iterator[CalendarEvent]:
    name, page = context.say(ensemble.item.name), addresses.ensemble(cycle.id, ensemble.item.id)
    found = rehearsal_facts(context, cycle, ensemble)
    for (row, facts), anchor in zip(found, anchors(ensemble), strict=True):
        yield CalendarEvent(
            uid=uid(facts[0].key),
            title=_title(context, name, row),
            starts=row.rehearsal.start,
            ends=row.rehearsal.end,
            place=_rooms(context, ensemble, row),
            about=_lines(_stands_for(row), _told(facts[1:], facts[0], without=("room",))),
            path=f"{page}#{anchor}",
            readers=facts[0].readers,
        )


def _title(context: Context, band: str, row: RehearsalRow) -> str:
    """Name a band's rehearsal; what the school calls the day is not what the band does."""
    named = name_and_kind(context, row)
    if not named:
        return gettext("%(band)s rehearsal", band=band)
    if row.rehearsal.kind is RehearsalKind.ALTERED:
        return gettext("%(band)s rehearsal (%(day)s)", band=band, day=named)
    return gettext("%(band)s: %(rehearsal)s", band=band, rehearsal=named)


def _stands_for(row: RehearsalRow) -> str:
    """Say which day a rehearsal was moved from, or makes up for."""
    if row.rehearsal.instead_of:
        return _moved(row.rehearsal.day, [row.rehearsal.instead_of])
    return capital(makes_up(row))


def _moved(now: date, before: Sequence[date]) -> str:
    """Say when something is now that was moved, and when it was; nothing of what was not."""
    words = moved_words(now, before)
    return gettext("Moved: %(what)s", what=words) if words else ""


def _lines(*parts: str) -> str:
    return "\n".join(filter(None, parts))


def _concert(
    context: Context, cycle: CyclePlan, concert: ConcertPlan, uid: Callable[[str], str]
) -> Iterator[CalendarEvent]:
    """Give a concert's day for everyone, then for each band, from its own call to its pick-up."""
    main, *facts = concert_facts(context, cycle, concert)
    name, path = context.say(concert.item.name), addresses.concert(cycle.id, concert.id)
    moved = "" if concert.cancelled else _moved(concert.item.date, concert.item.moved_from)

    def entry(
        key: str,
        groups: Iterable[GroupDay],
        told: Sequence[Fact],
        readers: tuple[str, ...],
        band: str,
        what: str = name,
    ) -> CalendarEvent:
        groups = tuple(groups)
        hours = concert_hours(concert, band)
        has_own = hours != concert_hours(concert)
        meets = _meets(context, concert, groups) if band else ""
        starts, ends = _day(concert.downbeat, concert.day, groups, has_own=has_own)
        when = with_clauses((formatting.short_day(concert.item.date), hours))
        own = main if concert.cancelled else replace(main, value=when)
        return CalendarEvent(
            uid=uid(key),
            title=gettext("%(what)s (music at %(hours)s)", what=what, hours=hours),
            starts=starts,
            ends=ends,
            place=meets or _venue(context, concert.venue),
            about=_lines(
                moved,
                _told([own, *_without_echoes(told)], own, without=() if meets else ("venue",)),
            ),
            path=path,
            readers=readers,
            is_concert=True,
            cancelled=concert.cancelled,
            whole="" if key == main.key else key_in(uid(main.key)),
        )

    bands = [group for group in concert.day.groups if group.ensemble]
    yield entry(main.key, bands, facts, main.readers, "")
    for band in (one for one in context.plan.program.ensembles if one.id in concert.item.players):
        own = {one.id for one in everyone([band])}
        yield entry(
            f"{main.key}/band/{band.id}",
            [group for group in bands if group.ensemble and group.ensemble.id == band.id],
            [fact for fact in facts if own.intersection(fact.readers)],
            tuple(sorted(own)),
            band.id,
        )
    for band in (one for one in context.plan.program.ensembles if one.id in crew_bands(concert)):
        own, roles = {one.id for one in everyone([band])}, list(crew_days(concert, band.id))
        yield entry(
            f"{main.key}/band/{band.id}",
            [group for _, group in roles if group],
            [fact for fact in facts if own.intersection(fact.readers)],
            tuple(sorted(own)),
            band.id,
            gettext(
                "%(concert)s: %(roles)s",
                concert=name,
                roles=formatting.listed([context.say(role.name) for role, _ in roles]),
            ),
        )
    rain = concert.rain
    if rain and rain.item.date and rain.day and not concert.cancelled:
        yield _rain_date(context, concert, rain, uid(f"{main.key}/rain-date"), main, path)


def _meets(context: Context, concert: ConcertPlan, groups: Sequence[GroupDay]) -> str:
    """Say where the school's buses wait for a band, if all of it rides: there its evening begins."""
    travel = concert.item.travel
    if travel is None or not groups or any(group.ride is None for group in groups):
        return ""
    return with_clauses((context.say(travel.meet), context.say(context.plan.program.school)))


def _rain_date(
    context: Context, concert: ConcertPlan, rain: ConcertRain, uid: str, main: Fact, path: str
) -> CalendarEvent:
    """Give the day on which a concert is if the weather does not allow it on its own."""
    assert rain.day is not None, "asked before"
    starts, ends = _day(
        rain.downbeat, rain.day, (group for group in rain.day.groups if group.ensemble)
    )
    calls = (
        gettext("%(band)s: %(words)s", band=band, words=words)
        for band, words in rain_calls(context, concert)
    )
    return CalendarEvent(
        uid=uid,
        title=_rain_title(context.say(concert.item.name), concert.item.date),
        starts=starts,
        ends=ends,
        place=_venue(context, rain.venue),
        about=_lines(rain_line(context, concert), rain_place(context, concert), *calls),
        path=path,
        readers=main.readers,
        is_concert=True,
    )


def _rain_title(name: str, day: date) -> str:
    return gettext(
        "Rain date: %(what)s (only if it cannot be on %(day)s)",
        what=name,
        day=formatting.short_day(day),
    )


def _day(
    downbeat: datetime, day: ConcertDay, groups: Iterable[GroupDay], *, has_own: bool = False
) -> tuple[datetime, datetime]:
    """Give from when to when players are there.

    Where no call or pick-up is known it is the audience's hours, or the time they play if
    they have an hour of their own.
    """
    found = tuple(groups)
    if has_own and found:
        first = min(group.times.first_note for group in found)
        last = mark_after(max(group.times.last_note for group in found))
    else:
        first, last = min(downbeat, day.doors or downbeat), mark_after(day.ends)
    calls = [at for group in found if (at := group.call if group.role else group.report)]
    pick_ups = [group.collect for group in found if group.collect]
    starts = min(calls, default=first)
    return starts, max(starts, max(pick_ups, default=last))


def _event(context: Context, event: EventRow, uid: Callable[[str], str]) -> Iterator[CalendarEvent]:
    path = addresses.event(event.item.id)
    for day, (main, *facts) in day_facts(context, event):
        starts, ends = _hours(day)
        name = day_name(context, event, day)
        yield CalendarEvent(
            uid=uid(main.key),
            title=name,
            starts=starts,
            ends=ends,
            place=_place(context, day.place),
            about=_lines(
                "" if day.cancelled else _moved(day.first, day.moved_from),
                _told([main, *facts], main, without=("place",)),
            ),
            path=path,
            readers=main.readers,
            cancelled=day.cancelled,
        )
        if day.rain and day.rain.day and not day.cancelled:
            at = day.rain.starts
            yield CalendarEvent(
                uid=uid(f"{main.key}/rain-date"),
                title=_rain_title(name, day.first),
                starts=at or day.rain.day,
                ends=at or day.rain.day + _ONE_DAY,
                place=_place(context, day.rain.place or day.place),
                path=path,
                readers=main.readers,
            )
    if event.due:
        main, *facts = deadline_facts(context, event)
        yield CalendarEvent(
            uid=uid(main.key),
            title=gettext("Due: %(what)s", what=context.say(event.item.name)),
            starts=event.due,
            ends=event.due + _ONE_DAY,
            about=_told([main, *facts], main),
            path=path,
            readers=main.readers,
            cancelled=event.item.cancelled is not None,
        )


def _hours(day: EventDay) -> tuple[datetime, datetime] | tuple[date, date]:
    """Give from when to when players are there; whole days where that is not known."""
    starts, ends = day.moments.begins, day.moments.over
    if starts and (ends or day.first == day.last):
        return starts, max(starts, ends or starts)
    return day.first, day.last + _ONE_DAY


def _school(
    context: Context, cycle: CyclePlan, uid: Callable[[str], str]
) -> Iterator[CalendarEvent]:
    """Give the days within a cycle on which there is no school, and those made up."""
    for key, line in school_lines(context, cycle.item.year, cycle.year):
        touches = line.first <= cycle.last and cycle.first <= line.last
        if line.kind == "altered" or not touches:
            continue
        for first, last in _runs(line.days) if line.days else ((line.first, line.last),):
            yield CalendarEvent(
                uid=uid(key if first == line.first else f"{key}/{first}"),
                title=line.title,
                starts=first,
                ends=last + _ONE_DAY,
                about=line.detail,
                path=addresses.CALENDAR,
            )


def _runs(days: Sequence[date]) -> Iterator[tuple[date, date]]:
    """Join days that follow one another."""
    first = last = days[0]
    for day in days[1:]:
        if day != last + _ONE_DAY:
            yield first, last
            first = day
        last = day
    yield first, last


def _without_echoes(facts: Iterable[Fact]) -> Iterator[Fact]:
    """Leave out what a section of a band does as the whole band, of which is told before it."""
    seen = set[tuple[str, ...]]()
    for fact in facts:
        same = (*fact.readers, _part(fact), fact.value)
        if "/group/" not in fact.key or same not in seen:
            yield fact
        seen.add(same)


def _told(facts: Iterable[Fact], main: Fact, without: Sequence[str] = ()) -> str:
    """Write facts in lines, the most urgent first, without the name of what all are about.

    The parts `without` are told elsewhere: by the entry's place.
    """
    lines = (
        plain(fact.value)
        if fact is main
        else gettext(
            "%(about)s: %(value)s",
            about=below(fact.about, main.about),
            value=plain(fact.value),
        )
        for fact in sorted(facts, key=lambda fact: fact.topic)
        if fact.topic in _SHOWN and fact.key not in {f"{main.key}/{part}" for part in without}
    )
    return "\n".join(map(capital, lines))


def _part(fact: Fact) -> str:
    return fact.key.rpartition("/")[2]


def _place(context: Context, place: PlaceRow | None) -> str:
    """Name a place as a map would find it."""
    if place and place.venue:
        return with_clauses((place_name(context, place), context.say(place.venue.address)))
    return _room(context, place.room) if place and place.room else place_name(context, place)


def _venue(context: Context, venue: Venue) -> str:
    return with_clauses((context.say(venue.name), context.say(venue.address)))


def _rooms(context: Context, ensemble: EnsemblePlan, row: RehearsalRow) -> str:
    """Say where a rehearsal is: in its room, or each section in its own."""
    apart = section_rooms(context, ensemble, row)
    return with_semicolons(one.words for one in apart) if apart else _room(context, row.room)


def _room(context: Context, room: Room | None) -> str:
    """Name a room; one of a venue with its street address."""
    if room is None:
        return ""
    venues = context.plan.program.venues
    where = [one.address for one in venues if room.id in {own.id for own in one.rooms}]
    return with_clauses(map(context.say, (room.name, *where[:1])))

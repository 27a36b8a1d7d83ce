"""Events: a list of all of them, and a page of each as a family needs it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time

from markupsafe import Markup

from handbook.domain.values.text import Text
from handbook.outputs import addresses
from handbook.outputs.components.event_words import (
    EventLine,
    capital,
    dates,
    event_lines,
    hours,
    place_name,
    place_of_deadline,
    who,
)
from handbook.outputs.components.moved import moved_words
from handbook.outputs.components.to_calendar import ToCalendar
from handbook.outputs.html import formatting
from handbook.outputs.html.event_data import happening_data
from handbook.outputs.i18n import gettext, ngettext, pgettext
from handbook.outputs.i18n.formats import with_clauses, with_commas
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.events import first_day_of
from handbook.plan.events_model import EventDay, EventRow, PlaceRow, RainRow
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.players import everyone
from handbook.records import dataclass
from handbook.schema.on_the_day import CallOnTheDay
from handbook.schema.program import Contact

SHOWS_EVENTS = True


@dataclass(frozen=True, slots=True)
class ClassMissed:
    """A rehearsal that players miss for an event, on the day on which that begins, in words."""

    event: str
    day: date
    text: str


@dataclass(frozen=True, slots=True)
class EventMonth:
    """The events of a month; `last` is the day on which all of them are over."""

    name: str
    last: date
    lines: tuple[EventLine, ...]


@dataclass(frozen=True, slots=True)
class EventList:
    """The page of all events."""

    ensembles: tuple[tuple[str, str], ...]
    months: tuple[EventMonth, ...]


@dataclass(frozen=True, slots=True)
class FactLine:
    """A line of a fact: a clock time, then words, which may hold links and emphasis if `marked`.

    An `address` is one that a map finds, a `phone` a number to call.
    """

    words: str
    at: str = ""
    marked: bool = False
    strong: bool = False
    address: bool = False
    phone: bool = False


@dataclass(frozen=True, slots=True)
class EventFact:
    """What a family must know of an event; `key` is its place on the page, `listed` a list of things."""

    key: str
    name: str
    lines: tuple[FactLine, ...]
    listed: bool = False


@dataclass(frozen=True, slots=True)
class EventDayView:
    """One of several days of an event, with what holds on it alone."""

    day: date
    last: date
    anchor: str
    date: str
    hours: str
    name: str
    facts: tuple[EventFact, ...]


@dataclass(frozen=True, slots=True)
class EventSheet:
    """The page of an event; `days` are shown where it comes more than once, else `when`.

    It is over after the `last` day.

    Nothing of one that is `cancelled` as a whole invites.
    """

    name: str
    kind: str
    who: str
    about: str
    day: date
    last: date
    date: str
    hours: str
    due: bool
    cancelled: bool
    facts: tuple[EventFact, ...]
    days: tuple[EventDayView, ...]
    event: Markup | None
    calendar: ToCalendar | None
    contact: Contact


def share(context: Context, cycle: CyclePlan) -> tuple[ClassMissed, ...]:
    """Give the rehearsals of a cycle that players miss for events."""
    return tuple(
        ClassMissed(event.item.id, day.first, text)
        for event in cycle.events
        for day in event.days
        if day.away
        for ensemble in cycle.ensembles
        for text in _missed(context, event, day, ensemble)
    )


def _missed(
    context: Context, event: EventRow, day: EventDay, ensemble: EnsemblePlan
) -> Iterator[str]:
    name = context.say(ensemble.item.name)
    for row in ensemble.rehearsals:
        for one in row.missing:
            if (one.event.item.id, one.day.first) == (event.item.id, day.first):
                when = formatting.span(row.rehearsal.start, row.rehearsal.end)
                held = formatting.short_day(row.rehearsal.day)
                if one.because:
                    yield gettext(
                        "Players who are in %(band)s too miss the rehearsal of %(band)s on %(day)s, %(hours)s.",
                        band=name,
                        day=held,
                        hours=when,
                    )
                else:
                    yield gettext(
                        "They miss the rehearsal of %(band)s on %(day)s, %(hours)s.",
                        band=name,
                        day=held,
                        hours=when,
                    )
    named = event.item.name or Text.plain(event.item.id)
    for missed in ensemble.missed if event.is_for(ensemble.band) else ():
        if missed.cause == "event" and day.first <= missed.day <= day.last and missed.why == named:
            day_said = formatting.short_day(missed.day)
            yield gettext("%(band)s has no rehearsal on %(day)s.", band=name, day=day_said)


def pages(context: Context, cycles: Sequence[tuple[ClassMissed, ...]]) -> Iterator[Page]:
    """Make the list of events and a page of each, if there are any."""
    events = context.plan.events
    if not events:
        return
    missed: dict[tuple[str, date], list[str]] = {}
    for one in (one for cycle in cycles for one in cycle):
        missed.setdefault((one.event, one.day), []).append(one.text)
    yield _list(context, events)
    for event in events:
        yield _event_page(context, event, missed)


Missed = Mapping[tuple[str, date], Sequence[str]]


def _list(context: Context, events: Sequence[EventRow]) -> Page:
    months: dict[str, list[EventLine]] = {}
    for line in event_lines(context, events):
        months.setdefault(formatting.month_heading(line.day), []).append(line)
    bands = {one.id for event in events for one in everyone(event.ensembles)}
    view = EventList(
        ensembles=tuple(
            (one.id, context.say(one.name))
            for one in everyone(context.plan.program.ensembles)
            if one.id in bands
        ),
        months=tuple(
            EventMonth(name, max(line.last for line in lines), tuple(lines))
            for name, lines in months.items()
        ),
    )
    names = [context.say(event.item.name) for event in events]
    kinds = [context.say(event.item.kind) for event in events]
    return Page(
        path=addresses.EVENTS,
        kind="events",
        title=gettext("Events"),
        description=gettext(
            "Everything besides rehearsals and concerts: when and where to be, and what to bring."
        ),
        section="events",
        view=view,
        search=(
            SearchEntry(
                gettext("Events"),
                with_commas(dict.fromkeys(names)),
                keywords=" ".join(dict.fromkeys(("dates", *filter(None, kinds)))),
            ),
        ),
    )


def _event_page(context: Context, event: EventRow, missed: Missed) -> Page:
    view = _sheet(context, event, missed)
    when = gettext("due %(day)s", day=view.date) if view.due else view.date
    if view.days:
        when = ngettext(
            "%(num)s date, on %(day)s",
            "%(num)s dates, the first on %(day)s",
            len(view.days),
            day=formatting.long_day(view.day),
        )
    return Page(
        path=addresses.event(event.item.id),
        kind="event",
        title=view.name,
        description=gettext(
            "%(event)s, %(who)s: %(when)s.", event=view.name, who=view.who, when=when
        ),
        section="events",
        view=view,
        crumbs=(Link(gettext("Events"), addresses.EVENTS),),
        search=tuple(_entries(event, view)),
    )


def _sheet(context: Context, event: EventRow, missed: Missed) -> EventSheet:
    by_day = [
        _facts(context, day, missed.get((event.item.id, day.first), ())) for day in event.days
    ]
    if event.due and (place := place_of_deadline(event)):
        by_day = [(EventFact("place", gettext("Where"), tuple(_place(context, place))),)]
    if event.due and event.item.cancelled:
        by_day = [
            (EventFact("cancelled", gettext("Cancelled"), _plain(context, event.item.cancelled)),)
        ]
    elif event.due and event.item.moved_from:
        moved = tuple(_moved(event.due, event.item.moved_from))
        by_day = [(*moved, *(fact for facts in by_day for fact in facts))]
    shared = (
        tuple(fact for fact in by_day[0] if all(fact in facts for facts in by_day))
        if by_day
        else ()
    )
    first = event.days[0] if event.days else None
    many = len(event.days) > 1
    if first is None and event.item.bring and not event.item.cancelled:
        shared += (_things(context, "bring", gettext("Bring"), event.item.bring),)
    same_about = {context.say(day.facts.about) for day in event.days} or {
        context.say(event.item.about)
    }
    cancelled = not _is_on(event)
    return EventSheet(
        name=context.say(event.item.name),
        kind=context.say(event.item.kind),
        who=capital(who(context, event)),
        about=min(same_about) if len(same_about) == 1 and not cancelled else "",
        day=first_day_of(event),
        last=max((day.last for day in event.days), default=event.due or date.max),
        date=_long_dates(first) if first else formatting.long_day(event.due or date.max),
        hours=_hours(first) if first and not many else "",
        due=event.due is not None,
        cancelled=cancelled,
        facts=shared,
        days=tuple(
            _day(context, event, day, facts, shared)
            for day, facts in zip(event.days, by_day, strict=True)
        )
        if many
        else (),
        event=happening_data(context, event, addresses.event(event.item.id))
        if event.days
        else None,
        calendar=_to_calendar(event),
        contact=context.plan.program.contact,
    )


def _to_calendar(event: EventRow) -> ToCalendar | None:
    """Offer what is still held, or due."""
    page = addresses.event(event.item.id)
    return ToCalendar(addresses.entry_file(page)) if _is_on(event) else None


def _is_on(event: EventRow) -> bool:
    """Whether any day of an event is still held, or it is still due."""
    held = any(not day.cancelled for day in event.days)
    return held or bool(event.due and not event.item.cancelled)


def _hours(day: EventDay) -> str:
    return "" if day.cancelled else hours(day.moments)


def _long_dates(day: EventDay) -> str:
    first = formatting.long_day(day.first)
    if day.first == day.last:
        return first
    # Translators: from the first day to the last.
    return gettext("%(first)s – %(last)s", first=first, last=formatting.long_day(day.last))


def _day(
    context: Context,
    event: EventRow,
    day: EventDay,
    facts: Sequence[EventFact],
    shared: Sequence[EventFact],
) -> EventDayView:
    own = [fact for fact in facts if fact not in shared]
    abouts = {context.say(one.facts.about) for one in event.days}
    if len(abouts) > 1 and day.facts.about:
        own.append(EventFact("about", "", (FactLine(context.say(day.facts.about), marked=True),)))
    return EventDayView(
        day=day.first,
        last=day.last,
        anchor=day.first.isoformat(),
        date=dates(day.first, day.last),
        hours=_hours(day),
        name=context.say(day.name),
        facts=tuple(own),
    )


def _facts(context: Context, day: EventDay, missed: Sequence[str]) -> tuple[EventFact, ...]:
    """Gather what a family must know of one day, in the order of the day."""
    if day.cancelled:
        return (EventFact("cancelled", gettext("Cancelled"), _plain(context, day.facts.cancelled)),)
    moments, facts, venue = day.moments, day.facts, day.place.venue if day.place else None
    to_ride = moments.call and moments.leaves and moments.call <= moments.leaves
    meet = place_name(context, day.meet) if to_ride else ""
    found = [
        *_moved(day.first, day.moved_from),
        EventFact(
            "call",
            gettext("Be there"),
            _time(day, moments.call, gettext("at %(place)s", place=meet) if meet else ""),
        ),
        EventFact("ride", pgettext("bus or cars", "Ride"), tuple(_ride(context, day))),
        EventFact("place", gettext("Where"), tuple(_place(context, day.place))),
        EventFact(
            "on-the-day", gettext("On the day, call"), _on_the_day(context, facts.on_the_day)
        ),
        EventFact(
            "pick-up", gettext("Pick-up"), _time(day, moments.pick_up, _collected(context, day))
        ),
        _things(context, "attire", gettext("Wear"), facts.attire),
        _things(context, "bring", gettext("Bring"), facts.bring),
        EventFact("rain", gettext("Rain plan"), tuple(_rain(context, day.rain, day.first))),
        EventFact("class", gettext("Class"), tuple(map(FactLine, dict.fromkeys(missed)))),
        EventFact("parking", gettext("Parking"), _text(context, venue.parking if venue else None)),
        EventFact("access", gettext("Access"), _text(context, venue.access if venue else None)),
    ]
    return tuple(fact for fact in found if fact.lines)


def _moved(now: date, before: Sequence[date]) -> Iterator[EventFact]:
    if words := moved_words(now, before):
        yield EventFact("moved", gettext("Moved"), (FactLine(words, strong=True),))


def _time(day: EventDay, moment: datetime | None, words: str = "") -> tuple[FactLine, ...]:
    return (_at(day, moment, words),) if moment else ()


def _at(day: EventDay, moment: datetime, words: str) -> FactLine:
    """Say what is when; of an event of several days, on which of them."""
    at = formatting.clock(moment)
    if day.first == day.last:
        return FactLine(words, at)
    on = formatting.short_day(moment.date())
    if not words:
        return FactLine(gettext("on %(day)s", day=on), at)
    # Translators: what is at a time that stands before it, and on which day.
    return FactLine(gettext("%(what)s on %(day)s", what=words, day=on), at)


def _plain(context: Context, text: Text | None) -> tuple[FactLine, ...]:
    return (FactLine(context.say(text), strong=True),) if text else ()


def _text(context: Context, text: Text | None) -> tuple[FactLine, ...]:
    return (FactLine(context.say(text), marked=True),) if text else ()


def _on_the_day(context: Context, whom: CallOnTheDay | None) -> tuple[FactLine, ...]:
    if whom is None:
        return ()
    return FactLine(context.say(whom.role)), FactLine(whom.phone, strong=True, phone=True)


def _place(context: Context, place: PlaceRow | None) -> Iterator[FactLine]:
    if place is None:
        return
    say = context.say
    for room in (place.room,) if place.room else ():
        yield FactLine(say(room.name), strong=True)
        if room.directions:
            yield FactLine(say(room.directions), marked=True)
    if place.venue:
        yield FactLine(say(place.venue.name), strong=not place.room)
        yield FactLine(say(place.venue.address), address=True)
    if place.words:
        yield FactLine(say(place.words), strong=not (place.room or place.venue))


def _ride(context: Context, day: EventDay) -> Iterator[FactLine]:
    moments, meet = day.moments, place_name(context, day.meet)
    if moments.leaves:
        # Translators: a bus, after the time.
        where = gettext("leaves from %(place)s", place=meet) if meet else gettext("leaves")
        yield _at(day, moments.leaves, where)
    elif meet:
        yield FactLine(gettext("from %(place)s", place=meet))
    if moments.back:
        # Translators: after the time at which a bus is back at school.
        yield _at(day, moments.back, gettext("back, about"))


def _collected(context: Context, day: EventDay) -> str:
    """Say where families collect players: where the ride began, or else where the event is."""
    if day.moments.leaves:
        meet = place_name(context, day.meet)
        return gettext("at %(place)s", place=meet) if meet else ""
    return gettext("same place") if day.place else ""


def _things(context: Context, key: str, name: str, texts: Sequence[Text]) -> EventFact:
    lines = tuple(FactLine(context.say(text), marked=True) for text in texts)
    return EventFact(key, name, lines, listed=True)


def _rain(context: Context, rain: RainRow | None, first: date) -> Iterator[FactLine]:
    if rain is None:
        return
    if rain.decided:
        on, at = rain.decided.date(), formatting.clock(rain.decided)
        yield FactLine(
            gettext("Decided that day at %(time)s.", time=at)
            if on == first
            else gettext("Decided on %(day)s at %(time)s.", day=formatting.short_day(on), time=at)
        )
    venue = rain.place.venue if rain.place else None
    then = [
        place_name(context, rain.place),
        context.say(venue.address) if venue else "",
        gettext("on %(day)s", day=formatting.short_day(rain.day)) if rain.day else "",
        gettext("at %(time)s", time=formatting.clock(rain.starts)) if rain.starts else "",
    ]
    if any(then):
        plan = with_clauses(filter(None, then))
        yield FactLine(gettext("In bad weather: %(plan)s.", plan=plan))
    if rain.about:
        yield FactLine(context.say(rain.about), marked=True)


# Words that readers type and no fact has; what to wear or bring is most often asked of concerts.
_KEYWORDS = {"ride": "bus", "rain": "bad weather", "cancelled": "off", "moved": "new date"}


def _entries(event: EventRow, view: EventSheet) -> Iterator[SearchEntry]:
    facts = [*view.facts, *(fact for day in view.days for fact in day.facts)]
    keys = dict.fromkeys(fact.key for fact in facts)
    one = event.days[0] if len(event.days) == 1 else None
    when = "" if view.days else f"{view.date} {view.hours}"
    if view.due:
        when = gettext("due %(day)s", day=view.date)
    yield SearchEntry(
        view.name,
        apart(view.who, when, view.about, *map(_words, view.facts)),
        keywords=" ".join(("event", view.kind, *(_KEYWORDS.get(key, "") for key in keys))),
        day=one.first if one else event.due,
        times=_clock_times(one) if one else (),
    )
    for shown, day in zip(view.days, event.days, strict=False):
        yield SearchEntry(
            gettext("%(event)s, %(day)s", event=view.name, day=shown.date),
            apart(shown.name, shown.hours, view.who, *map(_words, shown.facts)),
            anchor=shown.anchor,
            keywords=view.kind,
            day=day.first,
            times=_clock_times(day),
        )


def _words(fact: EventFact) -> str:
    lines = (f"{line.at} {line.words}".strip() for line in fact.lines)
    words = with_clauses(lines)
    return gettext("%(what)s: %(words)s", what=fact.name, words=words) if fact.name else words


def _clock_times(day: EventDay) -> tuple[time, ...]:
    moments = day.moments
    if day.cancelled:
        return ()
    known = (moments.call, moments.starts, moments.ends, moments.pick_up, moments.leaves)
    return tuple(moment.time() for moment in known if moment)

"""From the entries of events to whole events, with their dates, times and places."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import field, replace
from datetime import date, datetime, tzinfo
from typing import TypeVar

from handbook.domain.event_times import EventClock, away_span, event_moments
from handbook.domain.values.text import Text
from handbook.plan.events_model import EventDay, EventRow, PlaceRow, RainRow
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.events import AwayTimes, Event, EventDate, EventFacts, Events
from handbook.schema.handbook import Sourced
from handbook.schema.program import Program
from handbook.schema.rain import RainPlan

FactsT = TypeVar("FactsT", bound=EventFacts)

DATES = ("date", "from_", "to", "on", "due")
PLACES = ("venue", "room", "place")
_OF_ONE_DATE = frozenset({"moved_from"})
_OWN = frozenset({"id", "like"})
_NEWS = frozenset({"told", "moved_from"})  # of one event alone


@dataclass(frozen=True, slots=True)
class WholeEvent:
    """An event with what it has from the one it is like; `said` is where each field stands.

    It is `lost` if it is like one that does not stand above it.
    """

    item: Event
    address: Address
    said: Mapping[str, Address] = field(default_factory=dict)
    lost: bool = False

    def at(self, *names: str) -> Address:
        """Give the address of the first of these fields that is said, else that of the event."""
        return next((self.said[name] for name in names if name in self.said), self.address)


def whole_events(files: Sequence[Sourced[Events]]) -> tuple[WholeEvent, ...]:
    """Give each event with what it has from an event above it that it is `like`, over all files.

    Of its days, and of the place, an event says all or has all from the other one.
    """
    found: dict[str, WholeEvent] = {}
    whole = []
    for sourced in files:
        for place, item in enumerate(sourced.item.events):
            address = (sourced.file, "events", place)
            above = found.get(item.like or "")
            lost = item.like is not None and above is None
            own = WholeEvent(item, address, _said(item, address), lost)
            made = _with(own, above) if above else own
            found.setdefault(item.id, made)
            whole.append(made)
    return tuple(whole)


def _said(item: EventFacts, address: Address) -> dict[str, Address]:
    fields = type(item).model_fields
    return {name: (*address, fields[name].alias or name) for name in sorted(item.model_fields_set)}


def _with(own: WholeEvent, above: WholeEvent) -> WholeEvent:
    item = filled(own.item, above.item, less=_NEWS)
    said = {
        name: own.said.get(name) or above.said.get(name, own.address)
        for name in sorted(item.model_fields_set)
    }
    return WholeEvent(item, own.address, said)


def filled(own: FactsT, above: EventFacts, *, less: Collection[str] = ()) -> FactsT:
    """Say what is not said in `own` as `above` says it; the days and the place each as one thing.

    `less` are fields that are not taken.
    """
    said = own.model_fields_set
    known = {*type(own).model_fields} - _OWN - {*less}
    for together in (DATES, PLACES):
        if not said.isdisjoint(together):
            known -= {*together}
    taken = {name: getattr(above, name) for name in above.model_fields_set if name in known - said}
    return own.model_copy(update=taken)


def dates_of(event: WholeEvent) -> Iterator[tuple[date, date, EventDate | None, Address]]:
    """Give the first and last day of each time an event takes place, as far as they are stated.

    With each comes its entry under `on`, if it has one, and its address.
    """
    item = event.item
    if item.date:
        yield item.date, item.date, None, event.at("date")
    elif item.from_ and item.to:
        yield item.from_, item.to, None, event.at("from_")
    for place, entry in enumerate(item.on):
        yield entry.date, entry.date, entry, (*event.at("on"), place)


@dataclass(frozen=True, slots=True)
class Places:
    """The rooms and venues of a program, by their ids."""

    program: Program

    def row(self, of: EventFacts | RainPlan) -> PlaceRow | None:
        """Find where something is; the venue of a room of its own is known with it."""
        if not (of.venue or of.room or of.place):
            return None
        venues = {venue.id: venue for venue in self.program.venues}
        rooms = {room.id: (None, room) for room in self.program.rooms} | {
            room.id: (venue, room) for venue in self.program.venues for room in venue.rooms
        }
        venue, room = rooms.get(of.room or "", (None, None))
        return PlaceRow(venues.get(of.venue or "") or venue, room, of.place)

    def meeting(self, words: Text | None) -> PlaceRow | None:
        """Take words for a room if they are its id."""
        if words is None:
            return None
        rooms = {room.id: room for room in self.program.rooms}
        room = rooms.get(words.read(self.program.languages[0]))
        return PlaceRow(room=room) if room else PlaceRow(words=words)


def event_rows(
    files: Sequence[Sourced[Events]], program: Program, zone: tzinfo
) -> tuple[EventRow, ...]:
    """Plan all events, in the order of their first days."""
    rows = [_row(event, program, zone) for event in whole_events(files)]
    return tuple(sorted(rows, key=lambda row: (first_day_of(row), row.item.id)))


def events_between(events: Sequence[EventRow], first: date, last: date) -> tuple[EventRow, ...]:
    """Give the events that fall between two days, both included, each with the days that do."""
    found = []
    for event in events:
        days = tuple(day for day in event.days if day.first <= last and first <= day.last)
        if days or (event.due and first <= event.due <= last):
            found.append(replace(event, days=days))
    return tuple(found)


def first_day_of(row: EventRow) -> date:
    """Give the day on which an event first takes place, or is due."""
    return min((day.first for day in row.days), default=row.due or date.max)


def last_day_of(row: EventRow) -> date:
    """Give the day on which an event is over for good."""
    return max((day.last for day in row.days), default=row.due or date.max)


def _row(event: WholeEvent, program: Program, zone: tzinfo) -> EventRow:
    item = event.item
    days = [
        _day(
            filled(entry, item, less=_OF_ONE_DATE) if entry else item,
            entry,
            (first, last),
            at,
            program,
            zone,
        )
        for first, last, entry, at in dates_of(event)
    ]
    return EventRow(
        item=item,
        address=event.address,
        ensembles=tuple(one for one in program.ensembles if not item.who or one.id in item.who),
        days=tuple(sorted(days, key=lambda day: day.first)),
    )


def _day(
    facts: EventFacts,
    entry: EventDate | None,
    span: tuple[date, date],
    at: Address,
    program: Program,
    zone: tzinfo,
) -> EventDay:
    places, (first, last) = Places(program), span
    return EventDay(
        first=first,
        last=last,
        facts=facts,
        moments=event_moments(first, last, clock_of(facts), zone),
        place=places.row(facts),
        meet=places.meeting(facts.ride.meet) if facts.ride else None,
        rain=_rain(facts.rain, first, places, zone) if facts.rain else None,
        away=away_of(first, last, facts, zone),
        name=entry.name if entry else None,
        address=at,
        moved_from=facts.moved_from if isinstance(facts, Event | EventDate) else (),
    )


def away_of(
    first: date, last: date, facts: EventFacts, zone: tzinfo
) -> tuple[datetime, datetime] | None:
    """Give the time its players are out of class; None for not at all, or if that is not known."""
    said = facts.away
    if facts.cancelled:
        return None
    times = (said.from_, said.to) if isinstance(said, AwayTimes) else said
    moments = event_moments(first, last, clock_of(facts), zone)
    return away_span(first, last, moments, times, zone)


def clock_of(facts: EventFacts) -> EventClock:
    """Give the clock times that are stated of an event."""
    ride = facts.ride
    return EventClock(
        facts.call,
        ride.leaves if ride else None,
        facts.starts,
        facts.ends,
        ride.back if ride else None,
        facts.pick_up,
    )


def _rain(rain: RainPlan, first: date, places: Places, zone: tzinfo) -> RainRow:
    decided, day = rain.decided, rain.date or first
    return RainRow(
        decided=datetime.combine(decided.day or first, decided.clock, zone) if decided else None,
        place=places.row(rain),
        day=rain.date,
        starts=datetime.combine(day, rain.starts, zone) if rain.starts else None,
        about=rain.about,
    )

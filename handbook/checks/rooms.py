"""Rooms and venues that are named and that program.yaml does not have."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, once_a_name
from handbook.checks.wording import unknown
from handbook.problems import Address, Problem
from handbook.schema.concert import Concert
from handbook.schema.handbook import Handbook, Sourced
from handbook.schema.program import Venue

_IN_PROGRAM = "to program.yaml under"


@check
@once_a_name
def unknown_room(handbook: Handbook) -> Iterator[Problem]:
    """A room is named that program.yaml does not have.

    Pages tell players where to go in the words of the room's entry under `rooms`.

    Bad:

        room: bandroom

    Good:

        room: band-room
    """
    at_school = {room.id for room in handbook.program.item.rooms}
    for address, name, venue in _named_rooms(handbook):
        known = at_school | {room.id for room in venue.rooms} if venue else at_school
        if name not in known:
            where = f"{_IN_PROGRAM} rooms" + (f", or under those of `{venue.id}`" if venue else "")
            yield unknown("room", name, address, known, where)
    anywhere = handbook.program.item.rehearsal_rooms
    of_venues = ", or under those of a venue" if len(anywhere) > len(at_school) else ""
    for address, name in _rooms_of_rehearsals(handbook):
        if name not in anywhere:
            where = f"{_IN_PROGRAM} rooms{of_venues}"
            yield unknown("room", name, address, anywhere, where)
    for address, name, venue in _rooms_of_events(handbook):
        venues = [venue] if venue else handbook.program.item.venues
        known = at_school | {room.id for one in venues for room in one.rooms}
        if name not in known:
            where = f"{_IN_PROGRAM} rooms, or under those of a venue"
            yield unknown("room", name, address, known, where)


def _named_rooms(handbook: Handbook) -> Iterator[tuple[Address, str, Venue | None]]:
    """Give each room named, with the venue whose rooms may be meant too."""
    file, venues = handbook.program.file, handbook.program.item.venues
    for place, venue in enumerate(venues):
        if venue.stage is not None:
            yield (file, "venues", place, "stage"), venue.stage, venue
    for _, concert in traversal.concerts(handbook):
        its_venue = next((one for one in venues if one.id == concert.item.venue), None)
        for address, name in _rooms_of_day(concert):
            yield address, name, its_venue
        rain = concert.item.rain
        if rain is not None:
            then = next((one for one in venues if one.id == rain.venue), its_venue)
            for name, room in rain.rooms.items():
                yield (concert.file, "rain", "rooms", name), room, then


def _rooms_of_rehearsals(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    for address, ensemble in traversal.ensembles(handbook):
        if ensemble.room is not None:
            yield (*address, "room"), ensemble.room
    for address, meeting, _ in traversal.meetings(handbook):
        if meeting.room is not None:
            yield (*address, "room"), meeting.room
    for content in handbook.cycles:
        for address, wish, _ in traversal.day_wishes(content):
            if wish.room is not None:
                yield (*address, "room"), wish.room
    for address, section, _ in traversal.sections(handbook):
        if section.room is not None:
            yield (*address, "room"), section.room


def _rooms_of_day(concert: Sourced[Concert]) -> Iterator[tuple[Address, str]]:
    for address, entry in traversal.placed_entries(concert):
        if entry.room is not None:
            yield (*address, "room"), entry.room
    for place, booking in enumerate(concert.item.bookings):
        yield (concert.file, "bookings", place, "room"), booking.room
    for at, gear in traversal.moves(concert.item.equipment):
        if len(at) == 1:
            yield (concert.file, "equipment", *at, "from"), gear.from_
        yield (concert.file, "equipment", *at, "to"), gear.to


@check
def unknown_venue(handbook: Handbook) -> Iterator[Problem]:
    """The venue of a concert or an event is not in program.yaml.

    Families find address and parking in the venue's entry under `venues`.

    Bad:

        venue: great-hal

    Good:

        venue: great-hall
    """
    known = {venue.id for venue in handbook.program.item.venues}
    for event_at, name in _venues_of_events(handbook):
        if name not in known:
            yield unknown("venue", name, event_at, known, f"{_IN_PROGRAM} venues")
    for _, concert in traversal.concerts(handbook):
        name = concert.item.venue
        if name not in known:
            where = f"{_IN_PROGRAM} venues"
            yield unknown("venue", name, (concert.file, "venue"), known, where)
        then = concert.item.rain.venue if concert.item.rain else None
        if then is not None and then not in known:
            at = (concert.file, "rain", "venue")
            yield unknown("venue", then, at, known, f"{_IN_PROGRAM} venues")


def _rooms_of_events(handbook: Handbook) -> Iterator[tuple[Address, str, Venue | None]]:
    """Give each room of an event, with the venue that it says beside it."""
    venues = {venue.id: venue for venue in handbook.program.item.venues}
    for address, facts in traversal.event_facts(handbook):
        if facts.room is not None:
            yield (*address, "room"), facts.room, venues.get(facts.venue or "")
        if facts.rain and facts.rain.room is not None:
            yield (*address, "rain", "room"), facts.rain.room, venues.get(facts.rain.venue or "")


def _venues_of_events(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    for address, facts in traversal.event_facts(handbook):
        if facts.venue is not None:
            yield (*address, "venue"), facts.venue
        if facts.rain and facts.rain.venue is not None:
            yield (*address, "rain", "venue"), facts.rain.venue

"""What all topics of one concert day stand on: its entries, the rooms, the clock."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from handbook.domain.values.text import Text
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.concert import Concert, Guest
from handbook.schema.handbook import Sourced
from handbook.schema.program import Ensemble, Program, Room, Venue
from handbook.schema.year import Year


def room_called(place: Text | None, rooms: Iterable[Room]) -> Room | None:
    """Find the room that has these words for its name, in any language."""
    if place is None:
        return None
    words = _said(place)
    return next((room for room in rooms if words & _said(room.name)), None)


def _said(text: Text) -> frozenset[str]:
    return frozenset(words.casefold().strip() for _, words in text.versions)


# An ending before this hour is meant for the night after the concert's day.
_NIGHT_ENDS = time(4)


@dataclass(frozen=True, slots=True)
class Ground:
    """One concert's entries and what they refer to; `language` is that of messages."""

    concert: Sourced[Concert]
    program: Sourced[Program]
    year: Sourced[Year]
    venue: Venue
    zone: ZoneInfo
    language: str

    @property
    def item(self) -> Concert:
        """The concert's entries."""
        return self.concert.item

    @property
    def downbeat(self) -> datetime:
        """When the music starts."""
        return self.moment(self.item.downbeat)

    def moment(self, clock: time) -> datetime:
        """Put a clock time on the concert's day."""
        return datetime.combine(self.item.date, clock, self.zone)

    def ending(self, clock: time) -> datetime:
        """Put a clock time at which something ends on the day, or on the night after it."""
        night = timedelta(days=1) if clock < _NIGHT_ENDS <= self.item.downbeat else timedelta()
        return datetime.combine(self.item.date + night, clock, self.zone)

    def at(self, *steps: str | int) -> Address:
        """Give the address of an entry of the concert's file."""
        return (self.concert.file, *steps)

    @property
    def ensembles(self) -> Mapping[str, Ensemble]:
        """All ensembles of the program by id."""
        return {ensemble.id: ensemble for ensemble in self.program.item.ensembles}

    @property
    def guests(self) -> Mapping[str, Guest]:
        """The concert's guests by id."""
        return {guest.id: guest for guest in self.item.guests}

    @property
    def performers(self) -> Mapping[str, Ensemble | Guest]:
        """All ensembles and guests by id."""
        return {**self.guests, **self.ensembles}

    @property
    def rooms(self) -> Mapping[str, Room]:
        """The school's rooms and the venue's own by id."""
        return {room.id: room for room in (*self.program.item.rooms, *self.venue.rooms)}

    def room_in(self, room: str | None, place: Text | None) -> Room | None:
        """Find the room of an entry: by its id, else by words that are the name of a room."""
        return self.rooms.get(room or "") or room_called(
            place, (*self.venue.rooms, *self.program.item.rooms)
        )

    @property
    def stage(self) -> Room:
        """The stage; one of its own where the venue names none."""
        found = self.rooms.get(self.venue.stage or "")
        # Unread, since its id may be longer than one that is written.
        own = f"{self.venue.id}-stage"
        return found or Room.model_construct(id=own, name=Text.plain("Stage"))

    @property
    def venue_rooms(self) -> frozenset[str]:
        """Ids of the rooms that are open only as long as the venue is."""
        return frozenset({self.stage.id, *(room.id for room in self.venue.rooms)})

"""The events as they are planned: whole, with their dates, times, places and readers."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

from handbook.domain.event_times import EventMoments
from handbook.domain.meetings import Absence
from handbook.domain.values.text import Text
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.events import Event, EventFacts
from handbook.schema.program import Ensemble, Room, Venue


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """Where something is: a room, a venue or both, or words."""

    venue: Venue | None = None
    room: Room | None = None
    words: Text | None = None


@dataclass(frozen=True, slots=True)
class RainRow:
    """A rain plan: when it is decided, and where or when the event is then.

    `place` is None where it stays, `day` and `starts` where they stay.
    """

    decided: datetime | None
    place: PlaceRow | None
    day: date | None
    starts: datetime | None
    about: Text | None


@dataclass(frozen=True, slots=True)
class EventDay:
    """One time an event takes place; `first` and `last` day are both included.

    `facts` are all that is said of it, wherever it is said; `name` what it is that day. Its
    players are `away` from class that long, None for not at all. It was `moved_from` these
    days, the newest last.
    """

    first: date
    last: date
    facts: EventFacts
    moments: EventMoments
    place: PlaceRow | None
    meet: PlaceRow | None
    rain: RainRow | None
    away: tuple[datetime, datetime] | None
    name: Text | None
    address: Address
    moved_from: tuple[date, ...] = ()

    @property
    def cancelled(self) -> bool:
        """Whether it is not held."""
        return self.facts.cancelled is not None

    @property
    def span(self) -> tuple[datetime, datetime] | None:
        """The time its players are there; None if that is not known, or it is not held."""
        return None if self.cancelled else self.moments.span


@dataclass(frozen=True, slots=True)
class EventRow:
    """An event; `ensembles` are those it is for, all of them for everyone.

    `players` are the instruments and families it is for, none named for all. A deadline is
    `due` on a day and has no days of its own.
    """

    item: Event
    address: Address
    ensembles: tuple[Ensemble, ...]
    days: tuple[EventDay, ...]

    @property
    def players(self) -> tuple[str, ...]:
        """The instruments and families it is for."""
        return self.item.players

    @property
    def due(self) -> date | None:
        """The last day of a deadline."""
        return self.item.due

    def is_for(self, band: str) -> bool:
        """Whether it is for a band or some of its players."""
        return any(ensemble.id == band for ensemble in self.ensembles)

    @property
    def everyone(self) -> bool:
        """Whether it names no ensembles."""
        return not self.item.who


@dataclass(frozen=True, slots=True)
class AwayRow:
    """A time at which players of a band are at an event.

    They are all of it, or else only those on some instruments (`players`), or only those who
    are in another band of the event too (`because`), `shared` of them if that is stated.
    """

    event: EventRow
    day: EventDay
    start: datetime
    end: datetime
    players: tuple[str, ...] = ()
    because: Ensemble | None = None
    shared: int | None = None

    @property
    def whole(self) -> bool:
        """Whether all of the band is away."""
        return not self.players and self.because is None

    @property
    def told(self) -> date | None:
        """The day on which the event became known, if that is said."""
        return self.day.facts.told

    @property
    def before_its_move(self) -> AwayRow:
        """The time at which they were to be away before the last move of a moved event."""
        by = self.day.first - self.day.moved_from[-1]
        return replace(self, start=self.start - by, end=self.end - by)

    @property
    def absence(self) -> Absence:
        """The calendar's own record of it."""
        name = self.event.item.name or Text.plain(self.event.item.id)
        return Absence(self.start, self.end, name)

    def overlaps(self, start: datetime, end: datetime) -> bool:
        """Whether they are away in some part of a time; ends are open."""
        return start.astimezone(UTC) < self.end.astimezone(UTC) and self.start.astimezone(
            UTC
        ) < end.astimezone(UTC)

"""A school year as the office needs it: what is on, who is where, which classes it takes."""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from handbook.domain.class_time import MissedPeriod, Span
from handbook.domain.values.text import Text
from handbook.plan.concert_model import RideDay
from handbook.plan.events_model import PlaceRow
from handbook.records import dataclass
from handbook.schema.program import Ensemble, Room, Venue
from handbook.schema.year import Year


class OfficeKind(StrEnum):
    """What kind of thing a row is."""

    CONCERT = "concert"
    EVENT = "event"
    REHEARSAL = "rehearsal"  # beside the class meetings


@dataclass(frozen=True, slots=True)
class BandAway:
    """How many `players` of a band or group are at something, and the class periods they miss for it.

    None of them is counted where the program counts none. They are only `some` of the band where
    it is for some instruments. `band` is the id of the band that a group is of, or its own. They are
    there from `begins`, None where that is the same for all.
    """

    band: str
    ensemble: Ensemble
    players: int
    missed: tuple[MissedPeriod, ...] = ()
    some: bool = False
    begins: datetime | None = None

    @property
    def other_classes(self) -> tuple[MissedPeriod, ...]:
        """The periods that are other teachers' classes."""
        return tuple(one for one in self.missed if not one.period.own)

    @property
    def minutes(self) -> int:
        """Minutes of other classes that each player misses."""
        return sum(one.minutes for one in self.other_classes)

    @property
    def own_minutes(self) -> int:
        """Minutes of the band's own class."""
        return sum(one.minutes for one in self.missed if one.period.own)


@dataclass(frozen=True, slots=True)
class CrewAway:
    """A role of the crew that is no band: how many `people`, 0 where nobody said, and since when they are there.

    Nothing says whether these are players who are counted with their band, so no sum has them.
    """

    name: Text
    people: int
    begins: datetime | None


@dataclass(frozen=True, slots=True)
class OfficeRide:
    """A ride there and back that says no buses, for so many players."""

    meet: PlaceRow | None
    leaves: datetime | None
    back: datetime | None


@dataclass(frozen=True, slots=True)
class RoomNeed:
    """A room that is needed from `start` to `end`; one of a `venue` is booked there.

    It is `after_hours` if any of that time is outside the school's hours, so that somebody opens it.
    `crew` are the roles in it where nobody else is, such as to load.
    """

    room: Room
    venue: Venue | None
    start: datetime
    end: datetime
    after_hours: bool
    crew: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class OfficeRow:
    """One thing that is on, from its `first` to its `last` day.

    The first player is there at `begins`, the last is collected at `over`; `starts` is the hour
    that the audience knows. None where that is not said. `part` is what an event is that day. `players` counts each once. A concert
    has `rides` with their buses, all else at most a `ride`. `opens` and `closes` are those of a hall.
    """

    kind: OfficeKind
    first: date
    last: date
    name: Text | None
    cancelled: Text | None
    begins: datetime | None
    starts: datetime | None
    over: datetime | None
    bands: tuple[BandAway, ...]
    players: int
    place: PlaceRow | None
    part: Text | None = None
    rides: tuple[RideDay, ...] = ()
    ride: OfficeRide | None = None
    rooms: tuple[RoomNeed, ...] = ()
    opens: datetime | None = None
    closes: datetime | None = None
    crew: tuple[CrewAway, ...] = ()

    @property
    def span(self) -> Span | None:
        """From the first player to the last, where both are known."""
        return (self.begins, self.over) if self.begins and self.over else None


@dataclass(frozen=True, slots=True)
class BandYear:
    """A band's year in sum.

    Rehearsals are those of the cycles that are planned, in class and `beside` it. `periods` and
    `minutes` are those of other classes that one player misses at most, `player_minutes` those of
    all its players together; in `own_minutes` of its own class the band, or some of it, is elsewhere.
    """

    ensemble: Ensemble
    in_class: int
    class_minutes: int
    beside: int
    beside_minutes: int
    periods: int
    minutes: int
    own_minutes: int
    player_minutes: int


@dataclass(frozen=True, slots=True)
class YearSheet:
    """All rows of a school year in order of time, and its bands in the program's order."""

    id: str
    year: Year
    rows: tuple[OfficeRow, ...]
    bands: tuple[BandYear, ...]

    @property
    def player_minutes(self) -> int:
        """Minutes of other classes, over all players and bands."""
        return sum(band.player_minutes for band in self.bands)

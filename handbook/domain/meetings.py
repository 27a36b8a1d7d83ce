"""When an ensemble meets: the patterns and extras that are wished, and the rehearsals that follow."""

from __future__ import annotations

from datetime import date, datetime, time
from enum import StrEnum

from handbook.domain.values.text import Text
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class MeetingPattern:
    """Meets on weekdays (Monday is 0) or on day labels; in a bell period or at clock times.

    With both weekdays and labels it meets on any day that has one of them. A period
    goes before clock times. It meets from `first` to `last`, both included, where they are
    given, and in `room` and `led_by` others if not as usual.
    """

    weekdays: frozenset[int] = frozenset()
    labels: frozenset[str] = frozenset()
    period: str | None = None
    start: time | None = None
    end: time | None = None
    first: date | None = None
    last: date | None = None
    room: str | None = None
    led_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ExtraRehearsal:
    """A rehearsal outside the pattern (or beside it).

    It stands `instead_of` one by the pattern, of that day, or it makes up for one that is lost
    (`make_up_for`).
    """

    day: date
    start: time
    end: time
    name: Text | None = None
    room: str | None = None
    led_by: tuple[str, ...] = ()
    instead_of: date | None = None
    make_up_for: date | None = None


@dataclass(frozen=True, slots=True)
class Absence:
    """A time at which all players of an ensemble are somewhere else, and where."""

    start: datetime
    end: datetime
    why: Text


@dataclass(frozen=True, slots=True)
class CancelledRehearsal:
    """A day whose rehearsals by a pattern are not held; with a `start` the one that begins then, also an extra."""

    day: date
    why: Text
    start: time | None = None


class RehearsalKind(StrEnum):
    """Why a rehearsal stands where it stands."""

    REGULAR = "regular"
    ALTERED = "altered"  # by the pattern, on a day with other bells or one made up
    EXTRA = "extra"


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """One dated rehearsal, number `n` of `of`; start and end carry the program's zone.

    `minutes` is elapsed time. `index` is the place of an extra in the list given, else None;
    `instead_of` and `make_up_for` are its days, as `ExtraRehearsal` has them.
    """

    start: datetime
    end: datetime
    n: int
    of: int
    kind: RehearsalKind
    label: str | None = None
    bells: str | None = None
    name: Text | None = None
    room: str | None = None
    index: int | None = None
    led_by: tuple[str, ...] = ()
    instead_of: date | None = None
    make_up_for: date | None = None

    @property
    def day(self) -> date:
        """The local date."""
        return self.start.date()

    @property
    def minutes(self) -> int:
        """Elapsed minutes from start to end."""
        # Times of one zone subtract as clock readings; timestamps count what really passes.
        return int(self.end.timestamp() - self.start.timestamp()) // 60

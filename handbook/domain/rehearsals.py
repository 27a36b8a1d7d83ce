"""Which dates an ensemble rehearses on, and when each rehearsal starts and ends."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum


class Resume(StrEnum):
    """How rotating day labels go on after a closure."""

    NEXT = "next"  # with the label after the last one used
    SKIP = "skip"  # as if no day had been lost


@dataclass(frozen=True, slots=True)
class Closure:
    """Days without school, both ends included; `resume` overrides the year's rule."""

    first: date
    last: date
    name: str
    resume: Resume | None = None


@dataclass(frozen=True, slots=True)
class AlteredDay:
    """A school day with other bells, another label, or both."""

    day: date
    name: str
    bells: str | None = None
    label: str | None = None


@dataclass(frozen=True, slots=True)
class SchoolYear:
    """First and last day (both included), labels in rotation, bell schedules.

    `bells` maps schedule id to period id to (start, end); `usual_bells` is the id
    of the schedule of an ordinary day. No labels: an empty tuple.
    """

    first: date
    last: date
    labels: tuple[str, ...] = ()
    resume: Resume = Resume.NEXT
    bells: Mapping[str, Mapping[str, tuple[time, time]]] = field(default_factory=dict)
    usual_bells: str = ""
    closures: tuple[Closure, ...] = ()
    altered: tuple[AlteredDay, ...] = ()


@dataclass(frozen=True, slots=True)
class MeetingPattern:
    """Meets on weekdays (Monday is 0) or on day labels; in a bell period or at clock times."""

    weekdays: frozenset[int] = frozenset()
    labels: frozenset[str] = frozenset()
    period: str | None = None
    start: time | None = None
    end: time | None = None


@dataclass(frozen=True, slots=True)
class ExtraRehearsal:
    """A rehearsal outside the pattern (or beside it)."""

    day: date
    start: time
    end: time
    name: str = ""
    room: str | None = None


class RehearsalKind(StrEnum):
    """Why a rehearsal stands where it stands."""

    REGULAR = "regular"
    ALTERED = "altered"  # by the pattern, on a day with other bells
    EXTRA = "extra"


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """One dated rehearsal, number `n` of `of`; start and end carry the program's zone.

    `minutes` is elapsed time. `index` is the place of an extra in the list given, else None.
    """

    start: datetime
    end: datetime
    n: int
    of: int
    kind: RehearsalKind
    label: str | None = None
    bells: str | None = None
    name: str = ""
    room: str | None = None
    index: int | None = None

    @property
    def day(self) -> date:
        """The local date."""
        return self.start.date()

    @property
    def minutes(self) -> int:
        """Elapsed minutes from start to end."""
        return int((self.end - self.start).total_seconds() // 60)


class CalendarFault(StrEnum):
    """What the calendar's data may get wrong."""

    EXTRA_ON_CLOSURE = "extra_on_closure"
    EXTRA_OUTSIDE = "extra_outside"  # outside the cycle's first and last day
    EXTRA_CLASHES = "extra_clashes"  # overlaps another rehearsal of the ensemble
    CANCELLED_NOTHING = "cancelled_nothing"  # no rehearsal that day
    TIME_IN_GAP = "time_in_gap"  # the local time is skipped by daylight saving
    NO_SUCH_PERIOD = "no_such_period"  # usual bells lack the pattern's period
    NO_REHEARSALS = "no_rehearsals"


@dataclass(frozen=True, slots=True)
class CalendarFinding:
    """One fault; `index` is the place in the extras (or cancellations) it is about."""

    fault: CalendarFault
    day: date | None = None
    index: int | None = None
    detail: str = ""


@dataclass(frozen=True, slots=True)
class MissedDay:
    """A day the pattern would have met on, and why it does not (closure, cancelled, no period)."""

    day: date
    why: str
    cause: str  # "closure", "cancelled" or "bells"


@dataclass(frozen=True, slots=True)
class RehearsalCalendar:
    """All that is known of one ensemble's dates in one cycle, in order of time."""

    rehearsals: tuple[Rehearsal, ...]
    missed: tuple[MissedDay, ...]
    findings: tuple[CalendarFinding, ...]

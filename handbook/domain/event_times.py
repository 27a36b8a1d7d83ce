"""An event's clock times put on its days, and the time its players are there.

Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from enum import StrEnum

from handbook.records import dataclass

_NIGHT_ENDS = time(4)  # an ending before it is meant for the night after the last day


@dataclass(frozen=True, slots=True)
class EventClock:
    """The clock times that are stated of an event."""

    call: time | None = None
    leaves: time | None = None
    starts: time | None = None
    ends: time | None = None
    back: time | None = None
    pick_up: time | None = None


@dataclass(frozen=True, slots=True)
class EventMoments:
    """The same as moments: what begins stands on the first day, what is over on the last."""

    call: datetime | None
    leaves: datetime | None
    starts: datetime | None
    ends: datetime | None
    back: datetime | None
    pick_up: datetime | None

    @property
    def begins(self) -> datetime | None:
        """The moment from which players are there: the earliest of those that begin."""
        return min(_known(self.call, self.leaves, self.starts), key=_instant, default=None)

    @property
    def over(self) -> datetime | None:
        """The moment at which all of it is over: the latest of those that end."""
        return max(_known(self.ends, self.back, self.pick_up), key=_instant, default=None)

    @property
    def span(self) -> tuple[datetime, datetime] | None:
        """The time its players are there, None where either end of it is not known."""
        begins, over = self.begins, self.over
        return (begins, over) if begins and over else None


class Out(StrEnum):
    """Whether players are out of class for an event, if no times are said."""

    NONE = "none"
    ALL_DAY = "all day"


def away_span(
    first: date,
    last: date,
    moments: EventMoments,
    said: Out | tuple[time, time] | None,
    zone: tzinfo,
) -> tuple[datetime, datetime] | None:
    """Give the time players are away: as said, else as long as they are there, if both ends are known.

    All day is from midnight to midnight, over all days.
    """
    if said is None:
        return moments.span
    if said is Out.NONE:
        return None
    if said is Out.ALL_DAY:
        midnight = time(0)
        return (
            datetime.combine(first, midnight, zone),
            datetime.combine(last + timedelta(days=1), midnight, zone),
        )
    clock = EventClock(starts=said[0], ends=said[1])
    return event_moments(first, last, clock, zone).span


def event_moments(first: date, last: date, clock: EventClock, zone: tzinfo) -> EventMoments:
    """Put clock times on the first and the last day of an event.

    What ends before 4 am on an event of one day that begins later in the day ends in the night after it.
    """
    begun = max((at for at in (clock.call, clock.leaves, clock.starts) if at), default=None)

    def begin(at: time | None) -> datetime | None:
        return datetime.combine(first, at, zone) if at else None

    def end(at: time | None) -> datetime | None:
        if at is None:
            return None
        next_day = at < _NIGHT_ENDS and (first < last or (begun is not None and at < begun))
        return datetime.combine(last + timedelta(days=next_day), at, zone)

    return EventMoments(
        begin(clock.call),
        begin(clock.leaves),
        begin(clock.starts),
        end(clock.ends),
        end(clock.back),
        end(clock.pick_up),
    )


def _known(*moments: datetime | None) -> Iterator[datetime]:
    return (moment for moment in moments if moment)


def _instant(moment: datetime) -> datetime:
    """Give the moment in UTC: two times of one zone compare by the hands."""
    return moment.astimezone(UTC)

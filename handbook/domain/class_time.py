"""How much of which class periods players miss while they are somewhere else.

A period of which any part is missed counts as one that is touched; that minutes begun count whole
is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime

from handbook.domain.values.text import Text
from handbook.records import dataclass

Span = tuple[datetime, datetime]
"""From the first moment to the last; the end is open."""
_MINUTE = 60


@dataclass(frozen=True, slots=True)
class ClassPeriod:
    """A period of a school day; it is the players' `own` where their band meets in it that day.

    `name` is what it is called, None where its `id` is all that is said.
    """

    id: str
    start: datetime
    end: datetime
    own: bool = False
    name: Text | None = None

    @property
    def minutes(self) -> int:
        """Its length in whole minutes, one begun counted whole."""
        return _minutes(_seconds(self.start, self.end))


@dataclass(frozen=True, slots=True)
class MissedPeriod:
    """A period of which players miss `minutes`, from 1 to all it has."""

    period: ClassPeriod
    minutes: int

    @property
    def whole(self) -> bool:
        """Whether they miss all of it."""
        return self.minutes == self.period.minutes


def missed_periods(
    periods: Iterable[ClassPeriod], away: Sequence[Span]
) -> tuple[MissedPeriod, ...]:
    """Give the periods that players miss, wholly or in part, in the order given.

    Times away that overlap count once. Times may carry any zone; what passes is what counts, also
    where clocks are changed.
    """
    joined = tuple(_joined(away))
    found = (
        MissedPeriod(period, _minutes(sum(_shared(period, span) for span in joined)))
        for period in periods
    )
    return tuple(one for one in found if one.minutes)


def _joined(spans: Sequence[Span]) -> Iterator[Span]:
    """Join spans that touch or overlap."""
    waiting: Span | None = None
    for start, end in sorted((_instant(start), _instant(end)) for start, end in spans):
        if waiting is not None and start <= waiting[1]:
            waiting = waiting[0], max(waiting[1], end)
            continue
        if waiting is not None:
            yield waiting
        waiting = start, end
    if waiting is not None:
        yield waiting


def _shared(period: ClassPeriod, span: Span) -> float:
    return max(
        0.0,
        _seconds(
            max(_instant(period.start), _instant(span[0])),
            min(_instant(period.end), _instant(span[1])),
        ),
    )


def _minutes(seconds: float) -> int:
    return -int(-seconds // _MINUTE)


def _seconds(start: datetime, end: datetime) -> float:
    return (_instant(end) - _instant(start)).total_seconds()


def _instant(moment: datetime) -> datetime:
    """Give the moment in UTC: two times of one zone subtract as clock readings."""
    return moment.astimezone(UTC)

"""Events with their dates, for the checks that look at them day by day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime

from handbook.domain.event_times import EventMoments, event_moments
from handbook.plan.events import WholeEvent, away_of, clock_of, dates_of, filled, whole_events
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.events import EventDate, EventFacts
from handbook.schema.handbook import Handbook


@dataclass(frozen=True, slots=True)
class DatedEvent:
    """One time an event takes place, with all that is said of it."""

    event: WholeEvent
    first: date
    last: date
    entry: EventDate | None
    facts: EventFacts
    address: Address

    @property
    def moments(self) -> EventMoments:
        """Its times by the clock on the wall."""
        return event_moments(self.first, self.last, clock_of(self.facts), UTC)

    @property
    def span(self) -> tuple[datetime, datetime] | None:
        """The time its players are there, by the clock on the wall, or else are out of class."""
        if self.facts.cancelled:
            return None
        return self.moments.span or away_of(self.first, self.last, self.facts, UTC)

    @property
    def name(self) -> str:
        """What messages call it."""
        return self.event.item.name.read() if self.event.item.name else self.event.item.id

    def at(self, field: str, *inside: str) -> Address:
        """Give the address of a field, wherever it is said."""
        own = self.entry is not None and field in self.entry.model_fields_set
        return (*self.address, field, *inside) if own else (*self.event.at(field), *inside)


def dated_events(handbook: Handbook) -> Iterator[DatedEvent]:
    """Give each time that each event takes place."""
    for event in whole_events(handbook.events):
        for first, last, entry, address in dates_of(event):
            if first <= last:  # else told as dates-backward
                facts = filled(entry, event.item) if entry else event.item
                yield DatedEvent(event, first, last, entry, facts, address)

"""Bus travel: back from the call at the venue, forward to the pick-up at school.

Steps and rounding are common practice, no source; seats and minutes are the program's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from handbook.domain.call_times import mark_after, mark_before
from handbook.domain.run_of_show import later
from handbook.records import dataclass

_MINUTE = 60


@dataclass(frozen=True, slots=True)
class Bus:
    """One bus; `held` seats carry instruments instead of riders.

    Raises ValueError for no seats, or for more seats held than there are.
    """

    id: str
    seats: int
    held: int = 0

    def __post_init__(self) -> None:
        if self.seats < 1 or not 0 <= self.held <= self.seats:
            raise ValueError(f"{self.seats} seats, {self.held} of them held")

    @property
    def free(self) -> int:
        """Seats for riders."""
        return self.seats - self.held


@dataclass(frozen=True, slots=True)
class RideMinutes:
    """Whole minutes to load people and gear, to drive, and to unload; ValueError below 0."""

    load: int
    drive: int
    unload: int = 0

    def __post_init__(self) -> None:
        if min(self.load, self.drive, self.unload) < 0:
            raise ValueError(f"minutes below 0 in {self}")


@dataclass(frozen=True, slots=True)
class Outbound:
    """The way there: report to the bus (rounded down to 5 minutes), load, depart, arrive, call."""

    report: datetime
    load: datetime
    depart: datetime
    arrive: datetime
    call: datetime


@dataclass(frozen=True, slots=True)
class Homebound:
    """The way back: load, depart, arrive, unloaded, pick-up (rounded up to 5 minutes)."""

    load: datetime
    depart: datetime
    arrive: datetime
    unloaded: datetime
    pick_up: datetime


@dataclass(frozen=True, slots=True)
class SeatsShort:
    """More riders than seats: `short` riders have none, in `buses` buses with `seats` free seats."""

    riders: int
    seats: int
    short: int
    buses: int


def outbound(call: datetime, ride: RideMinutes) -> Outbound:
    """Reckon back from the call at the venue, by which all must be unloaded."""
    arrive = later(call, -ride.unload * _MINUTE)
    depart = later(arrive, -ride.drive * _MINUTE)
    load = later(depart, -ride.load * _MINUTE)
    return Outbound(mark_before(load), load, depart, arrive, call)


def homebound(packed: datetime, ride: RideMinutes, leave: datetime | None = None) -> Homebound:
    """Reckon forward from the moment the players are packed at the venue.

    `leave` is a stated departure, which stands even where it comes too early.
    """
    depart = leave or later(packed, ride.load * _MINUTE)
    arrive = later(depart, ride.drive * _MINUTE)
    unloaded = later(arrive, ride.unload * _MINUTE)
    return Homebound(packed, depart, arrive, unloaded, mark_after(unloaded))


def seats_short(riders: int, buses: Sequence[Bus]) -> SeatsShort | None:
    """Compare riders (students and adults) with the free seats of all buses; None where all sit.

    Raises ValueError below 0 riders.
    """
    _require_riders(riders)
    seats = sum(bus.free for bus in buses)
    return SeatsShort(riders, seats, riders - seats, len(buses)) if riders > seats else None


def _require_riders(riders: int) -> None:
    if riders < 0:
        raise ValueError(f"{riders} riders")

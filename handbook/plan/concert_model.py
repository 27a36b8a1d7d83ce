"""Concert day as frozen records: what was reckoned, beside the entries it came from."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from fractions import Fraction

from handbook.domain.call_times import CallTimes, ReturnTimes, StatedTime
from handbook.domain.loads import HandlingFindings, LoadItem, Totals, TripPlan
from handbook.domain.room_use import Clash, Purpose
from handbook.domain.run_of_show import ItemKind
from handbook.domain.seating import Reset, Setup, StockCheck
from handbook.domain.travel import Homebound, Outbound, SeatsShort
from handbook.domain.values.text import Text
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.calls import EarlierEntry, LaterEntry
from handbook.schema.concert import Guest
from handbook.schema.loads import CarrierEntry, CrewRole, Gear
from handbook.schema.program import Ensemble, Room
from handbook.schema.travel import Ride


@dataclass(frozen=True, slots=True)
class ShowRow:
    """An item of the run of show; `seconds` exact, `start` and `end` not rounded.

    `title` is the piece's, or what a pause is about; of guests who list no pieces, None. A piece
    lasts `about` as long if a tempo of it is a range or free.
    """

    kind: ItemKind
    start: datetime
    end: datetime
    seconds: Fraction
    title: Text | None
    ensembles: tuple[Ensemble | Guest, ...]
    piece: str | None
    about: bool = False


@dataclass(frozen=True, slots=True)
class LateTurn:
    """A turn whose hour is `short` minutes (rounded up) before it can begin, at `start`."""

    stated: datetime
    start: datetime
    short: int
    address: Address


@dataclass(frozen=True, slots=True)
class AgainDay:
    """A later turn with an hour of its own, for which a group gathers again.

    `call` is the stated one, else the reckoned one, None where nothing is reckoned; `late_call`
    is set for a stated one that will not do.
    """

    times: ReturnTimes
    call: datetime | None
    late_call: StatedTime | None
    address: Address


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step before the warm-up or after the performance.

    After it, players are `free` for the step, `late` minutes after a stated start; before it, they
    must be `free` of the step, which is `late` minutes after that. `late` is rounded up, and 0
    where all is in time.
    """

    item: EarlierEntry | LaterEntry
    start: datetime
    end: datetime
    room: Room | None
    late: int
    free: datetime
    address: Address


@dataclass(frozen=True, slots=True)
class Stint:
    """A stretch on stage with the same `partners`; `goes_on` without leaving it since the one before."""

    start: datetime
    end: datetime
    partners: tuple[Ensemble | Guest, ...]
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class MissedClass:
    """A rehearsal that falls while its players are away; `away` is from when till when.

    `because` is the ensemble that is away: the class's own, or one that shares players with it,
    `shared` of them if the program states how many.
    """

    ensemble: Ensemble
    because: Ensemble
    n: int
    start: datetime
    end: datetime
    away: tuple[datetime, datetime]
    address: Address
    shared: int | None = None


@dataclass(frozen=True, slots=True)
class GroupDay:
    """One group's day.

    `times` follow from its minutes; `reckoned` is False where the content gives none, and
    then only first and last note mean anything. `call` and `pick_up` are the stated times,
    else the reckoned ones, else None; `report` and `collect` are those for families, who
    meet the buses where there are any. `late_call` and `early_pick_up` are set for a
    stated time that will not do, `short_in_place` is how many minutes in place (rounded up)
    the stage, not yet free, takes from those that are stated. `to_class` where it is back before
    school is out, so that nobody collects it then. A band that is the crew is done at `pick_up`
    and collected at `collect`, with all others where one pick-up is stated for all.
    """

    id: str
    ensemble: Ensemble | None
    section: str | None
    role: CrewRole | None
    name: Text | None
    room: Room | None
    place: Text | None
    times: CallTimes
    reckoned: bool
    call: datetime | None
    pick_up: datetime | None
    report: datetime | None
    collect: datetime | None
    ride: int | None
    late_call: StatedTime | None
    early_pick_up: StatedTime | None
    address: Address
    call_address: Address
    pick_up_address: Address
    short_in_place: int
    in_place_address: Address
    beforehand: tuple[StepRow, ...]
    afterward: tuple[StepRow, ...]
    stints: tuple[Stint, ...]
    again: tuple[AgainDay, ...] = ()
    to_class: bool = False


@dataclass(frozen=True, slots=True)
class RideDay:
    """One ride; `riders` are players and adults. Without any call there is no way there.

    `early` is set where the buses are stated to leave before all are in; `last` is the id of
    the group they wait for longest, None where nobody in them plays.
    """

    item: Ride
    riders: int
    seats: int
    there: Outbound | None
    back: Homebound
    early: StatedTime | None
    last: str | None
    short: SeatsShort | None
    address: Address


@dataclass(frozen=True, slots=True)
class UseRow:
    """A room in use, in order of time; `what` are the director's words for a booking.

    `step` marks a step before the warm-up or after the performance, whose name `what` is; `role`
    is at work there in a booking.
    """

    room: Room
    start: datetime
    end: datetime
    purpose: Purpose
    ensembles: tuple[Ensemble | Guest, ...]
    group: str | None
    what: Text | None
    address: Address
    step: bool = False
    role: CrewRole | None = None


@dataclass(frozen=True, slots=True)
class ConflictSide:
    """One of two things that cannot both stand: in words, and where it is written."""

    what: str
    address: Address


@dataclass(frozen=True, slots=True)
class DayConflict:
    """Two things that cannot both stand over [start, end); `room` where one is fought for."""

    clash: Clash
    first: ConflictSide
    second: ConflictSide
    start: datetime
    end: datetime
    room: str = ""


@dataclass(frozen=True, slots=True)
class SetupRow:
    """What stands for one turn, and what the crew changes before it, from `reset` to `free`.

    `short` are the minutes (rounded up) that a pause without a changeover of its own lacks for it.
    """

    ensembles: tuple[Ensemble | Guest, ...]
    start: datetime
    reset: datetime | None
    free: datetime | None
    setup: Setup
    change: Reset
    short: int
    address: Address


@dataclass(frozen=True, slots=True)
class SeatingDay:
    """All turns' set-ups, the most of each thing at once, and what the venue has and lacks."""

    turns: tuple[SetupRow, ...]
    opening: Setup
    largest: Setup
    stock: StockCheck
    has: Mapping[str, int]

    @property
    def stock_stated(self) -> bool:
        """Whether the venue's counts are given at all."""
        return bool(self.has)


@dataclass(frozen=True, slots=True)
class RouteLoad:
    """What goes one way with one carrier (None: by hand or on its own wheels)."""

    start: Room
    end: Room
    carrier: CarrierEntry | None
    items: tuple[Gear, ...]
    totals: Totals
    trips: TripPlan | None


@dataclass(frozen=True, slots=True)
class LoadDay:
    """All that is moved; `findings` compare with the program's own stated limits only.

    `items` has each thing once, `moves` each of its ways.
    """

    items: tuple[LoadItem, ...]
    moves: tuple[Gear, ...]
    routes: tuple[RouteLoad, ...]
    totals: Totals
    findings: HandlingFindings
    limits_stated: bool


@dataclass(frozen=True, slots=True)
class ConcertDay:
    """The whole day, reckoned; `ends` is the end of the last item, not rounded."""

    rows: tuple[ShowRow, ...]
    ends: datetime
    seconds: Fraction
    groups: tuple[GroupDay, ...]
    rides: tuple[RideDay, ...]
    uses: tuple[UseRow, ...]
    seating: SeatingDay | None
    load: LoadDay | None
    conflicts: tuple[DayConflict, ...]
    missed: tuple[MissedClass, ...]
    late_turns: tuple[LateTurn, ...]
    doors: datetime | None
    opens: datetime | None
    closes: datetime | None

    def group_of(self, ensemble: str) -> GroupDay | None:
        """Give the day of a whole ensemble."""
        return next((group for group in self.groups if group.id == ensemble), None)

    def sections_of(self, ensemble: str) -> tuple[GroupDay, ...]:
        """Give the sections of an ensemble that have a day of their own."""
        return tuple(
            group
            for group in self.groups
            if group.section and group.ensemble and group.ensemble.id == ensemble
        )

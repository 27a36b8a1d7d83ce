"""The revised NIOSH lifting equation, for planning by staff only.

Made for healthy adults at work; it has no value for students, and covers neither carrying
nor lifting by two people, which is most of moving a band. No result may be shown as a safe
load for students. Source: NIOSH Publication No. 94-110 (revised 9/2021), pages below.
All reckoning is exact; `as_printed` rounds as the manual does.
"""

from __future__ import annotations

import math
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from handbook.domain.tables import lift_limits as limits
from handbook.domain.tables.lift_limits import Coupling, Duration, Outside, UnitSystem
from handbook.records import dataclass

_ZERO, _ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True, slots=True)
class HandPosition:
    """Where the hands are at one end of a lift, in the lift's own unit of length.

    `horizontal` from the ankles' midpoint, `vertical` above the floor, `asymmetry` in degrees.
    Raises ValueError below 0.
    """

    horizontal: Fraction
    vertical: Fraction
    asymmetry: Fraction = _ZERO

    def __post_init__(self) -> None:
        if min(self.horizontal, self.vertical, self.asymmetry) < 0:
            raise ValueError(f"a length or angle below 0 in {self}")


@dataclass(frozen=True, slots=True)
class Lift:
    """One lifting task in one unit system.

    `travel` is the vertical way, up or down. `destination` is given when the load must be
    controlled there (re-grasped, held or guided). `conditions` are those of p. 6 that hold.
    Raises ValueError for a load, travel or frequency below 0, a travel at odds with
    the two ends, or a condition that is none of `CONDITIONS`.
    """

    units: UnitSystem
    load: Fraction
    origin: HandPosition
    travel: Fraction
    per_minute: Fraction
    duration: Duration
    coupling: Coupling
    destination: HandPosition | None = None
    conditions: frozenset[Outside] = frozenset()

    def __post_init__(self) -> None:
        if min(self.load, self.travel, self.per_minute) < 0:
            raise ValueError(f"a load, travel or frequency below 0 in {self}")
        if (
            self.destination
            and abs(self.destination.vertical - self.origin.vertical) != self.travel
        ):
            raise ValueError(f"a travel of {self.travel} is not the way between the two ends")
        if self.conditions - limits.CONDITIONS:
            raise ValueError("a limit that follows from the numbers is no condition to state")

    @property
    def starts_low(self) -> bool:
        """Whether the hands start below 30 in (75 cm), which picks the column of Table 5."""
        return self.origin.vertical < self.units.vertical_ideal


@dataclass(frozen=True, slots=True)
class Multipliers:
    """The six multipliers at one end, each from 0 to 1."""

    horizontal: Fraction
    vertical: Fraction
    travel: Fraction
    asymmetry: Fraction
    frequency: Fraction
    coupling: Fraction

    @property
    def without_frequency(self) -> Fraction:
        """The product of all but the frequency multiplier, for composite tasks (p. 26)."""
        return self.horizontal * self.vertical * self.travel * self.asymmetry * self.coupling

    @property
    def product(self) -> Fraction:
        """The product of all six."""
        return self.without_frequency * self.frequency


@dataclass(frozen=True, slots=True)
class EndResult:
    """Multipliers, recommended weight limit (in the lift's unit of mass) and lifting index at one end."""

    multipliers: Multipliers
    rwl: Fraction
    index: Fraction


@dataclass(frozen=True, slots=True)
class LiftResult:
    """A lift that the equation covers; `destination` only where the load is controlled there."""

    origin: EndResult
    destination: EndResult | None = None

    @property
    def governing(self) -> EndResult:
        """The end with the lower recommended weight limit (pp. 21, 26)."""
        if self.destination is not None and self.destination.rwl < self.origin.rwl:
            return self.destination
        return self.origin


@dataclass(frozen=True, slots=True)
class OutsideMethod:
    """The equation does not cover the task: no limit and no index, whatever the load."""

    reasons: tuple[Outside, ...]


class IndexReading(StrEnum):
    """What p. 20 says of a lifting index, for adults at work; none of these means safe."""

    WITHIN_GOAL = "within the manual's design goal"
    RAISED = "raised risk for some workers"
    RAISED_FOR_NEARLY_ALL = "raised risk for nearly all workers, in some experts' view"


def horizontal_multiplier(horizontal: Fraction, units: UnitSystem) -> Fraction:
    """HM = 25 / H cm or 10 / H in; 1 nearer than that, 0 past 63 cm or 25 in (p. 8)."""
    if horizontal > units.horizontal_most:
        return _ZERO
    return units.horizontal_least / max(horizontal, units.horizontal_least)


def vertical_multiplier(vertical: Fraction, units: UnitSystem) -> Fraction:
    """VM falls either way from 75 cm or 30 in; 0 past 175 cm or 70 in (p. 10)."""
    if vertical > units.vertical_most:
        return _ZERO
    return 1 - units.vertical_slope * abs(vertical - units.vertical_ideal)


def travel_multiplier(travel: Fraction, units: UnitSystem) -> Fraction:
    """DM = 0.82 + 4.5 / D cm or 1.8 / D in; 1 under 25 cm or 10 in, 0 past 175 cm or 70 in (p. 11)."""
    if travel > units.travel_most:
        return _ZERO
    return limits.TRAVEL_BASE + units.travel_constant / max(travel, units.travel_least)


def asymmetry_multiplier(degrees: Fraction) -> Fraction:
    """AM = 1 - 0.0032 A; 0 past 135 degrees (p. 12)."""
    return _ZERO if degrees > limits.ASYMMETRY_MOST else 1 - limits.ASYMMETRY_SLOPE * degrees


def frequency_multiplier(per_minute: Fraction, duration: Duration, *, low: bool) -> Fraction:
    """FM by Table 5, linear between rows (pp. 7, 15); under 0.2 a minute counts as 0.2.

    The manual is silent between a value and a zero cell: the last row with a value is
    taken as the most that is covered, and anything above gives 0.
    """
    rows = limits.FREQUENCY[duration, low]
    lifts = max(per_minute, limits.LEAST_FREQUENCY)
    if lifts == rows[0][0]:
        return rows[0][1]
    for (below, fm_below), (above, fm_above) in pairwise(rows):
        if below < lifts <= above:
            return fm_below + (fm_above - fm_below) * (lifts - below) / (above - below)
    return _ZERO


def coupling_multiplier(coupling: Coupling, vertical: Fraction, units: UnitSystem) -> Fraction:
    """CM by Table 7, with the hands' height at the end that is looked at (p. 19)."""
    low, high = limits.COUPLING[coupling]
    return low if vertical < units.vertical_ideal else high


def multipliers_at(lift: Lift, end: HandPosition) -> Multipliers:
    """Give all six at one end; the frequency column follows the origin at both ends (p. 15)."""
    return Multipliers(
        horizontal=horizontal_multiplier(end.horizontal, lift.units),
        vertical=vertical_multiplier(end.vertical, lift.units),
        travel=travel_multiplier(lift.travel, lift.units),
        asymmetry=asymmetry_multiplier(end.asymmetry),
        frequency=frequency_multiplier(lift.per_minute, lift.duration, low=lift.starts_low),
        coupling=coupling_multiplier(lift.coupling, end.vertical, lift.units),
    )


def evaluate(lift: Lift) -> LiftResult | OutsideMethod:
    """Give RWL = LC x the multipliers and LI = load / RWL (pp. 1, 7, 20) at each end that counts.

    OutsideMethod where a condition of p. 6 holds or the RWL is 0, of which the manual
    gives no index.
    """
    ends = [end for end in (lift.origin, lift.destination) if end is not None]
    found = [multipliers_at(lift, end) for end in ends]
    reasons = set(lift.conditions).union(*(_zeros(each) for each in found))
    if reasons:
        return OutsideMethod(tuple(reason for reason in Outside if reason in reasons))
    results = [_end_result(lift, each) for each in found]
    return LiftResult(*results)


def index_reading(index: Fraction) -> IndexReading:
    """Read a lifting index by p. 20; exactly 1.0 is inside the goal, exactly 3.0 not over 3."""
    if index <= limits.GOAL_INDEX:
        return IndexReading.WITHIN_GOAL
    return IndexReading.RAISED if index <= limits.HIGH_INDEX else IndexReading.RAISED_FOR_NEARLY_ALL


def as_printed(value: Fraction, places: int) -> Decimal:
    """Round half-up on the exact value: multipliers to 2 places, RWL and LI to 1 (p. 29)."""
    return Decimal(math.floor(value * 10**places + Fraction(1, 2))).scaleb(-places)


def _zeros(found: Multipliers) -> set[Outside]:
    reasons = {
        Outside.TOO_FAR: found.horizontal,
        Outside.TOO_HIGH: found.vertical,
        Outside.TOO_LONG_A_WAY: found.travel,
        Outside.TOO_MUCH_TWIST: found.asymmetry,
        Outside.TOO_OFTEN: found.frequency,
    }
    return {reason for reason, multiplier in reasons.items() if multiplier == 0}


def _end_result(lift: Lift, found: Multipliers) -> EndResult:
    rwl = lift.units.load_constant * found.product
    return EndResult(found, rwl, lift.load / rwl)

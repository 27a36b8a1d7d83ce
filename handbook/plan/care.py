"""For planning by staff: measured sound and lifts of one concert, by the published rules.

Nothing here goes into the plan that pages are made of; only `handbook plan --care` asks for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from handbook.domain.lifting import HandPosition, Lift, LiftResult, OutsideMethod, evaluate
from handbook.domain.loads import Weight
from handbook.domain.noise import Exposure, Reckoning, noise_dose
from handbook.domain.tables.lift_limits import METRIC, US, Coupling, Duration, UnitSystem
from handbook.domain.tables.noise_limits import NIOSH, OSHA
from handbook.plan.concert_model import LoadDay
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass
from handbook.schema.care import Care, Hands, LiftEntry, LiftingTime, SoundSpell
from handbook.schema.scalars.quantities import Length

_CM_AN_INCH = Fraction("2.54")  # exact: NIST Special Publication 811, Appendix B
_LASTING = {
    LiftingTime.SHORT: Duration.SHORT,
    LiftingTime.MODERATE: Duration.MODERATE,
    LiftingTime.LONG: Duration.LONG,
}


@dataclass(frozen=True, slots=True)
class LiftRow:
    """One lift and what the equation says of it; `load` in the unit of mass of `units`."""

    item: LiftEntry
    units: UnitSystem
    load: Fraction
    result: LiftResult | OutsideMethod


@dataclass(frozen=True, slots=True)
class CarePlan:
    """A day of sound by both rules (none without any measurement), lifts, and loads."""

    sound: tuple[SoundSpell, ...]
    rules: tuple[Reckoning, ...]
    lifts: tuple[LiftRow, ...]
    load: LoadDay | None


def care_plan(concert: ConcertPlan) -> CarePlan:
    """Reckon what staff measured for one concert; every limit is one for adults at work."""
    care = concert.item.care or Care()
    day = [Exposure(spell.level, spell.minutes) for spell in care.sound]
    weights = {gear.id: gear.weight for gear in concert.item.equipment}
    rows = (_lift_row(lift, weights) for lift in care.lifts)
    return CarePlan(
        sound=care.sound,
        rules=(noise_dose(day, NIOSH), noise_dose(day, OSHA)) if day else (),
        lifts=tuple(row for row in rows if row),
        load=concert.day.load,
    )


def _lift_row(lift: LiftEntry, weights: Mapping[str, Weight | None]) -> LiftRow | None:
    """Reckon in the unit of the first length given; None for a lift without a weight."""
    weight = lift.weight or weights.get(lift.equipment or "")
    if weight is None:
        return None
    units = US if lift.start.reach.unit == US.length else METRIC
    load = weight.lb if units is US else weight.kg
    start, end = _position(lift.start, units), _position(lift.end, units)
    task = Lift(
        units=units,
        load=load,
        origin=start,
        travel=abs(end.vertical - start.vertical),
        per_minute=lift.per_minute,
        duration=_LASTING[lift.lasting],
        coupling=Coupling(lift.grip.value),
        destination=end if lift.guided else None,
    )
    return LiftRow(lift, units, load, evaluate(task))


def _position(hands: Hands, units: UnitSystem) -> HandPosition:
    return HandPosition(_in(units, hands.reach), _in(units, hands.height), Fraction(hands.twist))


def _in(units: UnitSystem, length: Length) -> Fraction:
    if length.unit == units.length:
        return length.number
    return length.number / _CM_AN_INCH if units is US else length.number * _CM_AN_INCH

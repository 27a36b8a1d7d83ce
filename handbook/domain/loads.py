"""Equipment to move: totals, trips, and what needs help by the program's own stated limit.

Nothing here says that a load is safe. An item under the program's limit is under that
limit and no more; the district's facilities or safety office sets what may be lifted, and by whom.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from fractions import Fraction

from handbook.records import dataclass

KG_A_POUND = Fraction("0.45359237")  # exact: NIST Special Publication 811, Appendix B


class MassUnit(StrEnum):
    """The unit a weight was stated in."""

    KG = "kg"
    LB = "lb"


@dataclass(frozen=True, slots=True)
class Weight:
    """A weight as stated, number and unit; ValueError below 0. Conversions are exact."""

    number: Fraction
    unit: MassUnit

    def __post_init__(self) -> None:
        if self.number < 0:
            raise ValueError(f"a weight of {self.number} {self.unit}")

    @property
    def kg(self) -> Fraction:
        """The weight in kilograms, not rounded."""
        return self.number * KG_A_POUND if self.unit is MassUnit.LB else self.number

    @property
    def lb(self) -> Fraction:
        """The weight in pounds, not rounded."""
        return self.number / KG_A_POUND if self.unit is MassUnit.KG else self.number


@dataclass(frozen=True, slots=True)
class LoadItem:
    """`count` like things; `weight` is of one of them, None where nobody has stated it.

    `handling` are the director's own words (`fragile`, `two adults`), `who` is a role.
    Raises ValueError for a count below 0.
    """

    id: str
    count: int
    weight: Weight | None
    start: str
    end: str
    handling: tuple[str, ...] = ()
    who: str | None = None

    def __post_init__(self) -> None:
        if self.count < 0:
            raise ValueError(f"{self.count} of {self.id}")


@dataclass(frozen=True, slots=True)
class Totals:
    """Pieces in all, how many of them have a weight, their exact kilograms, and the ids without one.

    With any id in `unweighed` the kilograms are those of `weighed` pieces, not of all.
    """

    pieces: int
    weighed: int
    kg: Fraction
    unweighed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Carrier:
    """A cart or truck: how many pieces and what weight it takes, as its owner states; None for no limit.

    Raises ValueError for a limit of no pieces.
    """

    id: str
    pieces: int | None = None
    weight: Weight | None = None

    def __post_init__(self) -> None:
        if self.pieces is not None and self.pieces < 1:
            raise ValueError(f"{self.id} carries {self.pieces} pieces")


@dataclass(frozen=True, slots=True)
class Trip:
    """One trip's pieces as (item id, count), in the order of the list, and their known kilograms."""

    pieces: tuple[tuple[str, int], ...]
    kg: Fraction


@dataclass(frozen=True, slots=True)
class TripPlan:
    """Trips in order, and what none of them takes.

    `too_heavy` are ids of which one piece is over the carrier's limit; `unweighed` ids
    cannot be placed on a carrier with a weight limit. With either, the trips are not all.
    """

    trips: tuple[Trip, ...]
    too_heavy: tuple[str, ...]
    unweighed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OwnLimits:
    """The program's own limits for one piece: above them, two adults or wheels. None: none stated."""

    two_adults_over: Weight | None = None
    wheels_over: Weight | None = None


@dataclass(frozen=True, slots=True)
class HandlingFindings:
    """Ids over the program's own limits, and ids that no limit can be compared with."""

    two_adults: tuple[str, ...]
    wheels: tuple[str, ...]
    unweighed: tuple[str, ...]


def totals(items: Iterable[LoadItem]) -> Totals:
    """Sum pieces and weights exactly; a missing weight is listed, never guessed."""
    moved = [item for item in items if item.count]
    return Totals(
        pieces=sum(item.count for item in moved),
        weighed=sum(item.count for item in moved if item.weight),
        kg=sum((item.weight.kg * item.count for item in moved if item.weight), Fraction(0)),
        unweighed=tuple(item.id for item in moved if item.weight is None),
    )


def trips(items: Sequence[LoadItem], carrier: Carrier) -> TripPlan:
    """Pack one route's pieces into trips by first-fit decreasing.

    Heaviest piece first (ties in the order given, pieces without a weight last), each on
    the first trip with room by count and by weight. Simple to follow by hand; it may take
    a trip more than the fewest possible (common practice, no source).
    """
    most = carrier.weight
    unweighed = tuple(item.id for item in items if item.count and item.weight is None and most)
    too_heavy = tuple(
        item.id
        for item in items
        if item.count and item.weight and most and item.weight.kg > most.kg
    )
    left_out = {*unweighed, *too_heavy}
    singles = [
        place
        for place, item in enumerate(items)
        if item.id not in left_out
        for _ in range(item.count)
    ]
    loads: list[list[int]] = []
    for place in sorted(singles, key=lambda place: -_kg(items[place])):
        fitting = (load for load in loads if _fits(items, load, place, carrier))
        load = next(fitting, None)
        if load is None:
            loads.append([place])
        else:
            load.append(place)
    return TripPlan(tuple(_trip(items, load) for load in loads), too_heavy, unweighed)


def handling_findings(items: Iterable[LoadItem], limits: OwnLimits) -> HandlingFindings:
    """Find items of which one piece weighs more than the program's own stated limits.

    A piece of just the limit is not over it. Where no limit is stated nothing is found,
    which is no word on whether a piece may be lifted.
    """
    moved = [item for item in items if item.count]
    stated = limits.two_adults_over is not None or limits.wheels_over is not None
    return HandlingFindings(
        two_adults=_over(moved, limits.two_adults_over),
        wheels=_over(moved, limits.wheels_over),
        unweighed=tuple(item.id for item in moved if item.weight is None and stated),
    )


def _over(items: Iterable[LoadItem], limit: Weight | None) -> tuple[str, ...]:
    if limit is None:
        return ()
    return tuple(item.id for item in items if item.weight and item.weight.kg > limit.kg)


def _kg(item: LoadItem) -> Fraction:
    return item.weight.kg if item.weight else Fraction(0)


def _fits(items: Sequence[LoadItem], load: Sequence[int], place: int, carrier: Carrier) -> bool:
    if carrier.pieces is not None and len(load) >= carrier.pieces:
        return False
    weight = sum((_kg(items[other]) for other in load), _kg(items[place]))
    return carrier.weight is None or weight <= carrier.weight.kg


def _trip(items: Sequence[LoadItem], load: Sequence[int]) -> Trip:
    pieces = tuple((items[place].id, load.count(place)) for place in sorted(set(load)))
    return Trip(pieces, sum((_kg(items[place]) for place in load), Fraction(0)))

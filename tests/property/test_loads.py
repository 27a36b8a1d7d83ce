"""Laws of loads and trips."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from math import ceil

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.loads import Carrier, LoadItem, MassUnit, Weight, trips

WEIGHTS = st.builds(
    Weight, st.integers(1, 1200).map(lambda tenths: Fraction(tenths, 10)), st.sampled_from(MassUnit)
)
ITEMS = st.lists(
    st.tuples(st.integers(0, 6), st.none() | WEIGHTS, st.sampled_from(["stage", "truck"])),
    max_size=8,
).map(
    lambda rows: [
        LoadItem(f"item-{n}", count, weight, "room", end)
        for n, (count, weight, end) in enumerate(rows)
    ]
)
CARRIERS = st.builds(Carrier, st.just("cart"), st.none() | st.integers(1, 10), st.none() | WEIGHTS)


@given(items=ITEMS, carrier=CARRIERS)
def test_every_piece_is_carried_once_or_listed(items: list[LoadItem], carrier: Carrier) -> None:
    plan = trips(items, carrier)
    carried: Counter[str] = Counter()
    for trip in plan.trips:
        carried.update(dict(trip.pieces))
    for item in items:
        listed = item.id in plan.too_heavy or item.id in plan.unweighed
        assert carried[item.id] == (0 if listed else item.count)


@given(items=ITEMS, carrier=CARRIERS)
def test_no_trip_passes_a_limit(items: list[LoadItem], carrier: Carrier) -> None:
    for trip in trips(items, carrier).trips:
        assert carrier.pieces is None or sum(count for _, count in trip.pieces) <= carrier.pieces
        assert carrier.weight is None or trip.kg <= carrier.weight.kg


@given(items=ITEMS, carrier=CARRIERS)
def test_trips_lie_between_the_known_bounds(items: list[LoadItem], carrier: Carrier) -> None:
    """No fewer than the sums ask for, and no two neighbours that would have fitted on one trip."""
    made = trips(items, carrier).trips
    pieces = [sum(count for _, count in trip.pieces) for trip in made]
    if carrier.pieces:
        assert len(made) >= ceil(Fraction(sum(pieces), carrier.pieces))
    if carrier.weight and made:
        assert len(made) >= ceil(sum(trip.kg for trip in made) / carrier.weight.kg)
    for first in range(len(made)):
        for second in range(first + 1, len(made)):
            over_count = (
                carrier.pieces is not None and pieces[first] + pieces[second] > carrier.pieces
            )
            over_weight = (
                carrier.weight is not None and made[first].kg + made[second].kg > carrier.weight.kg
            )
            assert over_count or over_weight


@given(weight=WEIGHTS)
def test_there_and_back_is_the_same_weight(weight: Weight) -> None:
    other = MassUnit.LB if weight.unit is MassUnit.KG else MassUnit.KG
    number = weight.lb if other is MassUnit.LB else weight.kg
    assert Weight(number, other).kg == weight.kg


def _fewest(weights: list[int], most: int) -> int:
    """Give the fewest trips by trying every way to split, for a few pieces."""
    best = len(weights)

    def place(rest: list[int], loads: list[int]) -> None:
        nonlocal best
        if len(loads) >= best and rest:
            return
        if not rest:
            best = min(best, len(loads))
            return
        for n, load in enumerate(loads):
            if load + rest[0] <= most:
                place(rest[1:], [*loads[:n], load + rest[0], *loads[n + 1 :]])
        place(rest[1:], [*loads, rest[0]])

    place(weights, [])
    return best


@given(weights=st.lists(st.integers(1, 60), max_size=8), most=st.integers(60, 100))
def test_first_fit_decreasing_is_near_the_fewest(weights: list[int], most: int) -> None:
    """At most 11/9 of the fewest plus 6/9 (Dosa 2007, the tight bound; from memory)."""
    items = [
        LoadItem(str(n), 1, Weight(Fraction(kg), MassUnit.KG), "room", "stage")
        for n, kg in enumerate(weights)
    ]
    made = len(trips(items, Carrier("cart", weight=Weight(Fraction(most), MassUnit.KG))).trips)
    fewest = _fewest(weights, most)
    assert fewest <= made <= (11 * fewest + 6) // 9

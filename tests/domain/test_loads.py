"""Equipment of an invented move; weights are invented too, and no advice."""

from __future__ import annotations

from fractions import Fraction

import pytest

from handbook.domain.loads import (
    Carrier,
    HandlingFindings,
    LoadItem,
    MassUnit,
    OwnLimits,
    Weight,
    handling_findings,
    totals,
    trips,
)


def kg(number: str | int) -> Weight:
    return Weight(Fraction(number), MassUnit.KG)


def lb(number: str | int) -> Weight:
    return Weight(Fraction(number), MassUnit.LB)


def item(
    name: str,
    count: int,
    weight: Weight | None,
    *,
    route: str = "band-room>stage",
    who: str | None = None,
) -> LoadItem:
    start, end = route.split(">")
    return LoadItem(name, count, weight, start, end, who=who)


MOVE = [
    item("stands", 20, kg("2.5"), who="stage crew"),
    item("bass-drum", 1, lb(22), who="percussion"),
    item("marimba", 1, None, who="percussion"),
    item("timpani", 4, kg(45), route="band-room>truck", who="percussion"),
    item("spare", 0, None),
]


@pytest.mark.parametrize(
    ("stated", "in_kg", "in_lb"),
    [
        # NIST SP 811, Appendix B: 1 lb = 0.453 592 37 kg exactly.
        (lb(1), "0.45359237", "1"),
        (lb(100), "45.359237", "100"),
        (kg("0.45359237"), "0.45359237", "1"),
        (kg("45.359237"), "45.359237", "100"),
    ],
)
def test_nist_sp_811_pound(stated: Weight, in_kg: str, in_lb: str) -> None:
    assert (stated.kg, stated.lb) == (Fraction(in_kg), Fraction(in_lb))


def test_totals_list_what_nobody_has_weighed() -> None:
    total = totals(MOVE)
    assert total.pieces == 26
    assert total.weighed == 26 - next(one.count for one in MOVE if one.id == "marimba")
    assert total.kg == 20 * Fraction("2.5") + 22 * Fraction("0.45359237") + 4 * 45
    assert total.unweighed == ("marimba",)


def test_totals_of_nothing() -> None:
    assert totals([]).kg == totals([item("spare", 0, None)]).kg == 0
    assert totals([item("spare", 0, None)]).unweighed == ()


CART = Carrier("cart", pieces=6, weight=kg(100))


@pytest.mark.parametrize(
    ("items", "carrier", "expected"),
    [
        pytest.param(
            [item("stands", 20, kg(2))],
            CART,
            ["stands 6", "stands 6", "stands 6", "stands 2"],
            id="full by count",
        ),
        pytest.param([item("drums", 3, kg(45))], CART, ["drums 2", "drums 1"], id="full by weight"),
        pytest.param(
            [item("small", 2, kg(20)), item("big", 2, kg(70))],
            CART,
            ["small 1 big 1", "small 1 big 1"],
            id="the heaviest first, then what still fits",
        ),
        pytest.param(
            [item("a", 1, kg(50)), item("b", 1, kg(50)), item("c", 1, kg("0.001"))],
            CART,
            ["a 1 b 1", "c 1"],
            id="a limit may be filled, not passed",
        ),
        pytest.param(
            [item("bell", 1, lb(100)), item("drum", 1, kg("54.640763"))],
            CART,
            ["bell 1 drum 1"],
            id="pounds and kilograms together, to the last digit",
        ),
        pytest.param(
            [item("stands", 5, kg(2)), item("odd", 2, None)],
            Carrier("dolly", pieces=4),
            ["stands 4", "stands 1 odd 2"],
            id="no weight is no matter where only pieces count",
        ),
        pytest.param(
            [item("stands", 500, kg(2))], Carrier("truck"), ["stands 500"], id="no limits"
        ),
        pytest.param(
            [item("drum", 1, kg(100))], CART, ["drum 1"], id="one piece of just the limit"
        ),
        pytest.param(
            [item("drum", 2, None)],
            Carrier("hand", pieces=1),
            ["drum 1", "drum 1"],
            id="one by one",
        ),
        pytest.param([], CART, [], id="nothing to carry"),
    ],
)
def test_trips_first_fit_decreasing(
    items: list[LoadItem], carrier: Carrier, expected: list[str]
) -> None:
    plan = trips(items, carrier)
    assert [
        " ".join(f"{name} {count}" for name, count in trip.pieces) for trip in plan.trips
    ] == expected
    assert (plan.too_heavy, plan.unweighed) == ((), ())


def test_what_no_trip_can_take_is_listed() -> None:
    plan = trips(
        [item("pipe-chest", 1, kg(101)), item("marimba", 1, None), item("stand", 1, kg(2))], CART
    )
    assert plan.too_heavy == ("pipe-chest",)
    assert plan.unweighed == ("marimba",)
    assert [trip.pieces for trip in plan.trips] == [(("stand", 1),)]
    assert plan.trips[0].kg == 2


@pytest.mark.parametrize(
    ("limits", "two_adults", "wheels", "unweighed"),
    [
        pytest.param(OwnLimits(), (), (), (), id="no limit stated, nothing found"),
        pytest.param(
            OwnLimits(two_adults_over=kg(40)), ("timpani",), (), ("marimba",), id="two adults"
        ),
        pytest.param(
            OwnLimits(two_adults_over=kg(45)),
            (),
            (),
            ("marimba",),
            id="just the limit is not over it",
        ),
        pytest.param(
            OwnLimits(wheels_over=kg(45)), (), (), ("marimba",), id="wheels alone are stated"
        ),
        pytest.param(
            OwnLimits(two_adults_over=lb(90), wheels_over=lb(20)),
            ("timpani",),
            ("bass-drum", "timpani"),
            ("marimba",),
            id="both, in pounds",
        ),
    ],
)
def test_help_by_the_program_s_own_limit_only(
    limits: OwnLimits,
    two_adults: tuple[str, ...],
    wheels: tuple[str, ...],
    unweighed: tuple[str, ...],
) -> None:
    assert handling_findings(MOVE, limits) == HandlingFindings(two_adults, wheels, unweighed)


def test_slips_of_a_caller_are_refused() -> None:
    with pytest.raises(ValueError, match="a weight of"):
        kg(-1)
    with pytest.raises(ValueError, match="of stands"):
        item("stands", -1, None)
    with pytest.raises(ValueError, match="carries 0"):
        Carrier("cart", pieces=0)

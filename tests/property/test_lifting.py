"""Laws of the revised lifting equation (NIOSH 94-110)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.lifting import (
    HandPosition,
    Lift,
    LiftResult,
    OutsideMethod,
    evaluate,
    frequency_multiplier,
)
from handbook.domain.tables.lift_limits import METRIC, US, Coupling, Duration
from tests.oracles.lifting import Composite, SingleTask, composite_index


def lengths(top: int) -> st.SearchStrategy[Fraction]:
    return st.integers(0, top * 10).map(lambda tenths: Fraction(tenths, 10))


LIFTS = st.builds(
    Lift,
    units=st.sampled_from([METRIC, US]),
    load=lengths(60),
    origin=st.builds(
        HandPosition, horizontal=lengths(70), vertical=lengths(180), asymmetry=lengths(140)
    ),
    travel=lengths(180),
    per_minute=lengths(17),
    duration=st.sampled_from(Duration),
    coupling=st.sampled_from(Coupling),
)


def limit_of(lift: Lift) -> Fraction:
    """Give the governing limit, 0 where the equation does not cover the lift."""
    result = evaluate(lift)
    return Fraction(0) if isinstance(result, OutsideMethod) else result.governing.rwl


@given(lift=LIFTS, more=lengths(30))
def test_the_limit_never_rises_with_reach(lift: Lift, more: Fraction) -> None:
    further = replace(lift.origin, horizontal=lift.origin.horizontal + more)
    assert limit_of(replace(lift, origin=further)) <= limit_of(lift)


@given(lift=LIFTS, more=lengths(90))
def test_the_limit_never_rises_with_twist(lift: Lift, more: Fraction) -> None:
    turned = replace(lift.origin, asymmetry=lift.origin.asymmetry + more)
    assert limit_of(replace(lift, origin=turned)) <= limit_of(lift)


@given(lift=LIFTS, more=lengths(10))
def test_the_limit_never_rises_with_frequency(lift: Lift, more: Fraction) -> None:
    assert limit_of(replace(lift, per_minute=lift.per_minute + more)) <= limit_of(lift)


@given(lift=LIFTS)
def test_the_limit_never_passes_the_load_constant(lift: Lift) -> None:
    assert 0 <= limit_of(lift) <= lift.units.load_constant


@given(load=lengths(60))
def test_the_ideal_lift_is_23_kg_exactly(load: Fraction) -> None:
    ideal = Lift(
        units=METRIC,
        load=load,
        origin=HandPosition(Fraction(25), Fraction(75)),
        travel=Fraction(25),
        per_minute=Fraction("0.2"),
        duration=Duration.SHORT,
        coupling=Coupling.GOOD,
    )
    result = evaluate(ideal)
    assert isinstance(result, LiftResult)
    assert result.governing.rwl == 23
    assert result.governing.index == load / 23


@given(lifts=lengths(17), low=st.booleans())
def test_longer_work_never_raises_the_frequency_multiplier(lifts: Fraction, low: bool) -> None:
    short, moderate, long = (frequency_multiplier(lifts, each, low=low) for each in Duration)
    assert short >= moderate >= long


TASKS = st.lists(
    st.builds(
        SingleTask,
        load=lengths(60),
        firwl=lengths(50).filter(bool),
        per_minute=lengths(4),
        starts_low=st.booleans(),
    ),
    min_size=1,
    max_size=5,
)


@given(tasks=TASKS, duration=st.sampled_from(Duration))
def test_a_composite_is_never_under_its_hardest_task(
    tasks: list[SingleTask], duration: Duration
) -> None:
    composite = composite_index(tasks, duration)
    if isinstance(composite, Composite):
        hardest = max(
            task.load
            / (task.firwl * frequency_multiplier(task.per_minute, duration, low=task.starts_low))
            for task in tasks
        )
        assert composite.index >= hardest
        assert composite.index == sum(step.adds for step in composite.steps)

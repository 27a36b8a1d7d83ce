"""The demo keeps what its fundamentals.yaml says: minutes, bounds, order, levels, habits."""

from __future__ import annotations

from collections import Counter

import pytest

from handbook.domain.day_kinds import DayKind
from handbook.outputs.components.split_chart import minutes_shared
from handbook.plan.model import EnsemblePlan, Plan
from tests.demo import demo_plan


@pytest.fixture
def demo() -> Plan:
    return demo_plan()


def ensembles(plan: Plan) -> list[EnsemblePlan]:
    return [ensemble for cycle in plan.cycles for ensemble in cycle.ensembles]


def test_each_exercise_has_its_stated_minutes(demo: Plan) -> None:
    given = [
        (block.exercise.id, block.minutes, block.exercise.minutes)
        for ensemble in ensembles(demo)
        for row in ensemble.rehearsals
        for block in row.blocks
        if block.exercise
    ]
    assert len(given) > 300
    assert [one for one in given if one[1] != one[2]] == []


def test_strands_stand_in_order_before_the_music(demo: Plan) -> None:
    order = [strand.id for strand in demo.fundamentals.strands]
    kinds = ["set_up", "warm_up", "notices", "fundamentals"]
    for ensemble in ensembles(demo):
        for row in ensemble.rehearsals:
            assert sum(block.minutes for block in row.blocks) == row.rehearsal.minutes
            came = [order.index(block.strand.id) for block in row.blocks if block.strand]
            assert came == sorted(set(came))
            if row.day_plan.kind is not DayKind.ORDINARY:
                continue  # a dress rehearsal may begin with its run
            places = [kinds.index(block.kind) if block.kind in kinds else 4 for block in row.blocks]
            assert places == sorted(places)


def test_bands_start_at_their_levels(demo: Plan) -> None:
    first = {
        one.item.id: {row.item.id: row.first_level for row in one.strands}
        for one in demo.cycles[0].ensembles
    }
    assert set(first["lantern"].values()) == {1}
    assert set(first["harbor"].values()) == {2}
    assert first["beacon"] == dict.fromkeys(first["beacon"], 3) | {"tone": 4, "tuning": 2}


def test_fundamentals_shrink_from_stage_to_stage(demo: Plan) -> None:
    """The splits in the winter cycle.yaml: two fifths, a third, a fifth of what is shared."""
    for ensemble in demo.cycles[-1].ensembles:
        shares = []
        for span in ensemble.stages:
            rows = ensemble.rehearsals[span.first : span.last + 1]
            fundamentals, music = (
                sum(part) for part in zip(*map(minutes_shared, rows), strict=True)
            )
            shares.append(fundamentals / (fundamentals + music))
        assert shares == sorted(set(shares), reverse=True)


def test_habits_take_fair_turns(demo: Plan) -> None:
    weights = {habit.id: habit.weight for habit in demo.fundamentals.habits}
    for ensemble in ensembles(demo):
        came = Counter(row.habit.id for row in ensemble.rehearsals if row.habit)
        assert sum(came.values()) == len(ensemble.rehearsals)
        single = [came[habit] for habit, weight in weights.items() if weight == 1]
        assert max(single) - min(single) <= 1
        assert came["instrument-care"] >= max(single)

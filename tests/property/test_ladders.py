"""Laws of ladders: never down, never past the goal, exactly on it at the end."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.ladders import Band, ladder, week_targets
from handbook.domain.marks import EveryMarks, ExactMarks, Marks, TraditionalMarks
from handbook.domain.values.tempo import BEAT_UNITS, Tempo

MARKS: st.SearchStrategy[Marks] = st.one_of(
    st.just(TraditionalMarks()), st.integers(1, 20).map(EveryMarks), st.just(ExactMarks())
)
GOALS = st.builds(
    Tempo, st.sampled_from(list(BEAT_UNITS.values())), st.fractions(10, 400, max_denominator=8)
)
BANDS = (
    st.lists(st.integers(5, 110), min_size=2, max_size=2)
    .map(sorted)
    .map(lambda ends: Band(Fraction(ends[0]), Fraction(ends[1])))
)
STAGES = st.lists(st.tuples(st.integers(1, 8), BANDS), min_size=1, max_size=5)


@given(
    GOALS,
    STAGES,
    MARKS,
    st.none() | st.fractions(Fraction(1, 10), 1, max_denominator=50),
    st.integers(0, 60),
)
def test_a_ladder_rises_to_its_goal(
    goal: Tempo,
    stages: list[tuple[int, Band]],
    marks: Marks,
    start_share: Fraction | None,
    lock: int,
) -> None:
    counts, bands = [count for count, _ in stages], [band for _, band in stages]
    start = None if start_share is None else goal.at(goal.bpm * start_share)
    lock_by = lock if lock < sum(counts) else None
    rungs = ladder(goal, counts, bands, marks, start=start, lock_by=lock_by)
    assert len(rungs) == sum(counts)
    assert rungs[-1].tempo == goal
    for slow, fast in pairwise(rungs):
        assert slow.tempo.bpm <= fast.tempo.bpm
        assert slow.percent <= fast.percent
    for rung in rungs:
        assert 0 < rung.tempo.bpm <= goal.bpm * rung.percent / 100
        assert rung.tempo in (goal, start) or rung.tempo.bpm == marks.floor(rung.tempo.bpm)
    if start and lock_by != 0 and len(rungs) > 1:
        assert rungs[0].tempo == start
    if lock_by is not None:
        assert {rung.tempo for rung in rungs[lock_by:]} == {goal}


@given(GOALS, STAGES, MARKS, st.data())
def test_home_steps_lead_from_target_to_target(
    goal: Tempo, stages: list[tuple[int, Band]], marks: Marks, data: st.DataObject
) -> None:
    counts, bands = [count for count, _ in stages], [band for _, band in stages]
    rungs = ladder(goal, counts, bands, marks)
    offsets = data.draw(
        st.lists(st.integers(0, 80), min_size=len(rungs), max_size=len(rungs)).map(sorted)
    )
    days = [date(2026, 10, 5) + timedelta(days=offset) for offset in offsets]
    targets = week_targets(days, rungs, marks)
    assert [target.monday for target in targets] == sorted(
        {date.fromisocalendar(*day.isocalendar()[:2], 1) for day in days}
    )
    assert targets[-1].target == goal
    for target in targets:
        assert target.steps[-1] == target.target
        assert list(target.steps) == sorted(set(target.steps), key=lambda step: step.bpm)
    for last, this in pairwise(targets):
        assert all(step.bpm > last.target.bpm for step in this.steps) or this.target == last.target

"""Laws of the week targets: never a surprise in class, never down, steps that lead there."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.ladders import Band, Pace, ladder
from handbook.domain.values.tempo import Tempo
from handbook.domain.week_targets import WeekTarget, week_targets
from tests.property.test_ladders import PACES, STAGES, of_visits

_MONDAY = date(2026, 10, 5)


@st.composite
def seasons(
    draw: st.DrawFn,
) -> tuple[Pace, list[tuple[date, Tempo]], list[date], tuple[WeekTarget, ...]]:
    pace = draw(PACES)
    stages: list[tuple[int, Band]] = draw(STAGES)
    rungs = ladder(pace, *of_visits(stages))
    offsets = draw(
        st.lists(st.integers(0, 80), min_size=len(rungs), max_size=len(rungs), unique=True).map(
            sorted
        )
    )
    visits = [
        (_MONDAY + timedelta(days=offset), rung.tempo)
        for offset, rung in zip(offsets, rungs, strict=True)
    ]
    weeks = {day - timedelta(days=day.weekday()) for day, _ in visits}
    more = draw(st.sets(st.integers(0, 12).map(lambda week: _MONDAY + timedelta(weeks=week))))
    mondays = sorted(weeks | more)
    return pace, visits, mondays, week_targets(mondays, visits, pace.goal, pace.marks)


@settings(max_examples=120, deadline=None)
@given(seasons())
def test_home_is_never_behind_the_class(
    season: tuple[Pace, list[tuple[date, Tempo]], list[date], tuple[WeekTarget, ...]],
) -> None:
    pace, visits, mondays, targets = season
    assert [target.monday for target in targets] == (mondays if visits else [])
    for place, target in enumerate(targets):
        end = target.monday + timedelta(days=7)
        played = [tempo for day, tempo in visits if day < end]
        assert all(tempo.bpm <= target.target.bpm for tempo in played)
        if place + 1 < len(mondays):
            following = mondays[place + 1]
            first = [
                tempo for day, tempo in visits if following <= day < following + timedelta(days=7)
            ][:1]
            assert all(tempo.bpm <= target.target.bpm for tempo in first)
        assert target.target.bpm <= pace.goal.bpm
    after = [one.target for one in targets if visits and one.monday > visits[-1][0]]
    assert not after or after[-1] == pace.goal


@settings(max_examples=120, deadline=None)
@given(seasons())
def test_steps_lead_from_target_to_target(
    season: tuple[Pace, list[tuple[date, Tempo]], list[date], tuple[WeekTarget, ...]],
) -> None:
    pace, _, _, targets = season
    for target in targets:
        assert target.steps[-1] == target.target
        speeds = [step.bpm for step in target.steps]
        assert speeds == sorted(set(speeds))
        for slow, fast in pairwise(speeds):
            assert fast == min(pace.marks.next_up(slow), target.target.bpm)
    for last, this in pairwise(targets):
        assert last.target.bpm <= this.target.bpm
        if this.target == last.target:
            assert this.steps == (this.target,)
        else:
            assert this.steps[0].bpm == min(pace.marks.next_up(last.target.bpm), this.target.bpm)

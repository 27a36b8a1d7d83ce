"""Laws of ladders: never down, no step over the leap, at the goal twice where the visits suffice."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.ladders import Band, Pace, first_tempo, ladder, pace_to, visits_needed
from handbook.domain.metronome_marks import EveryMarks, ExactMarks, Marks, TraditionalMarks
from handbook.domain.values.tempo import BEAT_UNITS, Tempo, parse_tempo

MARKS: st.SearchStrategy[Marks] = st.one_of(
    st.just(TraditionalMarks()), st.integers(1, 20).map(EveryMarks), st.just(ExactMarks())
)
GOALS = st.builds(
    Tempo, st.sampled_from(list(BEAT_UNITS.values())), st.fractions(10, 400, max_denominator=8)
)
PACES = st.builds(Pace, GOALS, MARKS, st.integers(5, 40).map(Fraction))
BANDS = (
    st.lists(st.integers(5, 110), min_size=2, max_size=2)
    .map(sorted)
    .map(lambda ends: Band(Fraction(ends[0]), Fraction(ends[1])))
)
STAGES = st.lists(st.tuples(st.integers(0, 8), BANDS), min_size=1, max_size=5)
SHARES = st.none() | st.fractions(Fraction(1, 4), 1, max_denominator=50)


def of_visits(stages: list[tuple[int, Band]]) -> tuple[list[int], list[Band]]:
    of_each = [stage for stage, (count, _) in enumerate(stages) for _ in range(count)]
    return of_each, [band for _, band in stages]


@settings(max_examples=150, deadline=None)
@given(PACES, STAGES, SHARES, st.none() | st.integers(0, 30))
def test_a_ladder_climbs_by_sane_steps(
    pace: Pace, stages: list[tuple[int, Band]], share: Fraction | None, settled: int | None
) -> None:
    visits, bands = of_visits(stages)
    goal = pace.goal
    start = None if share is None else goal.at(goal.bpm * share)
    settled = None if settled is None or settled >= len(visits) else settled
    rungs = ladder(pace, visits, bands, start=start, settled=settled)
    assert [rung.stage for rung in rungs] == visits
    if start and rungs:
        assert rungs[0].tempo == start
    for slow, fast in pairwise(rungs):
        assert slow.tempo.bpm <= fast.tempo.bpm <= goal.bpm
        assert fast.tempo.bpm <= slow.tempo.bpm * (100 + pace.leap) / 100
    for rung in rungs:
        assert rung.percent == rung.tempo.bpm / goal.bpm * 100
        assert rung.tempo.beat == goal.beat


@settings(max_examples=150, deadline=None)
@given(PACES, STAGES, SHARES, st.none() | st.integers(0, 30))
def test_the_goal_is_reached_in_time_and_kept_where_the_visits_suffice(
    pace: Pace, stages: list[tuple[int, Band]], share: Fraction | None, settled: int | None
) -> None:
    visits, bands = of_visits(stages)
    start = None if share is None else pace.goal.at(pace.goal.bpm * share)
    by = max(0, len(visits) - 2) if settled is None else settled
    if by >= len(visits):
        return
    rungs = ladder(pace, visits, bands, start=start, settled=settled)
    steepest = visits_needed(pace, first_tempo(pace, bands[visits[0]], start))
    if steepest <= by + 1:
        assert {rung.tempo for rung in rungs[by:]} == {pace.goal}
    elif steepest <= len(visits):
        assert rungs[-1].tempo == pace.goal


@settings(max_examples=100, deadline=None)
@given(PACES, st.fractions(Fraction(1, 5), 1, max_denominator=50))
def test_the_steepest_climb_has_no_visit_too_many(pace: Pace, share: Fraction) -> None:
    """No climb that keeps the leap is shorter than the leap alone, unrounded, allows."""
    first = pace.goal.bpm * share
    count = visits_needed(pace, first)
    reached = first
    for _ in range(count - 2):
        reached = reached * (100 + pace.leap) / 100
    fewest = 1
    bpm = first
    while bpm < pace.goal.bpm:
        bpm = bpm * (100 + pace.leap) / 100
        fewest += 1
    assert count >= fewest
    if isinstance(pace.marks, ExactMarks):
        assert count == fewest


@settings(max_examples=150, deadline=None)
@given(
    st.integers(20, 300),
    st.integers(30, 100),
    st.integers(2, 12),
    st.sampled_from((TraditionalMarks(), EveryMarks(1), EveryMarks(4))),
)
def test_rungs_are_marks_below_the_mean_that_is_not_rounded(
    bpm: int, percent: int, visits: int, marks: Marks
) -> None:
    """Reference: Python's decimal with 60 digits, and whole powers where that cannot tell a tie."""
    goal = parse_tempo(str(bpm))
    pace = Pace(goal, marks, Fraction(10_000))  # a leap that never binds
    low = marks.floor(Fraction(bpm * percent, 100))
    rungs = ladder(
        pace,
        [0] * visits,
        [Band(Fraction(1), Fraction(100))],
        start=goal.at(low),
        settled=visits - 1,
    )
    for step, rung in enumerate(rungs[1:-1], start=1):
        of = visits - 1
        found, above = rung.tempo.bpm, marks.next_up(rung.tempo.bpm)
        with localcontext() as context:
            context.prec = 60
            mean = _decimal(low) * (_decimal(goal.bpm / low)) ** (Decimal(step) / of)
            assert _decimal(found) <= mean * (1 + Decimal("1e-50"))
            assert mean < _decimal(above) * (1 + Decimal("1e-50"))
        # the same on whole numbers: found <= mean < above
        assert found**of <= low ** (of - step) * goal.bpm**step < above**of


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / value.denominator


@settings(max_examples=100, deadline=None)
@given(PACES, STAGES, st.data())
def test_what_has_been_stays_and_the_climb_goes_on_from_there(
    pace: Pace, stages: list[tuple[int, Band]], data: st.DataObject
) -> None:
    visits, bands = of_visits(stages)
    whole = ladder(pace, visits, bands)
    past = data.draw(st.integers(0, len(whole)))
    held = [rung.tempo for rung in whole[:past]]
    rungs = ladder(pace, visits, bands, held=held)
    assert [rung.tempo for rung in rungs[:past]] == held
    assert [rung.stage for rung in rungs] == visits
    for slow, fast in pairwise(rungs):
        assert slow.tempo.bpm <= fast.tempo.bpm <= pace.goal.bpm
        assert fast.tempo.bpm <= slow.tempo.bpm * (100 + pace.leap) / 100


@settings(max_examples=150, deadline=None)
@given(
    PACES,
    STAGES,
    SHARES,
    st.lists(
        st.tuples(st.integers(0, 30), st.fractions(Fraction(1, 5), 1, max_denominator=50)),
        max_size=4,
    ),
)
def test_tempos_on_the_way_are_reached_in_time_where_the_leap_allows(
    pace: Pace,
    stages: list[tuple[int, Band]],
    share: Fraction | None,
    stones: list[tuple[int, Fraction]],
) -> None:
    visits, bands = of_visits(stages)
    if not visits:
        return
    start = None if share is None else pace.goal.at(pace.goal.bpm * share)
    due = [(at, pace.goal.at(pace.goal.bpm * part)) for at, part in stones if at < len(visits)]
    rungs = ladder(pace, visits, bands, start=start, on_the_way=due)
    for slow, fast in pairwise(rungs):
        assert slow.tempo.bpm <= fast.tempo.bpm <= pace.goal.bpm
        assert fast.tempo.bpm <= slow.tempo.bpm * (100 + pace.leap) / 100
    first, lowest = rungs[0].tempo.bpm, first_tempo(pace, bands[visits[0]], start)
    for at, tempo in due:
        to = pace_to(pace, tempo)
        if visits_needed(to, lowest) <= at + 1:
            assert rungs[at].tempo.bpm >= tempo.bpm
        elif visits_needed(to, first) > at + 1:
            # As near as the leap allows: each visit up to there is a step up.
            assert all(slow.tempo.bpm < fast.tempo.bpm for slow, fast in pairwise(rungs[: at + 1]))
    bare = ladder(pace, visits, bands, start=start)
    assert all(
        with_.tempo.bpm >= without.tempo.bpm for with_, without in zip(rungs, bare, strict=True)
    )
    last = len(visits) - 2
    if last >= 0 and visits_needed(pace, lowest) <= last + 1:
        assert rungs[last].tempo == pace.goal

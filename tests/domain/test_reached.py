"""Climbs that go on from what class reached: worked by hand on the printed metronome settings.

The settings used (of the 39 of a traditional metronome): 40 42 44 46 48 50 52 54 56 58 60 63
66 69 72 76 80 84 88 92 96. From 50 by no more than 15 percent: 57.5, so 56; 64.4, so 63;
72.45, so 72; 82.8, so 80; 92; 105.8, which is past 96.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.ladders import Band, Pace, ladder, visits_needed
from handbook.domain.metronome_marks import TraditionalMarks
from handbook.domain.reached import KnownClimb, ReachedTempo, climbs, played_at
from handbook.domain.values.tempo import parse_tempo

PACE = Pace(parse_tempo("quarter = 96"), TraditionalMarks())
BANDS = [Band(Fraction(50), Fraction(90)), Band(Fraction(90), Fraction(100))]
STAGES = [0] * 7 + [1] * 5
PLACES = range(12)


def reached(place: int, tempo: str | None) -> ReachedTempo:
    return ReachedTempo(place, parse_tempo(tempo) if tempo else None)


def climbed(
    *logged: ReachedTempo, places: Sequence[int] = PLACES, settled: int = 8
) -> list[KnownClimb]:
    return list(climbs(PACE, places, STAGES, BANDS, logged, settled=settled))


def speeds(climb: KnownClimb) -> list[int]:
    return [int(rung.tempo.bpm) for rung in climb.rungs]


def test_without_logs_it_is_the_ladder() -> None:
    (only,) = climbed()
    plain = ladder(PACE, [STAGES[place] for place in PLACES], BANDS, settled=8)
    assert only.rungs == plain
    assert only.place is None


def test_a_slower_passage_climbs_from_there_by_no_more_than_the_leap() -> None:
    as_planned, anew = climbed(reached(5, "quarter = 50"))
    assert speeds(anew)[:6] == speeds(as_planned)[:6], "what has been stays as it was planned"
    assert speeds(anew)[6:] == [56, 63, 72, 80, 92, 96]
    assert anew.standing == parse_tempo("quarter = 50")


def test_a_faster_passage_is_never_asked_slower() -> None:
    as_planned, anew = climbed(reached(3, "quarter = 84"))
    assert speeds(as_planned)[4] < 84
    assert all(84 <= speed <= 96 for speed in speeds(anew)[4:])


def test_the_goal_still_comes_when_it_is_due_and_no_sooner() -> None:
    """From 60 the leap allows 69, 75.9, 82.8 and 92; the last stage begins at half its band, 91.1."""
    *_, anew = climbed(reached(3, "quarter = 60"), settled=8)
    assert speeds(anew)[4:9] == [66, 72, 80, 88, 96]
    *_, later = climbed(reached(3, "quarter = 60"), settled=10)
    assert 96 not in speeds(later)[:10]
    assert speeds(later)[10:] == [96, 96]


def test_a_tempo_on_the_way_still_comes_when_it_is_due() -> None:
    """From 66 to 80 in two visits: 72, by the settings, then 80; without it the second is 76."""
    logged, due = [reached(3, "quarter = 66")], [(5, parse_tempo("quarter = 80"))]
    *_, free = climbs(PACE, PLACES, STAGES, BANDS, logged, settled=8)
    *_, by_date = climbs(PACE, PLACES, STAGES, BANDS, logged, settled=8, on_the_way=due)
    assert speeds(free)[4:7] == [72, 76, 84]
    assert speeds(by_date)[4:7] == [72, 80, 84]


def test_above_the_goal_is_at_the_goal() -> None:
    *_, anew = climbed(reached(3, "quarter = 132"))
    assert set(speeds(anew)[4:]) == {96}
    assert anew.standing == PACE.goal


def test_another_note_counts_as_beats_of_the_goal() -> None:
    assert climbed(reached(5, "eighth = 100")) == climbed(reached(5, "quarter = 50"))


@given(st.lists(st.integers(0, 11), unique=True, max_size=12))
def test_what_went_as_planned_changes_nothing(places: list[int]) -> None:
    (planned,) = climbed()
    logged = [ReachedTempo(place, planned.rungs[place].tempo) for place in sorted(places)]
    assert climbed(*logged) == [planned]


def test_a_passage_that_was_not_played_goes_on_from_the_time_before() -> None:
    (planned,) = climbed()
    *_, anew = climbed(reached(5, None))
    assert anew.standing == planned.rungs[4].tempo
    assert speeds(anew)[6] <= float(planned.rungs[4].tempo.bpm) * 1.15


def test_a_first_visit_that_was_not_played_begins_anew() -> None:
    (planned,) = climbed()
    *_, anew = climbed(reached(0, None))
    assert anew.standing is None
    assert speeds(anew)[1] == speeds(planned)[0] == 48


def test_a_passage_may_be_reached_in_a_rehearsal_that_did_not_plan_it() -> None:
    as_planned, anew = climbed(reached(4, "quarter = 50"), places=[0, 2, 6, 7, 8, 9, 10, 11])
    assert speeds(anew)[:2] == speeds(as_planned)[:2]
    assert speeds(anew)[2:] == [56, 63, 72, 80, 92, 96]


def test_the_last_of_several_logs_counts() -> None:
    first, second, third = climbed(reached(3, "quarter = 80"), reached(6, "quarter = 50"))
    assert [one.place for one in (first, second, third)] == [None, 3, 6]
    assert speeds(third)[4:7] == speeds(second)[4:7]
    assert speeds(third)[7:] == [56, 63, 72, 80, 92]


@given(
    st.lists(
        st.tuples(st.integers(0, 11), st.none() | st.integers(30, 140)), max_size=6, unique_by=lambda one: one[0]
    ),
    st.sets(st.integers(0, 11), min_size=1),
    st.integers(0, 11),
)  # fmt: skip
def test_from_each_log_on_the_laws_of_a_ladder_hold(
    logged: list[tuple[int, int | None]], places: set[int], settled: int
) -> None:
    said = [reached(place, f"quarter = {bpm}" if bpm else None) for place, bpm in sorted(logged)]
    visited = sorted(places)
    found = climbed(*said, places=visited, settled=settled % len(visited))
    for climb in found[1:]:
        after = [
            rung.tempo
            for place, rung in zip(visited, climb.rungs, strict=True)
            if place > (climb.place or 0)
        ]
        before = climb.standing or (after[0] if after else PACE.goal)
        for tempo in after:
            assert before.bpm <= tempo.bpm <= PACE.highest_after(before.bpm)
            before = tempo
        enough = visits_needed(PACE, (climb.standing or before).bpm)
        if climb.standing and len(after) >= enough:
            assert after[-1] == PACE.goal, "a sane climb that has the visits comes to the goal"


@pytest.mark.parametrize(("last", "expected"), [(0, 48), (1, 44), (2, 44), (3, 58), (4, 60)])
def test_where_a_passage_stands(last: int, expected: int) -> None:
    planned = {one: parse_tempo(f"quarter = {bpm}") for one, bpm in ((0, 48), (2, 52), (3, 58))}
    logged = [reached(1, "quarter = 44"), reached(2, None), reached(4, "quarter = 60")]
    *_, (_, standing) = played_at(planned, logged, last)
    assert standing.bpm == expected

"""Laws of progress: levels never fall, and none is left before its rehearsals are done."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.fundamentals import LeveledExercise, start_level, strand_progress

EXERCISES = st.lists(st.tuples(st.integers(1, 8), st.integers(1, 5)), min_size=1, max_size=8).map(
    lambda rows: [
        LeveledExercise(f"e{place}", level, count) for place, (level, count) in enumerate(rows)
    ]
)


@given(EXERCISES, st.none() | st.integers(1, 8), st.integers(0, 40))
def test_levels_rise_and_none_is_left_early(
    exercises: list[LeveledExercise], before: int | None, appearances: int
) -> None:
    start = start_level(before, exercises)
    progress = strand_progress(exercises, start, appearances)
    by_id = {exercise.id: exercise for exercise in exercises}
    levels = [by_id[id_].level for id_ in progress.exercises]
    assert len(levels) == appearances
    assert levels == sorted(levels)
    came = Counter(progress.exercises)
    for exercise in exercises:
        if start <= exercise.level < progress.last_level:
            assert came[exercise.id] == exercise.rehearsals
    assert progress.finished is None or progress.finished <= max(
        exercise.level for exercise in exercises
    )


@given(EXERCISES, st.lists(st.integers(0, 12), max_size=6))
def test_cycle_after_cycle_no_level_is_lost(
    exercises: list[LeveledExercise], cycles: list[int]
) -> None:
    finished: int | None = None
    for appearances in cycles:
        progress = strand_progress(
            exercises, start_level(finished, exercises), appearances, finished_before=finished
        )
        assert finished is None or (progress.finished or 0) >= finished
        assert progress.first_level > (finished or 0) or progress.first_level == max(
            one.level for one in exercises
        )
        finished = progress.finished

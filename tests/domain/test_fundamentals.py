"""Progress through levels, counted by hand (our own rules, no source)."""

from __future__ import annotations

from itertools import islice

import pytest

from handbook.domain.fundamentals import (
    LeveledExercise,
    exercises_due,
    habit_turns,
    start_level,
    strand_progress,
    warm_up_level,
)

LONG_TONES = [
    LeveledExercise("one", 1, 2),
    LeveledExercise("two", 2, 3),
    LeveledExercise("four", 4, 2),
]  # level 3 is skipped
PAIRED = [
    LeveledExercise("slurs", 1, 3),
    LeveledExercise("tongue", 1, 1),
    LeveledExercise("scale", 2, 2),
]


@pytest.mark.parametrize(
    ("start", "appearances", "expected", "first", "last", "finished"),
    [
        (1, 0, "", 1, 1, None),
        (1, 1, "one", 1, 1, None),
        (1, 2, "one one", 1, 1, 1),
        (1, 4, "one one two two", 1, 2, 1),
        (1, 9, "one one two two two four four four four", 1, 4, 4),
        (2, 2, "two two", 2, 2, 1),  # nothing new is finished
        (2, 4, "two two two four", 2, 4, 2),
        (3, 1, "four", 4, 4, 2),  # there is no level 3
        (4, 2, "four four", 4, 4, 4),
        (9, 2, "four four", 4, 4, 4),  # out of levels: stays on the last
    ],
)
def test_a_strand_moves_on_after_its_rehearsals(
    start: int, appearances: int, expected: str, first: int, last: int, finished: int | None
) -> None:
    progress = strand_progress(LONG_TONES, start, appearances)
    assert " ".join(progress.exercises) == expected
    assert (progress.first_level, progress.last_level, progress.finished) == (first, last, finished)


def test_exercises_of_one_level_take_turns() -> None:
    progress = strand_progress(PAIRED, 1, 8)
    assert " ".join(progress.exercises) == "slurs tongue slurs slurs scale scale scale scale"


def test_the_order_given_need_not_be_by_level() -> None:
    assert strand_progress(LONG_TONES[::-1], 1, 7) == strand_progress(LONG_TONES, 1, 7)


@pytest.mark.parametrize(("finished", "expected"), [(None, 1), (1, 2), (2, 4), (3, 4), (4, 4)])
def test_a_cycle_begins_after_what_the_last_one_finished(
    finished: int | None, expected: int
) -> None:
    assert start_level(finished, LONG_TONES) == expected


def test_cycles_join_up() -> None:
    """Three cycles of four appearances: the level that was not finished begins anew."""
    finished: int | None = None
    played: list[str] = []
    for _ in range(3):
        progress = strand_progress(
            LONG_TONES, start_level(finished, LONG_TONES), 4, finished_before=finished
        )
        played.append(" ".join(progress.exercises))
        finished = progress.finished
    assert played == ["one one two two", "two two two four", "four four four four"]


def test_the_last_level_stays_finished_in_a_short_cycle() -> None:
    assert strand_progress(LONG_TONES, 4, 1).finished == 2
    assert strand_progress(LONG_TONES, 4, 1, finished_before=4).finished == 4


@pytest.mark.parametrize(("cycle", "level"), [(0, 1), (1, 2), (2, 4), (3, 4)])
def test_the_warm_up_rises_one_level_a_cycle(cycle: int, level: int) -> None:
    assert warm_up_level(cycle, (4, 1, 2, 1)) == level


def test_what_cannot_be_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="at least one exercise"):
        strand_progress([], 1, 1)
    with pytest.raises(ValueError, match="cannot appear"):
        strand_progress(LONG_TONES, 1, -1)
    with pytest.raises(ValueError, match="no warm-up"):
        warm_up_level(0, ())
    with pytest.raises(ValueError, match="no warm-up"):
        warm_up_level(-1, (1,))
    with pytest.raises(ValueError, match="begin at 1"):
        LeveledExercise("one", 0, 1)


def test_the_exercises_due_are_those_of_the_progress_without_end() -> None:
    due = [exercise.id for exercise in islice(exercises_due(LONG_TONES, 2), 7)]
    assert " ".join(due) == "two two two four four four four"


@pytest.mark.parametrize(
    ("weights", "rehearsals", "stated", "expected"),
    [
        ((1, 1, 1), 7, {}, "abcabca"),
        ((2, 1), 6, {}, "ababaa"),
        ((1, 1, 1), 6, {3: 0}, "bcbaca"),  # never beside the stated one
        ((2, 1, 1), 8, {}, "abacabac"),
        ((1,), 3, {}, "aaa"),
        ((), 3, {}, ""),
        ((1, 1), 0, {}, ""),
    ],
)
def test_habits_take_turns(
    weights: tuple[int, ...], rehearsals: int, stated: dict[int, int], expected: str
) -> None:
    turns = habit_turns(weights, rehearsals, stated)
    assert "".join("abc"[habit] for habit in turns) == expected


def test_the_weight_of_a_habit_begins_at_one() -> None:
    with pytest.raises(ValueError, match="begins at 1"):
        habit_turns([1, 0], 3)

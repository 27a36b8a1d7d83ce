"""How an ensemble moves through the levels of its fundamentals, rehearsal by rehearsal, cycle by cycle."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import chain, islice, repeat

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class LeveledExercise:
    """One exercise of a strand: its level, and how many rehearsals it gets before the next.

    `minutes` is how long it takes, None where the plan may choose; `most_minutes` is never
    passed in one rehearsal. Raises ValueError for a number below 1.
    """

    id: str
    level: int
    rehearsals: int
    minutes: int | None = None
    most_minutes: int | None = None

    def __post_init__(self) -> None:
        stated = (self.level, self.rehearsals, self.minutes, self.most_minutes)
        if any(number is not None and number < 1 for number in stated):
            raise ValueError(f"the numbers of {self.id} begin at 1")


@dataclass(frozen=True, slots=True)
class StrandProgress:
    """A strand in one cycle: the exercise of each appearance, and how far it went.

    `first_level` and `last_level` are the levels of the first and the last appearance;
    `finished` is the highest level that has had all its rehearsals, in this cycle or
    before it, None if there is none. What is begun and not finished begins anew in the
    next cycle.
    """

    exercises: tuple[str, ...]
    first_level: int
    last_level: int
    finished: int | None


def start_level(previous_finished: int | None, exercises: Sequence[LeveledExercise]) -> int:
    """Give the level a cycle begins at: the one after the level finished before, or the first.

    Where there is none after it, the last. Raises ValueError when there are no exercises.
    """
    levels = _levels(exercises)
    return next(
        (level for level in levels if previous_finished is None or level > previous_finished),
        levels[-1],
    )


def strand_progress(
    exercises: Sequence[LeveledExercise],
    start: int,
    appearances: int,
    *,
    finished_before: int | None = None,
) -> StrandProgress:
    """Choose the exercise of each of a strand's appearances, from level `start` on.

    A level moves on when each of its exercises has had its `rehearsals`; several
    exercises of one level take turns in the order given. Out of levels, those of the last
    stay. A `start` that no exercise has is taken as the next level there is.
    `finished_before` is what earlier cycles finished, which stays finished. Raises
    ValueError when there are no exercises or a count below 0.
    """
    levels = _levels(exercises)
    if appearances < 0:
        raise ValueError(f"a strand cannot appear {appearances} times")
    first = start_level(start - 1, exercises)
    chosen = list(islice(exercises_due(exercises, start), appearances))
    finished = [level for level in levels if level < first]
    if finished_before is not None:
        finished.append(finished_before)
    needed = 0
    for level in levels[levels.index(first) :]:
        needed += sum(exercise.rehearsals for exercise in exercises if exercise.level == level)
        if needed > appearances:
            break
        finished.append(level)
    return StrandProgress(
        exercises=tuple(exercise.id for exercise in chosen),
        first_level=first,
        last_level=chosen[-1].level if chosen else first,
        finished=max(finished, default=None),
    )


def exercises_due(exercises: Sequence[LeveledExercise], start: int) -> Iterator[LeveledExercise]:
    """Give the exercise of each appearance from level `start` on, without end, as `strand_progress` has it."""
    levels = _levels(exercises)
    return chain(
        _path(exercises, start_level(start - 1, exercises)), _for_ever(exercises, levels[-1])
    )


def habit_turns(
    weights: Sequence[int], rehearsals: int, stated: Mapping[int, int] | None = None
) -> tuple[int, ...]:
    """Choose the habit (as an index) of each of a cycle's rehearsals.

    `stated` maps places of rehearsals to the habit that the director set for them; these
    count, wherever in the cycle they stand. The others go to the habit furthest behind
    its weight: habits of one weight begin one after another in the order given, and in
    every rehearsals as many as the weights together each has its weight in turns. None
    stands beside itself where another has had no more. With equal weights turns differ
    by at most one, except that a habit may be stated more often. Raises ValueError for a
    weight below 1; without habits the answer is empty. Our own rule.
    """
    if min(weights, default=1) < 1:
        raise ValueError("the weight of a habit begins at 1")
    if not weights:
        return ()
    turns: dict[int, int] = dict(stated or {})
    had = [sum(habit == one for one in turns.values()) for habit in range(len(weights))]
    begins = [
        Fraction(2 * weights[:place].count(weight) + 1, 2 * weights.count(weight))
        for place, weight in enumerate(weights)
    ]
    for place in range(rehearsals):
        if place not in turns:
            due = sorted(
                range(len(weights)),
                key=lambda habit: (had[habit] + begins[habit]) / weights[habit],
            )
            # as fair as the first one due, since it has had no more for its weight
            fair = [one for one in due if had[one] * weights[due[0]] <= had[due[0]] * weights[one]]
            beside = {turns.get(place - 1), turns.get(place + 1)}
            turns[place] = next((one for one in fair if one not in beside), due[0])
            had[turns[place]] += 1
    return tuple(turns[place] for place in range(rehearsals))


def warm_up_level(cycle: int, levels: Collection[int]) -> int:
    """Give the warm-up level of an ensemble's `cycle` (from 0): one up each cycle, then the last.

    Raises ValueError when there are no levels or the cycle is below 0.
    """
    if not levels or cycle < 0:
        raise ValueError(f"there is no warm-up for cycle {cycle} among {len(levels)} levels")
    rising = sorted(set(levels))
    return rising[min(cycle, len(rising) - 1)]


def _levels(exercises: Sequence[LeveledExercise]) -> list[int]:
    levels = sorted({exercise.level for exercise in exercises})
    if not levels:
        raise ValueError("a strand has at least one exercise")
    return levels


def _path(exercises: Sequence[LeveledExercise], first: int) -> Iterator[LeveledExercise]:
    ahead = (level for level in _levels(exercises) if level >= first)
    return (exercise for level in ahead for exercise in _turns(exercises, level))


def _turns(exercises: Sequence[LeveledExercise], level: int) -> Iterator[LeveledExercise]:
    """Let the exercises of one level take turns until each has had its rehearsals."""
    here = [exercise for exercise in exercises if exercise.level == level]
    for turn in range(max(exercise.rehearsals for exercise in here)):
        yield from (exercise for exercise in here if turn < exercise.rehearsals)


def _for_ever(exercises: Sequence[LeveledExercise], level: int) -> Iterator[LeveledExercise]:
    here = [exercise for exercise in exercises if exercise.level == level]
    for again in repeat(here):
        yield from again

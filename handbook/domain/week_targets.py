"""What to reach at home in each week, so that the tempo in class never comes as a surprise."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache

from handbook.domain.metronome_marks import Marks
from handbook.domain.values.tempo import Tempo
from handbook.records import dataclass

_WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class WeekTarget:
    """What to reach at home in one week, from Monday on.

    `steps` lead from last week's target (left out) to this week's (included), one mark each.
    """

    monday: date
    target: Tempo
    steps: tuple[Tempo, ...]


def week_targets(
    mondays: Sequence[date], visits: Sequence[tuple[date, Tempo]], goal: Tempo, marks: Marks
) -> tuple[WeekTarget, ...]:
    """Give the practice target of each of the weeks, which lead from visit to visit.

    `mondays` are the weeks that have a rehearsal, `visits` the days on which the passage is
    played in class with its tempo then, both in order. Between two visits the target rises
    by marks, evenly over the weeks, and is that of the later visit in the week before it
    comes; so it is never below what class has played by the end of its week, nor below what
    class plays in the next. Before the first visit it is that visit's tempo; after the
    last it is the goal. Without a visit there is no target.
    """
    if not visits:
        return ()
    climb = _climb(visits[0][1], goal, marks)
    targets: list[WeekTarget] = []
    days = [day for day, _ in visits]
    weeks = [bisect_right(mondays, day) - 1 for day in days]
    before = visits[0][1]
    for place, monday in enumerate(mondays):
        behind = bisect_left(days, monday + _WEEK)
        target = _target(place, behind, weeks, visits, goal, climb, len(mondays))
        if target == before:
            steps: tuple[Tempo, ...] = (target,)
        else:
            steps = climb.steps(before, target)
            if not targets:
                steps = (before, *steps)
        targets.append(WeekTarget(monday, target, steps))
        before = target
    return tuple(targets)


def _target(
    place: int,
    behind: int,
    weeks: Sequence[int],
    visits: Sequence[tuple[date, Tempo]],
    goal: Tempo,
    climb: _MarksBetween,
    end: int,
) -> Tempo:
    """Give the target of the week at a place, by the end of which so many visits are `behind`.

    `weeks` has the place of each visit's week; after the last visit the goal is due at the `end`.
    """
    if not behind:
        return visits[0][1]
    last = visits[behind - 1][1]
    if behind < len(visits):
        upcoming, next_tempo = weeks[behind], visits[behind][1]
    elif last == goal:
        return goal
    else:
        upcoming, next_tempo = end, goal
    since = weeks[behind - 1]
    steps = climb.steps(last, next_tempo)
    reached = -(-len(steps) * (place - since + 1) // (upcoming - since))
    return steps[reached - 1]


class _MarksBetween:
    """The marks between two tempos, each as a whole number where it is one."""

    def __init__(self, tempos: Sequence[Tempo]) -> None:
        self.tempos = tuple(tempos)
        self.speeds = [_plain(tempo) for tempo in tempos]

    def steps(self, last: Tempo, target: Tempo) -> tuple[Tempo, ...]:
        """Go from one tempo (left out) to another (included), mark by mark."""
        low = bisect_right(self.speeds, _plain(last))
        return (*self.tempos[low : bisect_left(self.speeds, _plain(target))], target)


@lru_cache(maxsize=1024)  # passages of a piece climb by the same marks
def _climb(first: Tempo, goal: Tempo, marks: Marks) -> _MarksBetween:
    """Give the marks above the first tempo and below the goal."""
    tempos: list[Tempo] = []
    bpm = marks.next_up(first.bpm)
    while bpm < goal.bpm:
        tempos.append(goal.at(bpm))
        bpm = marks.next_up(bpm)
    return _MarksBetween(tempos)


def _plain(tempo: Tempo) -> Fraction | int:
    return tempo.bpm.numerator if tempo.bpm.denominator == 1 else tempo.bpm

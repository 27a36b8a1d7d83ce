"""Tempo ladders: how fast a passage is rehearsed each time, from first reading to goal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from itertools import groupby

from handbook.domain.marks import Marks
from handbook.domain.stages import stage_of
from handbook.domain.values.tempo import BEAT_UNITS, Tempo

GOAL = Fraction(100)  # percent
SLOW_BPM = 50  # below this a beat is hard to hold without its divisions: common practice, no source
_SHORTER = "thirty-second"  # half of the shortest beat that a mark can count
_PERCENT_STEPS = 1000  # a geometric mean is rarely a fraction; it is kept to 1/1000 percent


@dataclass(frozen=True, slots=True)
class Band:
    """The tempo band of a stage in percent of the goal, low end first.

    Raises ValueError unless 0 < low <= high.
    """

    low: Fraction
    high: Fraction

    def __post_init__(self) -> None:
        if not 0 < self.low <= self.high:
            raise ValueError(f"no band runs from {self.low} to {self.high} percent")


@dataclass(frozen=True, slots=True)
class SubdividedClick:
    """A slow beat given as its divisions: `name` is their note value, `bpm` their speed."""

    name: str
    bpm: Fraction


@dataclass(frozen=True, slots=True)
class Rung:
    """The tempo of one rehearsal; `percent` is the exact share of the goal before rounding down.

    `stage` is an index, from 0.
    """

    tempo: Tempo
    percent: Fraction
    stage: int
    click: SubdividedClick | None = None


@dataclass(frozen=True, slots=True)
class WeekTarget:
    """What to reach at home in one week: the rung of its last rehearsal.

    `monday` names the ISO week. `steps` lead from last week's target (left out) to this
    week's (included), one mark each.
    """

    monday: date
    target: Tempo
    steps: tuple[Tempo, ...]


class LadderFault(StrEnum):
    """Why no ladder can be built."""

    GOAL_BELOW_START = "goal_below_start"
    LOCK_OUTSIDE = "lock_outside"  # no rehearsal has that place


class LadderError(ValueError):
    """No ladder can be built as asked."""

    def __init__(self, kind: LadderFault) -> None:
        super().__init__(kind.value)
        self.kind = kind


@dataclass(frozen=True, slots=True)
class _Climb:
    """Rehearsals that rise together; `begins_low` holds the first one at the low end."""

    low: Fraction
    high: Fraction
    count: int
    begins_low: bool = False


def ladder(
    goal: Tempo,
    counts: Sequence[int],
    bands: Sequence[Band],
    marks: Marks,
    *,
    start: Tempo | None = None,
    lock_by: int | None = None,
) -> tuple[Rung, ...]:
    """Give one rung a rehearsal, for stages of `counts` rehearsals with their `bands`.

    Within a stage percent grows geometrically from the low end of its band at its first
    rehearsal to the high end at its last; a stage of one rehearsal takes the high end. A
    stage whose band begins no higher than the last rung goes on from there, with its
    first rehearsal already a step up, so that no edge is rehearsed twice. The last
    stage climbs to the goal whatever its band says. Each rung is rounded down to `marks`,
    in the goal's own beat; a ladder never descends nor passes the goal, and ends exactly
    on it. Our own rule, common practice in kind.

    `start` is the first rehearsal's tempo, kept exactly and in any beat: one climb
    leads from it to the high end of the first band that passes it. `lock_by`
    (from 0) is the rehearsal at which the goal is reached and kept: its stage climbs to
    the goal by then. Raises LadderError for a start above the goal or a lock beyond the
    rehearsals, ValueError unless there is one band a stage.
    """
    if len(counts) != len(bands):
        raise ValueError(f"{len(counts)} stages cannot have {len(bands)} tempo bands")
    stages = stage_of(counts)
    if lock_by is not None and not 0 <= lock_by < len(stages):
        raise LadderError(LadderFault.LOCK_OUTSIDE)
    first = Fraction(0) if start is None else start.quarters_per_minute / goal.beat.quarters
    if first > goal.bpm:
        raise LadderError(LadderFault.GOAL_BELOW_START)
    climbing = stages if lock_by is None else stages[: lock_by + 1]
    percents = _percents(tuple(climbing), tuple(bands), first / goal.bpm * GOAL)
    percents = (*percents[:-1], *[GOAL] * (len(stages) - len(percents[:-1])))
    return tuple(
        _rung(goal, marks, first, percent, stage)
        for percent, stage in zip(percents, stages, strict=True)
    )


def week_targets(
    days: Sequence[date], rungs: Sequence[Rung], marks: Marks
) -> tuple[WeekTarget, ...]:
    """Give the practice target of each ISO week that has a rehearsal: its last rung.

    `days` are the rehearsals' dates in order, one a rung. The steps rise mark by mark from
    last week's target to this week's, and are that target alone when it has not changed.
    The first week's begin with its first rung.
    """
    targets: list[WeekTarget] = []
    by_week = groupby(zip(days, rungs, strict=True), key=lambda pair: _monday(pair[0]))
    for monday, pairs in by_week:
        week = [rung.tempo for _, rung in pairs]
        steps = (
            _steps(targets[-1].target, week[-1], marks)
            if targets
            else (week[0], *_steps(week[0], week[-1], marks))
        )
        targets.append(WeekTarget(monday, week[-1], tuple(dict.fromkeys(steps))))
    return tuple(targets)


def subdivided(tempo: Tempo) -> SubdividedClick | None:
    """Give a beat slower than 50 as its divisions: halves of a plain note, thirds of a dotted one."""
    if tempo.bpm >= SLOW_BPM:
        return None
    parts = 3 if tempo.beat.dotted else 2
    length = tempo.beat.quarters / parts
    name = next((unit.name for unit in BEAT_UNITS.values() if unit.quarters == length), _SHORTER)
    return SubdividedClick(name, tempo.bpm * parts)


def _climbs(stages: Sequence[int], bands: Sequence[Band], start: Fraction) -> list[_Climb]:
    """Lay out the climbs of the rehearsals that have these stage indices; `start` 0 means none."""
    if not stages:
        return []
    last = stages[-1]
    tops = [GOAL if stage == last else min(GOAL, bands[stage].high) for stage in range(last + 1)]
    joined = next((stage for stage, top in enumerate(tops) if top > start), last) if start else -1
    climbs = (
        [_Climb(start, tops[joined], sum(stage <= joined for stage in stages), begins_low=True)]
        if start
        else []
    )
    climbs += [
        _Climb(min(GOAL, bands[stage].low), tops[stage], stages.count(stage))
        for stage in range(joined + 1, last + 1)
    ]
    return [climb for climb in climbs if climb.count]


@lru_cache(maxsize=256)  # all passages of an ensemble that set no start climb alike
def _percents(
    stages: tuple[int, ...], bands: tuple[Band, ...], start: Fraction
) -> tuple[Fraction, ...]:
    percents: list[Fraction] = []
    for climb in _climbs(stages, bands, start):
        reached = percents[-1] if percents else Fraction(0)
        if climb.low <= reached:
            places = [Fraction(step, climb.count) for step in range(1, climb.count + 1)]
        elif climb.count == 1:
            places = [Fraction(0 if climb.begins_low else 1)]
        else:
            places = [Fraction(step, climb.count - 1) for step in range(climb.count)]
        low = max(climb.low, reached)
        percents += [_between(low, max(low, climb.high), place) for place in places]
    return tuple(percents)


def _between(low: Fraction, high: Fraction, place: Fraction) -> Fraction:
    """Give the geometric mean at a place from 0 (low) to 1 (high), both ends exact."""
    if place in {0, 1}:
        return high if place else low
    mean = float(low) * float(high / low) ** float(place)
    return min(high, max(low, Fraction(round(mean * _PERCENT_STEPS), _PERCENT_STEPS)))


def _rung(goal: Tempo, marks: Marks, first: Fraction, percent: Fraction, stage: int) -> Rung:
    bpm = goal.bpm if percent == GOAL else max(first, marks.floor(goal.bpm * percent / GOAL))
    tempo = goal.at(bpm)
    return Rung(tempo, percent, stage, subdivided(tempo))


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _steps(last: Tempo, target: Tempo, marks: Marks) -> tuple[Tempo, ...]:
    steps: list[Tempo] = []
    bpm = marks.next_up(last.bpm)
    while bpm < target.bpm:
        steps.append(target.at(bpm))
        bpm = marks.next_up(bpm)
    return (*steps, target)

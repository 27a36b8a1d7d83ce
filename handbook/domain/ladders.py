"""Tempo ladders: how fast a passage is rehearsed each time, from first reading to goal.

A ladder has one rung a visit: a rehearsal in which the passage is played, by itself, in a
join or in a run. So the step from one visit to the next is what the players meet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import field, replace
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from math import ceil

from handbook.domain.metronome_marks import EveryMarks, Marks
from handbook.domain.values.tempo import BEAT_UNITS, Tempo
from handbook.records import dataclass

GOAL = Fraction(100)  # percent
USUAL_LEAP = Fraction(15)  # percent that one visit may add to the one before: our own choice
SLOW_BPM = 50  # below this a beat is hard to hold without its divisions: common practice, no source
_SHORTER = "thirty-second"  # half of the shortest beat that a mark can count
_PERCENT_STEPS = 1000  # a geometric mean is rarely a fraction; it is shown to 1/1000 percent
_NEAR = 1e-6  # relative: nearer than this to a mark a mean is compared exactly, not as a float

Speed = (
    Fraction | int
)  # in beats a minute; whole ones as int, which are compared ten times as quickly


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
    """The tempo of one visit; `percent` is its exact share of the goal.

    `stage` is an index, from 0.
    """

    tempo: Tempo
    percent: Fraction
    stage: int
    click: SubdividedClick | None = None


class LadderFault(StrEnum):
    """Why no ladder can be built."""

    GOAL_BELOW_START = "goal_below_start"


class LadderError(ValueError):
    """No ladder can be built as asked."""

    def __init__(self, kind: LadderFault) -> None:
        super().__init__(kind.value)
        self.kind = kind


@dataclass(frozen=True, slots=True)
class Mean:
    """The geometric mean of `low` and `high` at the place `step` of `of`; kept whole, not rounded.

    At step 0 it is `low`, at step `of` it is `high`.
    """

    low: Fraction
    high: Fraction
    step: int
    of: int

    def reaches(self, value: Fraction) -> bool:
        """Whether the mean is at least the value, decided on whole numbers (no root is taken)."""
        reached = self.low ** (self.of - self.step) * self.high**self.step
        return value**self.of <= reached

    def __float__(self) -> float:
        low = float(self.low)
        return float(low * (float(self.high) / low) ** (self.step / self.of))


@dataclass(frozen=True, slots=True)
class _Climb:
    """Visits that rise together; `begins_low` holds the first one at the low end."""

    low: Fraction
    high: Fraction
    count: int
    begins_low: bool = False


@dataclass(frozen=True, slots=True)
class Pace:
    """What bounds the climb of one passage: its goal, the marks, and the leap in percent."""

    goal: Tempo
    marks: Marks
    leap: Fraction = USUAL_LEAP
    growth: Fraction = field(init=False, repr=False, compare=False)  # the leap as a factor

    def __post_init__(self) -> None:
        object.__setattr__(self, "growth", (GOAL + self.leap) / GOAL)

    def highest_after(self, bpm: Speed) -> Speed:
        """Give the fastest next visit: the mark at or below `bpm` and the leap, or the goal.

        Where the marks lie further apart than a leap, whole numbers go between them.
        """
        return _highest_after(bpm, self.growth, self.marks, self.goal.bpm)

    def lowest_before(self, bpm: Speed) -> Speed:
        """Give the slowest visit from which the next may be at `bpm`: a mark, rounded up."""
        bound = bpm / self.growth
        mark = self.marks.floor(bound)
        mark = mark if mark == bound else self.marks.next_up(bound)
        if mark >= bpm:
            mark = Fraction(ceil(bound))
        return _plain(mark if mark < bpm else bound)


@lru_cache(maxsize=4096)  # passages of a piece climb by the same speeds
def _highest_after(bpm: Speed, growth: Fraction, marks: Marks, goal: Fraction) -> Speed:
    bound = bpm * growth
    if bound >= goal:
        return _plain(goal)
    mark = marks.floor(bound)
    if mark == bound:
        return _plain(mark)
    if mark <= bpm or marks.next_up(mark) > mark * growth:
        mark = EveryMarks(1).floor(bound)
    return _plain(mark if mark > bpm else bound)


@lru_cache(maxsize=1024)  # passages of a piece climb by the same speeds
def _latest_climb(pace: Pace, first: Speed) -> tuple[Speed, ...]:
    """Give the slowest speeds of the visits up to the goal, the last one first, down to the first visit's."""
    speeds = [_plain(pace.goal.bpm)]
    while speeds[-1] > first:
        speeds.append(pace.lowest_before(speeds[-1]))
    return tuple(speeds)


def _plain(bpm: Speed) -> Speed:
    return bpm.numerator if bpm.denominator == 1 else bpm


def pace_to(pace: Pace, tempo: Tempo) -> Pace:
    """Give the pace of the climb to a tempo on the way, in the goal's own beat; never past the goal."""
    bpm = tempo.quarters_per_minute / pace.goal.beat.quarters
    return Pace(pace.goal.at(min(bpm, pace.goal.bpm)), pace.marks, pace.leap)


def first_tempo(pace: Pace, band: Band, start: Tempo | None) -> Fraction:
    """Give the first visit's speed in beats of the goal: the start, else the low end of the band.

    Raises LadderError for a start above the goal.
    """
    if start is None:
        return min(pace.goal.bpm, pace.marks.floor(pace.goal.bpm * min(GOAL, band.low) / GOAL))
    first = start.quarters_per_minute / pace.goal.beat.quarters
    if first > pace.goal.bpm:
        raise LadderError(LadderFault.GOAL_BELOW_START)
    return first


@lru_cache(maxsize=1024)  # each trial of a mend asks for all of them again
def visits_needed(pace: Pace, first: Fraction) -> int:
    """Count the visits of the steepest sane climb, the one at `first` and the one at the goal included."""
    count, bpm, goal = 1, _plain(first), _plain(pace.goal.bpm)
    while bpm < goal:
        bpm = pace.highest_after(bpm)
        count += 1
    return count


def ladder(
    pace: Pace,
    stages: Sequence[int],
    bands: Sequence[Band],
    *,
    start: Tempo | None = None,
    settled: int | None = None,
    held: Sequence[Tempo] = (),
    on_the_way: Sequence[tuple[int, Tempo]] = (),
) -> tuple[Rung, ...]:
    """Give one rung a visit; `stages` holds the stage of each visit, in order.

    Within a stage percent grows geometrically from the low end of its band at its first
    visit to the high end at its last; a stage of one visit takes the high end. A stage
    whose band begins no higher than the last rung goes on from there, with its first
    visit already a step up, so that no edge is rehearsed twice. The stage of the visit
    `settled` (from 0; the last but one if left out) climbs to the goal by then, and the
    goal is kept from there on; where that visit is the only one of its stage so far, the
    stage before shares the climb evenly, past its own high end. Each rung is rounded down to the marks, in the goal's own
    beat, by comparing whole numbers where a float could err.

    A rung is never lower than the one before, never above the goal, and never more than
    the leap above the one before. Where the bands would leave too much for the end, the
    climb begins earlier than they say; where there are too few visits for the leap, the
    goal comes later than `settled`, or not at all. Our own rules, common practice in kind.

    `start` is the first visit's tempo, kept exactly and in any beat: one climb leads from
    it to the high end of the first band that passes it. `held` are the tempos of visits
    that have been; the climb goes on from the last of them. `on_the_way` are tempos below the
    goal, each with the visit (from 0) at which the climb is at it, or above, as far as the leap
    allows. Raises LadderError for a start above the goal.
    """
    if not stages:
        return ()
    if held:
        past = [
            _rung(pace.goal, tempo.quarters_per_minute / pace.goal.beat.quarters, stage)
            for tempo, stage in zip(held, stages, strict=False)
        ]
        done = len(past) - 1  # the visit that the climb goes on from
        by = None if settled is None else max(0, settled - done)
        left = [(visit - done, tempo) for visit, tempo in on_the_way if visit > done]
        start = past[done].tempo
        ahead = ladder(pace, stages[done:], bands, start=start, settled=by, on_the_way=left)
        return (*past, *ahead[1:])
    first = first_tempo(pace, bands[stages[0]], start)
    last = max(0, len(stages) - 2) if settled is None else settled
    wished = _wished(tuple(stages[: last + 1]), tuple(bands), first if start else None, pace.goal)
    needed = _latest_climb(
        pace, _plain(first)
    )  # below which no visit falls that is after the first
    goal = _plain(pace.goal.bpm)
    speeds = [_plain(first) if start else min(_floor(wished[0], pace), goal)]
    nearer = [(visit, pace_to(pace, tempo)) for visit, tempo in on_the_way]
    for place in range(1, len(stages)):
        before, wish = speeds[-1], goal
        if before != goal and place <= last:
            latest = needed[min(last - place, len(needed) - 1)]
            wish = max(_floor(wished[place], pace), latest)
        highest = pace.highest_after(before)
        for visit, to in nearer:
            if place <= visit and before < to.goal.bpm:
                climb = _latest_climb(to, _plain(first))
                wish = max(wish, climb[min(visit - place, len(climb) - 1)])
                highest = max(highest, to.highest_after(before))
        speeds.append(before if wish <= before else min(wish, highest))
    return tuple(_rungs(pace.goal, speeds, stages))


def subdivided(tempo: Tempo) -> SubdividedClick | None:
    """Give a beat slower than 50 as its divisions: halves of a plain note, thirds of a dotted one."""
    if tempo.free or tempo.bpm >= SLOW_BPM:
        return None
    parts = 3 if tempo.beat.dotted else 2
    length = tempo.beat.quarters / parts
    name = next((unit.name for unit in BEAT_UNITS.values() if unit.quarters == length), _SHORTER)
    return SubdividedClick(name, tempo.bpm * parts)


def _wished(
    stages: tuple[int, ...], bands: tuple[Band, ...], first: Fraction | None, goal: Tempo
) -> tuple[Mean, ...]:
    return _means(stages, bands, Fraction(0) if first is None else first / goal.bpm * GOAL)


def _climbs(stages: Sequence[int], bands: Sequence[Band], start: Fraction) -> list[_Climb]:
    """Lay out the climbs of the visits that have these stage indices; `start` 0 means none."""
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
    return _evened([climb for climb in climbs if climb.count])


def _evened(climbs: list[_Climb]) -> list[_Climb]:
    """Share the last climb, where one visit would have all of it, with the one before.

    One visit that is the first of all has nothing to climb from, and keeps its stage's high end.
    """
    if len(climbs) < 2 or climbs[-1].count > 1:  # noqa: PLR2004 - a climb and one before it
        return climbs
    *earlier, before, _ = climbs
    if not earlier and before.count == 1:
        return climbs
    return [*earlier, replace(before, high=GOAL, count=before.count + 1)]


@lru_cache(maxsize=1024)  # passages that are visited alike climb alike
def _means(stages: tuple[int, ...], bands: tuple[Band, ...], start: Fraction) -> tuple[Mean, ...]:
    means: list[Mean] = []
    reached = Fraction(0)
    for climb in _climbs(stages, bands, start):
        low = max(climb.low, reached)
        high = max(low, climb.high)
        if climb.low <= reached:
            places = [(step, climb.count) for step in range(1, climb.count + 1)]
        elif climb.count == 1:
            places = [(0 if climb.begins_low else 1, 1)]
        else:
            places = [(step, climb.count - 1) for step in range(climb.count)]
        means += [Mean(low, high, step, of) for step, of in places]
        reached = high if places[-1][0] else low
    return tuple(means)


def _floor(mean: Mean, pace: Pace) -> Speed:
    """Round the goal's share down to a mark: by floats, and exactly where they come near one."""
    share = pace.goal.bpm / GOAL
    if mean.step in {0, mean.of}:
        return _plain(pace.marks.floor(share * (mean.high if mean.step else mean.low)))
    estimate = float(mean) * float(share)
    rounded = Fraction(round(estimate * _PERCENT_STEPS), _PERCENT_STEPS)
    near = pace.marks.floor(rounded)
    if near == rounded and not mean.reaches(rounded / share):  # every speed is a mark
        rounded -= Fraction(1, _PERCENT_STEPS)
        near = pace.marks.floor(rounded)
    above = pace.marks.next_up(near)
    if float(above) <= estimate * (1 + _NEAR) and mean.reaches(above / share):
        return _plain(above)
    return _plain(near)


def _rungs(goal: Tempo, speeds: Sequence[Speed], stages: Sequence[int]) -> Iterator[Rung]:
    """Give each visit its rung; one at the speed of the visit before shares what that has."""
    rung: Rung | None = None
    for bpm, stage in zip(speeds, stages, strict=True):
        if rung is None or bpm != rung.tempo.bpm:
            rung = _rung(goal, bpm, stage)
        elif stage != rung.stage:
            rung = Rung(rung.tempo, rung.percent, stage, rung.click)
        yield rung


def _rung(goal: Tempo, bpm: Speed, stage: int) -> Rung:
    tempo = goal.at(bpm) if bpm != goal.bpm else goal
    percent = Fraction(
        100 * bpm.numerator * goal.bpm.denominator, bpm.denominator * goal.bpm.numerator
    )
    return Rung(tempo, percent, stage, subdivided(tempo))

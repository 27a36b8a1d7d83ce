"""How steeply a passage climbs in a season, and what a season is beside another one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction
from itertools import pairwise

from handbook.domain.metronome_marks import Marks, marks_named
from handbook.domain.values.tempo import Tempo
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, Plan
from handbook.plan.season_words import GaveWay, gave_way
from handbook.plan.steering import PassageKey
from handbook.records import dataclass

Laws = frozenset[tuple[object, ...]]
_NOTHING = Fraction(0)
_ALL = 100  # percent


@dataclass(frozen=True, slots=True)
class Climb:
    """What a season does with a passage.

    `visits` are the rehearsals in which it is played, `minutes` those on it alone. `marks` and
    `percent` are the most by which a visit is above the one before, in marks of the cycle and in
    percent of that one; `week_percent` is the most by which what is to be reached at home rises
    from a week to the next. `at_goal` counts visits at the goal, the first of them on `settled`.
    `last` is the tempo of the last visit, None without any.
    """

    visits: int
    minutes: int
    marks: int
    percent: Fraction
    week_percent: Fraction
    at_goal: int
    settled: date | None
    last: Tempo | None


@dataclass(frozen=True, slots=True)
class PassageClimbs:
    """A passage in one season and in another; None where it is not there.

    Its piece may be `dropped` in the other one.
    """

    piece: str
    title: str
    passage: str
    before: Climb | None
    after: Climb | None
    dropped: bool = False


@dataclass(frozen=True, slots=True)
class StageCounts:
    """How many rehearsals a stage has in one season and in another."""

    id: str
    name: str
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class SeasonChange:
    """An ensemble's season beside another one of the same cycle; one of them may lack it.

    `gave_way` are laws that are kept in the first season and not in the other, or less so.
    """

    cycle: str
    before: EnsemblePlan | None
    after: EnsemblePlan | None
    stages: tuple[StageCounts, ...]
    passages: tuple[PassageClimbs, ...]
    gave_way: tuple[GaveWay, ...]

    @property
    def plan(self) -> EnsemblePlan:
        """The season as it would be, else as it is."""
        found = self.after or self.before
        assert found is not None, "a change has one side at least"
        return found

    @property
    def is_none(self) -> bool:
        """Whether nothing changes: neither the rehearsals nor what they play."""
        if self.before is None or self.after is None:
            return False
        return _held(self.before) == _held(self.after)


def climb_of(ensemble: EnsemblePlan, piece: str, passage: PassageRow, marks: Marks) -> Climb:
    """Reckon the climb of one passage of a piece, known by its id; percents are exact."""
    tempos = [visit.rung.tempo for visit in passage.visits]
    steps = list(pairwise(tempos))
    targets = [passage.first_tempo, *(week.target for week in passage.weeks)]
    at_goal = passage.at_goal
    return Climb(
        visits=len(tempos),
        minutes=_minutes_alone(ensemble, piece, passage.item.id),
        marks=max((marks_between(low, high, marks) for low, high in steps), default=0),
        percent=max((_rise(low, high) for low, high in steps), default=_NOTHING),
        week_percent=max((_rise(low, high) for low, high in pairwise(targets)), default=_NOTHING),
        at_goal=len(at_goal),
        settled=ensemble.rehearsals[at_goal[0].place].rehearsal.day if at_goal else None,
        last=tempos[-1] if tempos else None,
    )


def marks_between(low: Tempo, high: Tempo, marks: Marks) -> int:
    """Count the marks from one tempo (left out) to a faster one of the same beat.

    A faster tempo that is no mark, such as a goal, counts as the next one.
    """
    count, bpm = 0, low.bpm
    while bpm < high.bpm:
        bpm = marks.next_up(bpm)
        count += 1
    return count


def season_changes(before: Plan, after: Plan) -> Iterator[SeasonChange]:
    """Put each ensemble's seasons of two plans side by side, cycle by cycle."""
    cycles = dict.fromkeys(cycle.id for plan in (before, after) for cycle in plan.cycles)
    for name in cycles:
        old, new = (_cycle(plan, name) for plan in (before, after))
        sides = [_by_id(cycle) for cycle in (old, new)]
        cycle = new or old
        assert cycle is not None, "one of the plans has it"
        for band in dict.fromkeys((*sides[0], *sides[1])):
            yield _season_change(cycle, sides[0].get(band), sides[1].get(band), before, after)


def left_by_stage(ensemble: EnsemblePlan | None, day: date) -> Counter[str]:
    """Count the rehearsals of each stage, by its id, from a day on."""
    rows = ensemble.rehearsals if ensemble else ()
    return Counter(row.stage.item.id for row in rows if row.rehearsal.day >= day)


def laws_broken(ensemble: EnsemblePlan) -> Laws:
    """Give what gave way, each as a value that is the same in another plan of that ensemble."""
    return frozenset(map(_subject, gave_way(ensemble)))


def _season_change(
    cycle: CyclePlan,
    before: EnsemblePlan | None,
    after: EnsemblePlan | None,
    old: Plan,
    new: Plan,
) -> SeasonChange:
    marks = marks_named(cycle.item.marks.kind, cycle.item.marks.step)
    sides = [_climbs(one, marks) for one in (before, after)]
    titles = {
        piece.item.id: piece.item.title.read(new.languages[0])
        for one in (before, after)
        if one
        for piece in one.pieces
    }
    dropped = {piece.item.id for piece in (after.pieces if after else ()) if piece.item.dropped}
    known = {one.sentence for one in gave_way(before)} if before else set()
    return SeasonChange(
        cycle.id,
        before,
        after,
        tuple(_stage_counts(before, after, old.languages[0])),
        tuple(
            PassageClimbs(
                key[0],
                titles[key[0]],
                key[1],
                sides[0].get(key),
                sides[1].get(key),
                key[0] in dropped,
            )
            for key in dict.fromkeys((*sides[1], *sides[0]))
        ),
        tuple(one for one in gave_way(after) if one.sentence not in known) if after else (),
    )


def _stage_counts(
    before: EnsemblePlan | None, after: EnsemblePlan | None, language: str
) -> Iterator[StageCounts]:
    sides = [{span.item.id: span for span in one.stages} if one else {} for one in (before, after)]
    for name, span in (sides[0] | sides[1]).items():
        counts = [side[name].count if name in side else 0 for side in sides]
        yield StageCounts(name, span.item.name.read(language), *counts)


def _climbs(ensemble: EnsemblePlan | None, marks: Marks) -> Mapping[PassageKey, Climb]:
    if ensemble is None:
        return {}
    return {
        (piece.item.id, passage.item.id): climb_of(ensemble, piece.item.id, passage, marks)
        for piece in ensemble.pieces
        for passage in piece.passages
    }


def _minutes_alone(ensemble: EnsemblePlan, piece: str, passage: str) -> int:
    return sum(
        block.minutes
        for row in ensemble.rehearsals
        for block in row.blocks
        if block.piece
        and block.passage
        and (block.piece.id, block.passage.id) == (piece, passage)
        and block.stretch is None
    )


def _rise(low: Tempo, high: Tempo) -> Fraction:
    """Give by how many percent a tempo is above another one; never below 0."""
    rise = high.quarters_per_minute / low.quarters_per_minute - 1
    return max(_NOTHING, rise * _ALL)


def _held(ensemble: EnsemblePlan) -> tuple[object, ...]:
    rows = tuple(
        (row.rehearsal.start, row.rehearsal.end, row.stage.item.id, row.blocks)
        for row in ensemble.rehearsals
    )
    weeks = tuple(
        (passage.item.id, passage.item.goal, passage.weeks)
        for piece in ensemble.pieces
        for passage in piece.passages
    )
    return rows, weeks


def _subject(one: GaveWay) -> tuple[object, ...]:
    measures = {row.measures for row in one.rows}
    return (
        one.law,
        one.piece.id if one.piece else "",
        one.passage.id if one.passage else "",
        str(sorted(map(str, measures))),
    )


def _cycle(plan: Plan, name: str) -> CyclePlan | None:
    return next((cycle for cycle in plan.cycles if cycle.id == name), None)


def _by_id(cycle: CyclePlan | None) -> Mapping[str, EnsemblePlan]:
    return {one.item.id: one for one in cycle.ensembles} if cycle else {}

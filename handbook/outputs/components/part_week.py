"""The list of a week on a part's page: passages with tempo and notes to watch, and fundamentals.

What all parts of an ensemble share stands in records of its own, made once and shown alike.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby

from handbook.domain.values.pitch import NoteName
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.weeks import TargetView, WeekView
from handbook.outputs.html.formatting import short_day
from handbook.plan.model import EnsemblePlan
from handbook.plan.parts_model import PartExercise, PartPiece
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class HomeTarget:
    """What to reach in a week, or in several weeks alike; `told` is the way there in words."""

    monday: date
    sunday: date
    target: Tempo
    told: str
    at_goal: bool

    @property
    def since(self) -> str:
        """The Monday from which it counts: `Mon, Nov 16`."""
        return short_day(self.monday)


@dataclass(frozen=True, slots=True)
class PassageTargets:
    """A passage week by week, the same for all who play it."""

    name: str
    measures: str
    goal: Tempo
    weeks: tuple[HomeTarget, ...]


TargetsByPassage = Mapping[tuple[str, str], PassageTargets]
"""Ids of a piece and its passage to what is reached in it."""


def targets_by_passage(weeks: Sequence[WeekView]) -> TargetsByPassage:
    """Turn an ensemble's weeks with their passages into its passages with their weeks."""
    found: dict[tuple[str, str], list[tuple[WeekView, TargetView]]] = {}
    for week in weeks:
        for target in week.targets:
            found.setdefault((target.piece_id, target.passage_id), []).append((week, target))
    return {
        key: PassageTargets(
            rows[0][1].passage,
            rows[0][1].measures,
            rows[0][1].goal,
            tuple(_joined(_target(week, target) for week, target in rows)),
        )
        for key, rows in found.items()
    }


def _target(week: WeekView, target: TargetView) -> HomeTarget:
    return HomeTarget(week.monday, week.sunday, target.target, target.told, target.at_goal)


def _joined(weeks: Iterable[HomeTarget]) -> Iterator[HomeTarget]:
    """Join weeks that follow one another with the same to reach."""
    for _, alike in groupby(weeks, key=lambda week: (week.target, week.told, week.at_goal)):
        first, *others = alike
        yield replace(first, sunday=(others or [first])[-1].sunday)


def watched_in(piece: PartPiece, passage: str | None) -> tuple[NoteName, ...]:
    """Give the notes to watch in a passage, or for None those of the whole piece, each once."""
    notes = (
        note.written.name
        for point in piece.points
        if point.passage == passage
        for note in point.notes
    )
    return tuple(dict.fromkeys(notes))


def exercise_weeks(
    ensemble: EnsemblePlan, exercises: Sequence[PartExercise], weeks: Sequence[WeekView]
) -> Mapping[str, tuple[date, ...]]:
    """Give the Mondays of the weeks in which each exercise is done, by its id.

    Of a strand's exercises in a week the last counts that the player has something to read in.
    """
    shown = {one.item.id for one in exercises if has_material(one)}
    days = {row.place: row.rehearsal.day for row in ensemble.rehearsals}
    mondays: dict[str, tuple[date, ...]] = {}
    for week in weeks:
        for strand in ensemble.strands:
            played = [
                exercise.id
                for place, exercise in strand.appearances
                if week.monday <= days[place] <= week.sunday and exercise.id in shown
            ]
            if played:
                mondays[played[-1]] = (*mondays.get(played[-1], ()), week.monday)
    return mondays


def has_material(exercise: PartExercise) -> bool:
    """Whether a player has something to read in an exercise."""
    return exercise.has_material

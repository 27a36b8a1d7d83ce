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
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan
from handbook.plan.parts_model import PartExercise, PartPiece
from handbook.records import dataclass

_STEPS_LISTED = 3


@dataclass(frozen=True, slots=True)
class HomeTarget:
    """What to reach in a week, or in several weeks alike; `steps` are the tempos on the way, written out."""

    monday: date
    sunday: date
    target: Tempo
    steps: str
    at_goal: bool


@dataclass(frozen=True, slots=True)
class PassageTargets:
    """A passage week by week, the same for all who play it."""

    name: str
    measures: str
    goal: Tempo
    weeks: tuple[HomeTarget, ...]


@dataclass(frozen=True, slots=True)
class PracticeRow:
    """A passage in the list; `notes` are those to watch in it, as the part has them."""

    id: str
    targets: PassageTargets
    notes: tuple[NoteName, ...]


@dataclass(frozen=True, slots=True)
class WeekExercises:
    """The fundamentals of one week that a player can do at home: pairs of anchor and name."""

    monday: date
    sunday: date
    exercises: tuple[tuple[str, str], ...]


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
    marks = [step.bpm_text for step in target.steps]
    listed = marks if len(marks) <= _STEPS_LISTED else [marks[0], "…", marks[-1]]
    steps = " ".join(listed) if len(marks) > 1 else ""
    return HomeTarget(week.monday, week.sunday, target.target, steps, target.at_goal)


def _joined(weeks: Iterable[HomeTarget]) -> Iterator[HomeTarget]:
    """Join weeks that follow one another with the same to reach."""
    for _, alike in groupby(weeks, key=lambda week: (week.target, week.steps, week.at_goal)):
        first, *others = alike
        yield replace(first, sunday=(others or [first])[-1].sunday)


def practice_rows(piece: PartPiece, targets: TargetsByPassage) -> tuple[PracticeRow, ...]:
    """List the passages of a piece that a player takes part in."""
    return tuple(
        PracticeRow(passage, found, watched_in(piece, passage))
        for passage in piece.passages
        if (found := targets.get((piece.item.id, passage)))
    )


def watched_in(piece: PartPiece, passage: str | None) -> tuple[NoteName, ...]:
    """Give the notes to watch in a passage, or for None those of the whole piece, each once."""
    notes = (
        note.written.name
        for point in piece.points
        if point.passage == passage
        for note in point.notes
    )
    return tuple(dict.fromkeys(notes))


def week_exercises(
    context: Context,
    ensemble: EnsemblePlan,
    exercises: Sequence[PartExercise],
    weeks: Sequence[WeekView],
) -> tuple[WeekExercises, ...]:
    """List the exercises of each week in which a player has something to read."""
    shown = {one.item.id for one in exercises if has_material(one)}
    days = {row.place: row.rehearsal.day for row in ensemble.rehearsals}

    def done(week: WeekView) -> Iterator[tuple[str, str]]:
        for strand in ensemble.strands:
            found = [
                exercise
                for place, exercise in strand.appearances
                if week.monday <= days[place] <= week.sunday and exercise.id in shown
            ]
            if found:
                yield found[-1].id, context.say(found[-1].name)

    listed = (WeekExercises(week.monday, week.sunday, tuple(done(week))) for week in weeks)
    return tuple(week for week in listed if week.exercises)


def has_material(exercise: PartExercise) -> bool:
    """Whether a player has something to read in an exercise."""
    return exercise.has_material

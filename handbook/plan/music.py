"""From the music's entries to durations, ladders and weekly practice targets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from handbook.domain.ladders import Band, LadderError, LadderFault, ladder, week_targets
from handbook.domain.marks import Marks
from handbook.domain.timing import FormPart, part_seconds, span_quarters
from handbook.plan.model import PartRow, PassageRow, PieceRow, StageSpan
from handbook.problems import Address, Problem
from handbook.schema.music import Part, Passage, Piece


@dataclass(frozen=True, slots=True)
class Climb:
    """What all ladders of one ensemble share: its rehearsals' dates, stages and marks."""

    days: Sequence[date]
    stages: Sequence[StageSpan]
    marks: Marks

    @property
    def counts(self) -> tuple[int, ...]:
        """Rehearsals of each stage."""
        return tuple(span.count for span in self.stages)

    @property
    def bands(self) -> tuple[Band, ...]:
        """The stages' tempo bands."""
        return tuple(span.item.tempo for span in self.stages)


def piece_row(piece: Piece, address: Address, climb: Climb) -> tuple[PieceRow, tuple[Problem, ...]]:
    """Reckon a piece; a passage whose ladder cannot be built is a problem and left out."""
    parts = tuple(PartRow(part, part_seconds(_form_part(part))) for part in piece.form)
    rows: list[PassageRow] = []
    problems: list[Problem] = []
    for place, passage in enumerate(piece.passages):
        found = _passage_row(passage, (*address, "passages", place), climb)
        if isinstance(found, Problem):
            problems.append(found)
        else:
            rows.append(found)
    seconds = sum(part.seconds for part in parts)
    return PieceRow(piece, address, seconds, parts, tuple(rows)), tuple(problems)


def _form_part(part: Part) -> FormPart:
    return FormPart(
        quarters=span_quarters(part.measures, part.meter),
        tempo=part.tempo,
        tempo_to=part.tempo_to,
        times=part.times,
        **({"held": part.fermata_seconds} if part.fermata_seconds is not None else {}),
        model=part.tempo_model,
    )


def _passage_row(passage: Passage, address: Address, climb: Climb) -> PassageRow | Problem:
    try:
        rungs = ladder(
            passage.goal,
            climb.counts,
            climb.bands,
            climb.marks,
            start=passage.start,
            lock_by=_lock_place(passage, climb),
        )
    except LadderError as error:
        if error.kind is LadderFault.GOAL_BELOW_START:
            return Problem(
                "goal-below-start",
                f"the start, {passage.start}, is faster than the goal, {passage.goal}",
                (*address, "start"),
                "start at or below the goal",
            )
        return Problem(
            "lock-before-first-rehearsal",
            f"no rehearsal is held by {passage.lock_by}",
            (*address, "lock_by"),
            "name a later date, or a stage of this cycle",
        )
    return PassageRow(passage, address, rungs, week_targets(climb.days, rungs, climb.marks))


def _lock_place(passage: Passage, climb: Climb) -> int | None:
    """Find the rehearsal by which a passage is at its goal: the last one by a date or of a stage.

    -1, which no ladder takes, if there is none.
    """
    if passage.lock_by is None:
        return None
    if isinstance(passage.lock_by, date):
        return sum(day <= passage.lock_by for day in climb.days) - 1
    return next((span.last for span in climb.stages if span.item.id == passage.lock_by), -1)

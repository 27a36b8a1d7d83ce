"""From the music's entries to durations, and passages that can be climbed to their goals."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from handbook.domain.timing import FormPart, part_seconds, span_quarters
from handbook.plan.model import PartRow, PassageRow, PieceRow
from handbook.problems import Address, Problem
from handbook.schema.music import Part, Passage, Piece


def piece_row(
    piece: Piece, address: Address, days: Sequence[date]
) -> tuple[PieceRow, tuple[Problem, ...]]:
    """Reckon a piece, its visits still empty; a passage that cannot climb is a problem and left out.

    `days` are the ensemble's rehearsals.
    """
    parts = tuple(PartRow(part, part_seconds(_form_part(part))) for part in piece.form)
    rows: list[PassageRow] = []
    problems: list[Problem] = []
    for place, passage in enumerate(piece.passages):
        where = (*address, "passages", place)
        found = _passage_problem(passage, where, days)
        if found:
            problems.append(found)
        else:
            rows.append(PassageRow(passage, where))
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


def _passage_problem(passage: Passage, address: Address, days: Sequence[date]) -> Problem | None:
    if passage.start and passage.start.quarters_per_minute > passage.goal.quarters_per_minute:
        return Problem(
            "goal-below-start",
            f"the start, {passage.start}, is faster than the goal, {passage.goal}",
            (*address, "start"),
            "start at or below the goal",
        )
    if isinstance(passage.lock_by, date) and passage.lock_by < days[0]:
        return Problem(
            "lock-before-first-rehearsal",
            f"no rehearsal is held by {passage.lock_by}",
            (*address, "lock_by"),
            "name a later date, or a stage of this cycle",
        )
    return None

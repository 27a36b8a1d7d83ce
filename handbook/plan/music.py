"""From the music's entries to durations, and passages that can be climbed to their goals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from handbook.domain.timing import FormPart, part_seconds, span_quarters
from handbook.plan.model import DatedGoal, PartRow, PassageRow, PieceRow
from handbook.plan.parts import is_played
from handbook.plan.players import Players
from handbook.problems import Address, Code, Problem
from handbook.schema.music import Part, Passage, Piece
from handbook.schema.program import Program

GOAL_BELOW_START = Code(
    "goal-below-start",
    "A passage starts faster than its goal.",
    "A ladder never descends. Marks of unlike notes are compared by how fast they go.",
    bad="start: quarter = 120\ngoal: quarter = 96",
    good="start: quarter = 60\ngoal: quarter = 96",
)
LOCK_BEFORE_FIRST_REHEARSAL = Code(
    "lock-before-first-rehearsal",
    "A passage is to reach its goal before the first rehearsal.",
    bad="starts: 2026-10-19\npassages:\n  - {id: opening, lock_by: 2026-10-19}   # the first rehearsal is on 2026-10-20",
    good="passages:\n  - {id: opening, lock_by: 2026-11-20}",
)


def piece_row(
    piece: Piece,
    address: Address,
    days: Sequence[date],
    program: Program,
    players: Players,
    concerts: Mapping[str, date],
) -> tuple[PieceRow, tuple[Problem, ...]]:
    """Reckon a piece, its visits still empty; a passage that cannot climb is a problem and left out.

    `days` are the rehearsals of the `players`; passages that are for none of them are the
    others', where several bands or groups rehearse the piece. `concerts` are the days of the
    cycle's concerts by their ids.
    """
    parts = tuple(_part_row(part, piece.times(part)) for part in piece.form)
    shared = len(piece.played_by) > 1 or players.group is not None
    rows: list[PassageRow] = []
    problems: list[Problem] = []
    for place, passage in enumerate(piece.passages):
        if shared and not is_played(program, players.item, passage.who):
            continue
        where = (*address, "passages", place)
        found = _passage_problem(passage, where, days)
        if found:
            problems.append(found)
        else:
            rows.append(PassageRow(passage, where, goals=_on_the_way(passage, concerts)))
    seconds = sum(part.seconds for part in parts)
    return PieceRow(piece, address, seconds, parts, tuple(rows)), tuple(problems)


def _on_the_way(passage: Passage, concerts: Mapping[str, date]) -> tuple[DatedGoal, ...]:
    """Give the goals by date of a passage, those by a concert with its day; a free one has none."""
    if passage.goal.free:
        return ()
    return tuple(
        DatedGoal(concerts.get(one.by, one.by) if isinstance(one.by, str) else one.by, one.tempo)
        for one in passage.goals
    )


def _part_row(part: Part, times: int) -> PartRow:
    return PartRow(part, part_seconds(_form_part(part, times)), times)


def _form_part(part: Part, times: int) -> FormPart:
    return FormPart(
        quarters=span_quarters(part.measures, part.meter),
        tempo=part.tempo,
        tempo_to=part.tempo_to,
        times=times,
        **({"held": part.fermata_seconds} if part.fermata_seconds is not None else {}),
        model=part.tempo_model,
    )


def _passage_problem(passage: Passage, address: Address, days: Sequence[date]) -> Problem | None:
    if passage.start and passage.start.quarters_per_minute > passage.goal.quarters_per_minute:
        return Problem(
            GOAL_BELOW_START,
            f"the start, {passage.start}, is faster than the goal, {passage.goal}",
            (*address, "start"),
            "start at or below the goal",
        )
    days_named: list[tuple[Address, object]] = [((*address, "lock_by"), passage.lock_by)]
    days_named += [
        ((*address, "goals", place, "by"), one.by) for place, one in enumerate(passage.goals)
    ]
    for where, by in days_named:
        if isinstance(by, date) and by < days[0]:
            return Problem(
                LOCK_BEFORE_FIRST_REHEARSAL,
                f"no rehearsal is held by {by}",
                where,
                "name a later date, or a stage of this cycle",
            )
    return None

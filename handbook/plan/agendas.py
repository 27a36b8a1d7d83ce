"""From stages, strands and ladders to each rehearsal's minutes and exercises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from handbook.domain.fundamentals import Exercise as DomainExercise
from handbook.domain.fundamentals import start_level, strand_progress, warm_up_level
from handbook.domain.meetings import Rehearsal
from handbook.domain.minutes import (
    Agenda,
    AgendaError,
    AgendaFault,
    BlockKind,
    FixedSlots,
    PassageShare,
    RehearsalNeed,
    StrandShare,
    agendas,
)
from handbook.plan.model import Fundamentals, PassageRow, PieceRow, StageSpan, StrandRow
from handbook.problems import Problem
from handbook.schema.cycle import Cycle
from handbook.schema.fundamentals import Exercise, Strand, WarmUp


@dataclass(frozen=True, slots=True)
class Start:
    """What an ensemble brings from earlier cycles: levels finished by strand, cycles played."""

    finished: Mapping[str, int] = field(default_factory=dict)
    cycles: int = 0


@dataclass(frozen=True, slots=True)
class CycleAgendas:
    """One ensemble's minutes in one cycle.

    `exercises` maps a rehearsal's place and a strand's id to what is done of it then.
    """

    agendas: tuple[Agenda, ...]
    strands: tuple[StrandRow, ...]
    strand_items: Mapping[str, Strand]
    exercises: Mapping[tuple[int, str], Exercise]
    warm_up: WarmUp | None
    reached: Start


def strands_in_order(strands: Sequence[Strand], order: Sequence[str]) -> tuple[Strand, ...]:
    """Put strands in the stated order; those it does not name follow as they were listed."""
    places = {name: place for place, name in enumerate(order)}
    return tuple(sorted(strands, key=lambda strand: places.get(strand.id, len(places))))


def passage_key(piece: PieceRow, passage: PassageRow) -> str:
    """Name a passage within its ensemble's cycle."""
    return f"{piece.item.id}/{passage.item.id}"


def cycle_agendas(
    cycle: Cycle,
    rehearsals: Sequence[Rehearsal],
    spans: Sequence[StageSpan],
    pieces: Sequence[PieceRow],
    fundamentals: Fundamentals,
    start: Start,
) -> CycleAgendas:
    """Share out the minutes of a cycle. Raises AgendaError for a day too short."""
    found = agendas(
        [_need(cycle, rehearsal, span) for rehearsal, span in _staged(rehearsals, spans)],
        [StrandShare(strand.id, strand.weight) for strand in fundamentals.strands],
        [_share(piece, passage) for piece in pieces for passage in piece.passages],
    )
    rows = tuple(_strand_row(strand, found, start) for strand in fundamentals.strands)
    return CycleAgendas(
        agendas=found,
        strands=rows,
        strand_items={strand.id: strand for strand in fundamentals.strands},
        exercises={
            (place, row.item.id): exercise for row in rows for place, exercise in row.appearances
        },
        warm_up=_warm_up(fundamentals.warm_ups, start.cycles),
        reached=_reached(rows, start),
    )


def agenda_problem(
    error: AgendaError, file: str, ensemble: str, rehearsals: Sequence[Rehearsal]
) -> Problem:
    """Say why a rehearsal's minutes cannot be laid out."""
    which = rehearsals[error.rehearsal]
    if error.kind is AgendaFault.TOO_SHORT:
        return Problem(
            "rehearsal-too-short",
            f"the rehearsal of `{ensemble}` on {which.day:%a %Y-%m-%d} lasts {which.minutes} minutes, "
            "too short for set-up and close",
            (file, "slots"),
            "make the slots smaller, or cancel that rehearsal",
        )
    return Problem(
        "nothing-to-rehearse",
        f"`{ensemble}` has rehearsals in this cycle, but neither a piece nor fundamentals to fill them",
        (file, "ensembles"),
        "give it a piece in this cycle's music.yaml, or write fundamentals.yaml",
    )


def _staged(
    rehearsals: Sequence[Rehearsal], spans: Sequence[StageSpan]
) -> list[tuple[Rehearsal, StageSpan]]:
    stages = [span for span in spans for _ in range(span.count)]
    return list(zip(rehearsals, stages, strict=True))


def _need(cycle: Cycle, rehearsal: Rehearsal, span: StageSpan) -> RehearsalNeed:
    slots, stage = cycle.slots, span.item
    return RehearsalNeed(
        length=rehearsal.minutes,
        slots=FixedSlots(slots.set_up, slots.warm_up, slots.notices, slots.close),
        fundamentals=stage.minutes.fundamentals,
        music=stage.minutes.music,
        longest_block=stage.longest_block,
    )


def _share(piece: PieceRow, passage: PassageRow) -> PassageShare:
    goal = passage.item.goal.bpm
    return PassageShare(
        passage_key(piece, passage),
        passage.item.priority,
        tuple(Fraction(1) - rung.tempo.bpm / goal for rung in passage.rungs),
    )


def _strand_row(strand: Strand, found: Sequence[Agenda], start: Start) -> StrandRow:
    places = [
        place
        for place, agenda in enumerate(found)
        if any(
            block.kind is BlockKind.FUNDAMENTALS and block.subject == strand.id
            for block in agenda.blocks
        )
    ]
    exercises = {exercise.id: exercise for exercise in strand.exercises}
    levels = [DomainExercise(one.id, one.level, one.rehearsals) for one in strand.exercises]
    before = start.finished.get(strand.id)
    first = start_level(before, levels)
    progress = strand_progress(levels, first, len(places), finished_before=before)
    appearances = tuple(zip(places, (exercises[one] for one in progress.exercises), strict=True))
    return StrandRow(
        item=strand,
        first_level=first,
        last_level=appearances[-1][1].level if appearances else first,
        finished_level=progress.finished,
        appearances=appearances,
    )


def _reached(rows: Sequence[StrandRow], start: Start) -> Start:
    finished = {row.item.id: row.finished_level for row in rows if row.finished_level is not None}
    return Start({**start.finished, **finished}, start.cycles + 1)


def _warm_up(warm_ups: Sequence[WarmUp], cycles: int) -> WarmUp | None:
    if not warm_ups:
        return None
    level = warm_up_level(cycles, [warm_up.level for warm_up in warm_ups])
    return next(warm_up for warm_up in warm_ups if warm_up.level == level)

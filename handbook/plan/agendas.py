"""From stages, strands and the season's music to each rehearsal's minutes and exercises."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction

from handbook.domain.blocks import in_turn
from handbook.domain.day_kinds import DayKind
from handbook.domain.fundamentals import LeveledExercise as DomainExercise
from handbook.domain.fundamentals import habit_turns, start_level, strand_progress, warm_up_level
from handbook.domain.meetings import Rehearsal
from handbook.domain.minutes import (
    Agenda,
    AgendaError,
    AgendaFault,
    BeforeMusic,
    Block,
    BlockKind,
    RehearsalNeed,
    agenda,
    before_music,
)
from handbook.domain.rotation import StrandShare
from handbook.domain.season import MusicBlock, MusicKind
from handbook.plan.model import FundamentalsPlan, MendRow, PieceRow, StageSpan, Start, StrandRow
from handbook.plan.players import Players
from handbook.plan.season import SeasonPlan, season_plan
from handbook.plan.season_mends import SeasonContent, mends_of
from handbook.plan.season_need import Past, is_dropped
from handbook.plan.steering import DayPlan, PassageKey, day_entries, day_plans
from handbook.problems import Code, Problem, Severity
from handbook.records import dataclass
from handbook.schema.cycle import Cycle
from handbook.schema.fundamentals import Exercise, Habit, Strand, WarmUp
from handbook.schema.program import Ensemble
from handbook.schema.year import Year

REHEARSAL_TOO_SHORT = Code(
    "rehearsal-too-short",
    "A rehearsal is too short for what every rehearsal has.",
    "Set-up and close keep their minutes even on a short day.",
    bad="slots: {set_up: 30, close: 30}   # a period lasts 45 minutes",
    good="slots: {set_up: 4, close: 3}",
)
NOTHING_LEFT_TO_REHEARSE = Code(
    "nothing-left-to-rehearse",
    "A rehearsal without a piece has minutes that no exercise may fill.",
    "An exercise with `most_minutes` never has more of them in one rehearsal.",
    bad="exercises:\n  - {id: slow-air, name: Slow air, level: 1, most_minutes: 3}   # the only strand, and no piece",
    good="exercises:\n  - {id: slow-air, name: Slow air, level: 1, most_minutes: 3}\n# and a piece in this cycle's music.yaml",
)
NOTHING_TO_REHEARSE = Code(
    "nothing-to-rehearse",
    "An ensemble has rehearsals, but neither a piece nor fundamentals.",
    bad="ensembles: [lantern, harbor]   # no piece is for harbor, and there is no fundamentals.yaml",
    good="ensembles: [lantern]",
)

# What fills the music time that no music of the full band fills.
_REST = {
    DayKind.ORDINARY: BlockKind.MUSIC,
    DayKind.DRESS: BlockKind.MUSIC,
    DayKind.SECTIONAL: BlockKind.SECTIONAL,
    DayKind.SIGHT_READING: BlockKind.SIGHT_READING,
    DayKind.ASSEMBLY: BlockKind.ASSEMBLY,
    DayKind.EVENT: BlockKind.EVENT,
}
# A dress rehearsal plays the program first, sections have their own: unless the day says otherwise.
_WITHOUT_FUNDAMENTALS = {DayKind.DRESS, DayKind.SECTIONAL}


@dataclass(frozen=True, slots=True)
class CycleAgendas:
    """One ensemble's minutes in one cycle; strands and exercises by their ids.

    `habits` has the habit of each rehearsal, or nothing where there are none.
    """

    agendas: tuple[Agenda, ...]
    strands: tuple[StrandRow, ...]
    strand_items: Mapping[str, Strand]
    exercises: Mapping[str, Exercise]
    warm_up: WarmUp | None
    habits: tuple[Habit, ...]
    days: tuple[DayPlan, ...]
    season: SeasonPlan
    mends: tuple[MendRow, ...] | None
    reached: Start


def start_of(players: Players, year_id: str, year: Year, reached: Start | None) -> Start:
    """Say where an ensemble's cycle begins: where its last one ended, or anew.

    It begins anew, at its `starts_at`, in its first cycle and in the first cycle of a
    year that names it under `new_players`.
    """
    if reached is None or (players.band.id in year.new_players and reached.year != year_id):
        return Start(cycles=(players.band.starts_at or 1) - 1, year=year_id)
    return replace(reached, year=year_id)


def strands_in_order(strands: Sequence[Strand], order: Sequence[str]) -> tuple[Strand, ...]:
    """Put strands in the stated order; those it does not name follow as they were listed."""
    places = {name: place for place, name in enumerate(order)}
    return tuple(sorted(strands, key=lambda strand: places.get(strand.id, len(places))))


def _programs(pieces: Sequence[PieceRow]) -> list[tuple[date, frozenset[str]]]:
    """Give what an ensemble plays at each of its concerts, if there are several."""
    days = sorted({day for piece in pieces for day in piece.played})
    if len(days) <= 1:
        return []
    return [
        (day, frozenset(piece.item.id for piece in pieces if day in piece.played)) for day in days
    ]


def cycle_agendas(
    cycle: Cycle,
    rehearsals: Sequence[Rehearsal],
    spans: Sequence[StageSpan],
    pieces: Sequence[PieceRow],
    fundamentals: FundamentalsPlan,
    players: Players,
    start: Start,
    *,
    gap: Fraction,
    past: Past | None,
    mended: bool,
) -> CycleAgendas:
    """Share out the minutes of a cycle, but for what is past. Raises AgendaError where that cannot be done.

    Mends are looked for only if `mended`, since that takes as long as many plans.
    """
    shares = [_strand_share(strand, players.band, start) for strand in fundamentals.strands]
    dropped = {
        piece.item.id: piece.over
        for piece in pieces
        if piece.over and past and is_dropped(piece, past)
    }
    items = [piece.item for piece in pieces]
    unchosen = cycle.draft and not pieces
    days = day_plans(cycle, players, rehearsals, items, dropped, _programs(pieces))
    befores = before_music(
        [
            _need(rehearsal, span, day)
            for (rehearsal, span), day in zip(_staged(rehearsals, spans), days, strict=True)
        ],
        shares,
        has_music=unchosen
        or any(piece.passages for piece in pieces)
        or any(_REST[day.kind] is not BlockKind.MUSIC for day in days),
    )
    minutes, dates = [before.music for before in befores], [one.day for one in rehearsals]
    season = season_plan(cycle, spans, pieces, days, minutes, dates, gap=gap, past=past)
    spare = [sum(block.minutes for block in before.fundamentals) for before in befores]
    content = SeasonContent(cycle, spans, pieces, days, minutes, dates, spare, gap, past)
    found = tuple(
        agenda(
            before,
            _unchosen(before, day) if unchosen else _music_blocks(blocks, day, season.passages),
            _REST[day.kind],
        )
        for before, blocks, day in zip(befores, season.season.blocks, days, strict=True)
    )
    rows = tuple(
        _strand_row(strand, share, found, start)
        for strand, share in zip(fundamentals.strands, shares, strict=True)
    )
    return CycleAgendas(
        agendas=found,
        strands=rows,
        strand_items={strand.id: strand for strand in fundamentals.strands},
        exercises={exercise.id: exercise for row in rows for exercise in row.item.exercises},
        warm_up=warm_up_of(fundamentals.warm_ups, start.cycles),
        habits=_habits(cycle, players, rehearsals, fundamentals.habits),
        days=days,
        season=season,
        mends=mends_of(content, season) if mended else None,
        reached=_reached(rows, start),
    )


def _unchosen(before: BeforeMusic, day: DayPlan) -> list[Block]:
    """Give the minutes of music of a draft in which no piece stands yet."""
    open_yet = before.music if _REST[day.kind] is BlockKind.MUSIC else 0
    return [Block(BlockKind.MUSIC, 0, open_yet)] if open_yet else []


def _music_blocks(
    blocks: Sequence[MusicBlock], day: DayPlan, keys: Sequence[PassageKey]
) -> list[Block]:
    """Put a rehearsal's music in order: ordered runs, passages, then what joins them, then runs.

    Passages that the director asks for come before others, in the order asked. Two blocks of
    one passage never follow each other, where others can part them.
    """
    first = [block for block in blocks if block.kind is MusicKind.RUN][: len(day.runs)]
    rest = [block for block in blocks if block not in first]
    asked = [wish.key for wish in day.passages]
    own = [block for block in rest if block.kind is MusicKind.PASSAGE]
    own.sort(key=lambda one: (*asked, keys[one.index]).index(keys[one.index]))
    passages = in_turn(own, lambda block: block.index)
    others = sorted(
        (block for block in rest if block.kind is not MusicKind.PASSAGE),
        key=lambda block: block.kind is MusicKind.RUN,
    )
    return [
        Block(BlockKind.MUSIC, 0, block.minutes, music=block)
        for block in (*first, *passages, *others)
    ]


def agenda_problem(
    error: AgendaError, file: str, ensemble: str, rehearsals: Sequence[Rehearsal]
) -> Problem:
    """Say why a rehearsal's minutes cannot be laid out."""
    which = rehearsals[error.rehearsal]
    if error.kind is AgendaFault.TOO_SHORT:
        return Problem(
            REHEARSAL_TOO_SHORT,
            f"the rehearsal of `{ensemble}` on {which.day:%a %Y-%m-%d} lasts {which.minutes} minutes, "
            "too short for set-up and close",
            (file, "slots"),
            "make the slots smaller, or cancel that rehearsal",
        )
    if error.kind is AgendaFault.EXERCISES_AT_MOST:
        return Problem(
            NOTHING_LEFT_TO_REHEARSE,
            f"{error.unfilled} minutes of the rehearsal of `{ensemble}` on "
            f"{which.day:%a %Y-%m-%d} stay empty: it has no piece, and every exercise "
            "is at its `most_minutes`",
            (file, "ensembles"),
            "give it a piece in this cycle's music.yaml, or a strand without `most_minutes`",
        )
    return _nothing_to_rehearse(file, ensemble)


def nothing_chosen(file: str, ensemble: str) -> Problem:
    """Say of a draft what it needs before it can be published."""
    return replace(_nothing_to_rehearse(file, ensemble), severity=Severity.WARNING)


def _nothing_to_rehearse(file: str, ensemble: str) -> Problem:
    return Problem(
        NOTHING_TO_REHEARSE,
        f"`{ensemble}` has rehearsals in this cycle, but neither a piece nor fundamentals to fill them",
        (file, "ensembles"),
        "give it a piece in this cycle's music.yaml, or write fundamentals.yaml",
    )


def _staged(
    rehearsals: Sequence[Rehearsal], spans: Sequence[StageSpan]
) -> list[tuple[Rehearsal, StageSpan]]:
    stages = [span for span in spans for _ in range(span.count)]
    return list(zip(rehearsals, stages, strict=True))


def _need(rehearsal: Rehearsal, span: StageSpan, day: DayPlan) -> RehearsalNeed:
    stage, stated = span.item, day.fundamentals
    if stated is None and day.kind in _WITHOUT_FUNDAMENTALS:
        stated = 0
    return RehearsalNeed(
        length=rehearsal.minutes,
        slots=day.slots,
        fundamentals=stage.minutes.fundamentals,
        music=stage.minutes.music,
        longest_block=max(stage.longest_block, stage.shortest_block),
        shortest_block=stage.shortest_block,
        exactly=stated,
    )


def _strand_share(strand: Strand, ensemble: Ensemble, start: Start) -> StrandShare:
    """Say from which level on a strand goes: after the one finished, else where the ensemble starts."""
    exercises = tuple(
        DomainExercise(one.id, one.level, one.rehearsals, one.minutes, one.most_minutes)
        for one in strand.exercises
    )
    before = start.finished.get(strand.id)
    if before is None:
        stated = ensemble.strands_start_at.get(strand.id, ensemble.starts_at or 1)
        before = stated - 1
    return StrandShare(strand.id, strand.weight, exercises, start_level(before, exercises))


def level_to_begin(strand: Strand, ensemble: Ensemble, start: Start) -> int:
    """Give the level at which an ensemble with this behind it begins a strand in its next cycle."""
    return _strand_share(strand, ensemble, start).start


def _strand_row(
    strand: Strand, share: StrandShare, found: Sequence[Agenda], start: Start
) -> StrandRow:
    exercises = {exercise.id: exercise for exercise in strand.exercises}
    appearances = tuple(
        (place, exercises[block.exercise])
        for place, agenda in enumerate(found)
        for block in agenda.blocks
        if block.subject == strand.id and block.exercise is not None
    )
    progress = strand_progress(
        share.exercises,
        share.start,
        len(appearances),
        finished_before=start.finished.get(strand.id),
    )
    return StrandRow(
        item=strand,
        first_level=share.start,
        last_level=progress.last_level,
        finished_level=progress.finished,
        appearances=appearances,
    )


def _habits(
    cycle: Cycle, players: Players, rehearsals: Sequence[Rehearsal], habits: Sequence[Habit]
) -> tuple[Habit, ...]:
    """Give each rehearsal its habit: the one that an entry about it states, or the next in turn."""
    places = {habit.id: place for place, habit in enumerate(habits)}
    stated = {
        place: next(places[entry.item.habit] for entry in entries if entry.item.habit)
        for place, entries in enumerate(day_entries(cycle, players, rehearsals))
        if any(entry.item.habit for entry in entries)
    }
    turns = habit_turns([habit.weight for habit in habits], len(rehearsals), stated)
    return tuple(habits[habit] for habit in turns)


def _reached(rows: Sequence[StrandRow], start: Start) -> Start:
    finished = {row.item.id: row.finished_level for row in rows if row.finished_level is not None}
    return Start({**start.finished, **finished}, start.cycles + 1, start.year)


def warm_up_of(warm_ups: Sequence[WarmUp], cycles: int) -> WarmUp | None:
    """Give the warm-up of an ensemble that has so many cycles behind it, None where there is none."""
    if not warm_ups:
        return None
    level = warm_up_level(cycles, [warm_up.level for warm_up in warm_ups])
    return next(warm_up for warm_up in warm_ups if warm_up.level == level)

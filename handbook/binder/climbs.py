"""Climbs and pace of a cycle: tempos planned beside those reached, and how often each rehearsal changes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from math import floor

from handbook.binder.model import Binder, BinderFile
from handbook.domain.reached import in_beat_of
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.blocks import block_views
from handbook.outputs.components.charts import LadderChart, ladder_chart
from handbook.outputs.components.stages import StageView, stage_view
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.plan.logs import minutes_over
from handbook.plan.model import EnsemblePlan, PassageRow, PieceRow, ReachedRow, RehearsalRow
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class ReachedLine:
    """What one rehearsal reached; None for a passage that was not played, or not planned."""

    day: date
    date: str
    planned: Tempo | None
    reached: Tempo | None
    percent: str


@dataclass(frozen=True, slots=True)
class ClimbRow:
    """A passage: from its first tempo to its last, how often it is played, and all that is logged of it."""

    id: str
    name: str
    measures: str
    visits: int
    first: Tempo
    last: Tempo
    goal: Tempo
    settled: str
    logged: tuple[ReachedLine, ...]
    chart: LadderChart | None


@dataclass(frozen=True, slots=True)
class PieceClimbs:
    """A piece with its passages."""

    title: str
    rows: tuple[ClimbRow, ...]


@dataclass(frozen=True, slots=True)
class PaceRow:
    """The pace of one rehearsal; `an_hour` is rounded to the nearest whole, a half up."""

    day: date
    date: str
    n: int
    stage: StageView
    minutes: int
    changes: int
    an_hour: int
    longest: int
    longest_title: str
    over: int


@dataclass(frozen=True, slots=True)
class EnsembleClimbs:
    """An ensemble on the page; `steady` is its changes an hour over all rehearsals, rounded as a row's."""

    id: str
    name: str
    logged: int
    pieces: tuple[PieceClimbs, ...]
    pace: tuple[PaceRow, ...]
    steady: int
    longest: int


@dataclass(frozen=True, slots=True)
class ClimbsPage:
    """The page of a cycle."""

    cycle: str
    ensembles: tuple[EnsembleClimbs, ...]


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a page for each cycle that has rehearsals."""
    for cycle in binder.cycles:
        found = tuple(_ensemble(binder.context, one) for one in cycle.ensembles if one.rehearsals)
        if found:
            yield binder.page(
                "climbs",
                ClimbsPage(binder.context.say(cycle.item.name), found),
                f"{cycle.id}/climbs.html",
                title=gettext("Climbs and pace"),
                about=gettext(
                    "Tempos planned beside those reached, and how often each rehearsal changes."
                ),
                cycle=cycle.id,
            )


def _ensemble(context: Context, ensemble: EnsemblePlan) -> EnsembleClimbs:
    stages = [stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages]
    agendas = [row.agenda for row in ensemble.rehearsals]
    minutes = sum(row.rehearsal.minutes for row in ensemble.rehearsals)
    changes = sum(agenda.changes for agenda in agendas)
    return EnsembleClimbs(
        id=ensemble.item.id,
        name=context.say(ensemble.item.name),
        logged=sum(bool(row.logs) for row in ensemble.rehearsals),
        pieces=tuple(
            PieceClimbs(
                context.say(piece.item.title),
                tuple(_climb(context, ensemble, stages, piece, one) for one in piece.passages),
            )
            for piece in ensemble.pieces
            if piece.passages
        ),
        pace=tuple(_pace(context, ensemble, row, stages) for row in ensemble.rehearsals),
        steady=nearest_whole(Fraction(60 * changes, minutes)),
        longest=max(agenda.longest for agenda in agendas),
    )


def _climb(
    context: Context,
    ensemble: EnsemblePlan,
    stages: list[StageView],
    piece: PieceRow,
    passage: PassageRow,
) -> ClimbRow:
    item, span = passage.item, passage.item.measures
    reached = [
        (one.at.place, in_beat_of(item.goal, one.at.tempo))
        for one in passage.reached
        if one.at.tempo
    ]
    settled = passage.at_goal[0].place if passage.at_goal else None
    return ClimbRow(
        id=f"{ensemble.item.id}-{piece.item.id}-{item.id}",
        name=context.say(item.name),
        measures=measures(span.first, span.last),
        visits=len(passage.visits),
        first=passage.first_tempo,
        last=passage.visits[-1].rung.tempo if passage.visits else item.goal,
        goal=item.goal,
        settled=formatting.short_day(ensemble.rehearsals[settled].rehearsal.day)
        if settled is not None
        else "",
        logged=tuple(_reached(ensemble, passage, one) for one in passage.reached),
        chart=ladder_chart(ensemble, passage, stages, reached) if reached else None,
    )


def _reached(ensemble: EnsemblePlan, passage: PassageRow, row: ReachedRow) -> ReachedLine:
    place, goal = row.at.place, passage.item.goal
    day = ensemble.rehearsals[place].rehearsal.day
    planned = next((one.rung.tempo for one in passage.visits if one.place == place), None)
    reached = in_beat_of(goal, row.at.tempo) if row.at.tempo else None
    percent = formatting.percent(100 * Fraction(reached.bpm) / goal.bpm) if reached else ""
    return ReachedLine(day, formatting.short_day(day), planned, reached, percent)


def _pace(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow, stages: list[StageView]
) -> PaceRow:
    agenda = row.agenda
    blocks = block_views(context, ensemble, row)
    longest = max(blocks, key=lambda block: block.minutes, default=None)
    return PaceRow(
        day=row.rehearsal.day,
        date=formatting.short_day(row.rehearsal.day),
        n=row.rehearsal.n,
        stage=stages[row.stage.index],
        minutes=row.rehearsal.minutes,
        changes=agenda.changes,
        an_hour=nearest_whole(agenda.changes_an_hour),
        longest=agenda.longest,
        longest_title=longest.title if longest else "",
        over=minutes_over(row),
    )


def nearest_whole(value: Fraction) -> int:
    """Round to the nearest whole number, a half up."""
    return floor(value + Fraction(1, 2))

"""An ensemble in a cycle: stage goals, every rehearsal with its minutes, pieces, fundamentals."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from handbook.domain.tables.cautions import REHEARSAL_PAGE
from handbook.outputs import addresses
from handbook.outputs.components.blocks import BlockView, block_views
from handbook.outputs.components.cautions import CautionGroup, caution_groups
from handbook.outputs.components.charts import StripPair, cycle_strips
from handbook.outputs.components.concert_line import ConcertLine, concert_line
from handbook.outputs.components.part_links import PartLink, part_links
from handbook.outputs.components.season import SeasonView, season_view
from handbook.outputs.components.sections import SectionView, section_views
from handbook.outputs.components.stages import StageView, stage_view
from handbook.outputs.components.weeks import DayView, WeekView, day_views, week_views
from handbook.outputs.html import formatting
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan, EnsemblePlan, PieceRow, RehearsalRow, StrandRow
from handbook.schema.program import Ensemble


@dataclass(frozen=True, slots=True)
class RehearsalView:
    """One rehearsal with its agenda; `old_anchor` is the one by number that links once had."""

    line: DayView
    minutes: int
    stage: StageView
    thanks: str
    notices: tuple[str, ...]
    habit: Link | None
    blocks: tuple[BlockView, ...]
    sections: tuple[SectionView, ...]
    changes: int
    longest: int
    altered: str
    old_anchor: str


@dataclass(frozen=True, slots=True)
class MonthView:
    """The rehearsals of one month."""

    name: str
    rehearsals: tuple[RehearsalView, ...]


@dataclass(frozen=True, slots=True)
class EnsemblePieceLine:
    """A piece in a line; `partner` is the band it is played with and belongs to.

    `dropped` is the day from which it is no longer rehearsed, empty if it is.
    """

    title: str
    path: str
    by: str
    duration: str
    key: str
    passages: int
    dropped: str
    partner: str = ""


@dataclass(frozen=True, slots=True)
class StrandLine:
    """A strand in this cycle: from which exercise to which."""

    name: str
    path: str
    first: str
    last: str
    levels: str
    times: int


@dataclass(frozen=True, slots=True)
class EnsembleView:
    """The page of an ensemble in a cycle."""

    id: str
    name: str
    about: str
    level: str
    cycle: str
    cycle_path: str
    room: str
    directions: str
    count: int
    weeks: tuple[WeekView, ...]
    parts: tuple[PartLink, ...]
    stages: tuple[StageView, ...]
    strip: StripPair
    pieces: tuple[EnsemblePieceLine, ...]
    season: SeasonView | None
    months: tuple[MonthView, ...]
    missed: tuple[tuple[str, str], ...]
    strands: tuple[StrandLine, ...]
    warm_up: str
    warm_up_steps: tuple[str, ...]
    hearing: tuple[CautionGroup, ...]
    concert: ConcertLine | None


def pages(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[Page]:
    """Make the page of an ensemble in a cycle."""
    yield _page(context, cycle, ensemble)


def _page(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Page:
    view = _view(context, cycle, ensemble)
    return Page(
        path=addresses.ensemble(cycle.id, ensemble.item.id),
        kind="ensemble",
        title=view.name,
        description=f"{view.name}, {view.cycle}: {view.count} rehearsals, what each is for, and this week's tempos.",
        section=f"ensemble-{ensemble.item.id}",
        view=view,
        crumbs=(Link(view.cycle, view.cycle_path),),
        search=(
            SearchEntry(
                f"{view.name}, {view.cycle}",
                f"{view.about} {view.level} {view.room}",
                keywords="rehearsals schedule",
            ),
            *([_season_entry(view)] if view.season else []),
            *_rehearsal_entries(view, ensemble),
        ),
    )


def _season_entry(view: EnsembleView) -> SearchEntry:
    return SearchEntry(
        f"{view.name}: the season, passage by passage",
        " ".join(view.season.facts if view.season else ()),
        anchor="season",
        keywords="season plan visits coverage run-through runs joins climb",
    )


def _rehearsal_entries(view: EnsembleView, ensemble: EnsemblePlan) -> Iterator[SearchEntry]:
    shown = (row for month in view.months for row in month.rehearsals)
    for row, held in zip(shown, ensemble.rehearsals, strict=True):
        line = row.line
        yield SearchEntry(
            f"{view.name} rehearsal, {line.date}",
            f"{line.time} {line.purpose} {line.what} {row.altered} {' '.join(row.notices)}",
            anchor=line.anchor,
            keywords=f"rehearsal {line.n}",
            day=line.day,
            times=(held.rehearsal.start.time(), held.rehearsal.end.time()),
        )


def _view(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> EnsembleView:
    stages = tuple(stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages)
    name, path = context.say(ensemble.item.name), addresses.ensemble(cycle.id, ensemble.item.id)
    return EnsembleView(
        id=ensemble.item.id,
        name=name,
        about=context.say(ensemble.item.about),
        level=context.say(ensemble.item.level),
        cycle=context.say(cycle.item.name),
        cycle_path=addresses.cycle(cycle.id),
        room=context.say(ensemble.room.name) if ensemble.room else "",
        directions=context.say(ensemble.room.directions) if ensemble.room else "",
        count=len(ensemble.rehearsals),
        weeks=week_views(context, cycle, ensemble),
        parts=part_links(cycle, ensemble),
        stages=stages,
        strip=cycle_strips(
            [(name, path, ensemble, stages)],
            cycle.first,
            cycle.last,
            cycle.concert.item.date if cycle.concert else None,
        ),
        pieces=tuple(_pieces(context, cycle, ensemble)),
        season=season_view(context, cycle, ensemble, stages),
        months=tuple(_months(context, cycle, ensemble, stages)),
        missed=tuple((formatting.short_day(missed.day), missed.why) for missed in ensemble.missed),
        strands=tuple(
            _strand(context, strand) for strand in ensemble.strands if strand.appearances
        ),
        warm_up=context.say(ensemble.warm_up.name) if ensemble.warm_up else "",
        warm_up_steps=tuple(context.say(step) for step in ensemble.warm_up.steps)
        if ensemble.warm_up
        else (),
        hearing=caution_groups(REHEARSAL_PAGE),
        concert=concert_line(context, cycle),
    )


def _pieces(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Iterator[EnsemblePieceLine]:
    """List a band's pieces, then those that it joins another band in."""
    yield from (_piece(context, cycle, ensemble.item, piece) for piece in ensemble.pieces)
    for joined in ensemble.joined:
        line = _piece(context, cycle, joined.host, joined.piece)
        yield replace(line, partner=context.say(joined.host.name))


def _piece(
    context: Context, cycle: CyclePlan, ensemble: Ensemble, piece: PieceRow
) -> EnsemblePieceLine:
    return EnsemblePieceLine(
        title=context.say(piece.item.title),
        path=addresses.piece(cycle.id, ensemble.id, piece.item.id),
        by=context.say(piece.item.by),
        duration=formatting.duration(piece.seconds),
        key=str(piece.item.key) if piece.item.key else "",
        passages=len(piece.passages),
        dropped=formatting.short_day(piece.item.dropped) if piece.item.dropped else "",
    )


def _months(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, stages: tuple[StageView, ...]
) -> Iterator[MonthView]:
    by_month: dict[str, list[RehearsalView]] = {}
    lines = day_views(context, cycle, ensemble)
    for row, line in zip(ensemble.rehearsals, lines, strict=True):
        by_month.setdefault(formatting.month(row.rehearsal.day), []).append(
            _rehearsal(context, cycle, ensemble, row, stages, line)
        )
    for name, rows in by_month.items():
        yield MonthView(name, tuple(rows))


def _rehearsal(
    context: Context,
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    row: RehearsalRow,
    stages: tuple[StageView, ...],
    line: DayView,
) -> RehearsalView:
    return RehearsalView(
        line=line,
        minutes=row.rehearsal.minutes,
        stage=stages[row.stage.index],
        thanks=context.say(row.thanks),
        notices=tuple(context.say(notice) for notice in row.notices),
        habit=Link(context.say(row.habit.name), addresses.habit(row.habit.id))
        if row.habit
        else None,
        blocks=block_views(context, ensemble, row),
        sections=section_views(context, cycle, ensemble, row),
        changes=row.agenda.changes,
        longest=row.agenda.longest,
        altered=row.rehearsal.name if row.rehearsal.kind == "altered" else "",
        old_anchor=f"r{row.rehearsal.n}",
    )


def _strand(context: Context, strand: StrandRow) -> StrandLine:
    names = [context.say(exercise.name) for _, exercise in strand.appearances]
    levels = (
        f"level {strand.first_level}"
        if strand.first_level == strand.last_level
        else f"levels {strand.first_level}–{strand.last_level}"
    )
    return StrandLine(
        name=context.say(strand.item.name),
        path=addresses.strand(strand.item.id),
        first=names[0],
        last=names[-1],
        levels=levels,
        times=len(names),
    )

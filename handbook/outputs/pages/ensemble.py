"""An ensemble in a cycle: stage goals, every rehearsal with its minutes, pieces, fundamentals."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from handbook.domain.tables.cautions import REHEARSAL_PAGE
from handbook.outputs import addresses
from handbook.outputs.components.cautions import CautionGroup, caution_groups
from handbook.outputs.components.charts import StripPair, cycle_strips
from handbook.outputs.components.concert_line import ConcertLine, concert_lines, played_at
from handbook.outputs.components.event_words import EventLine, capital, event_lines
from handbook.outputs.components.leaders import led_by
from handbook.outputs.components.levels import levels_in_words
from handbook.outputs.components.part_links import PartLink, part_links
from handbook.outputs.components.rehearsal_names import why_lost
from handbook.outputs.components.rehearsal_view import RehearsalView, rehearsal_views
from handbook.outputs.components.season import SeasonView, season_view
from handbook.outputs.components.stages import StageView, stage_view
from handbook.outputs.components.to_print import MonthToPrint, family_sheet, months_of
from handbook.outputs.components.warm_up_view import WarmUpView, band_warm_up, warm_up_sprite
from handbook.outputs.components.weeks import WeekView, week_views
from handbook.outputs.engraving.flat_svg import Glyph
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import with_clauses, with_semicolons
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.model import CyclePlan, EnsemblePlan, PieceRow, StrandRow
from handbook.records import dataclass
from handbook.schema.program import Ensemble


@dataclass(frozen=True, slots=True)
class MonthView:
    """The rehearsals of one month."""

    name: str
    rehearsals: tuple[RehearsalView, ...]

    @property
    def last(self) -> date:
        """The day of the last of them."""
        return self.rehearsals[-1].line.day


@dataclass(frozen=True, slots=True)
class EnsemblePieceLine:
    """A piece in a line; `partner` is the band it is played with and belongs to.

    `at` are the concerts it is for, where the cycle has several.
    """

    piece: PieceRow
    path: str
    partner: str = ""
    at: str = ""


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
    """The page of an ensemble in a cycle.

    `sheets` are what its families print of each of the `concerts`, empty where there is none,
    and `wall_months` those of the calendar.
    """

    ensemble: EnsemblePlan
    name: str
    cycle: str
    weeks: tuple[WeekView, ...]
    parts: tuple[PartLink, ...]
    stages: tuple[StageView, ...]
    strip: StripPair
    pieces: tuple[EnsemblePieceLine, ...]
    season: SeasonView | None
    months: tuple[MonthView, ...]
    missed: tuple[tuple[str, str], ...]
    led_by: str
    strands: tuple[StrandLine, ...]
    warm_up: WarmUpView | None
    glyphs: tuple[Glyph, ...]
    hearing: tuple[CautionGroup, ...]
    concerts: tuple[ConcertLine, ...]
    sheets: tuple[str, ...]
    wall_months: tuple[MonthToPrint, ...]
    events: tuple[EventLine, ...]

    @property
    def rehearsals(self) -> tuple[RehearsalView, ...]:
        """Every rehearsal, in order."""
        return tuple(one for month in self.months for one in month.rehearsals)


def pages(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[Page]:
    """Make the page of an ensemble in a cycle."""
    yield _page(context, cycle, ensemble)


def _page(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Page:
    view = _view(context, cycle, ensemble)
    item, room = ensemble.item, ensemble.room
    return Page(
        path=addresses.ensemble(cycle.id, ensemble.item.id),
        kind="ensemble",
        title=view.name,
        description=ngettext(
            "%(band)s, %(cycle)s: %(num)s rehearsal, what each is for, and this week's tempos.",
            "%(band)s, %(cycle)s: %(num)s rehearsals, what each is for, and this week's tempos.",
            len(ensemble.rehearsals),
            band=view.name,
            cycle=view.cycle,
        ),
        section=f"ensemble-{ensemble.item.id}",
        view=view,
        crumbs=(Link(view.cycle, addresses.cycle(cycle.id)),),
        search=(
            SearchEntry(
                gettext("%(band)s, %(cycle)s", band=view.name, cycle=view.cycle),
                apart(
                    *map(context.say, (item.about, item.level, room.name if room else None)),
                    view.led_by,
                ),
                keywords="rehearsals schedule",
            ),
            *([_season_entry(view)] if view.season else []),
            *_rehearsal_entries(context, view),
        ),
    )


def _season_entry(view: EnsembleView) -> SearchEntry:
    return SearchEntry(
        gettext("%(band)s: the season, passage by passage", band=view.name),
        apart(*(view.season.facts if view.season else ())),
        anchor="season",
        keywords="season plan visits coverage run-through runs joins climb",
    )


def _rehearsal_entries(context: Context, view: EnsembleView) -> Iterator[SearchEntry]:
    for shown in view.rehearsals:
        line, row, held = shown.line, shown.row, shown.row.rehearsal
        notices = map(context.say, row.notices)
        yield SearchEntry(
            gettext("%(band)s rehearsal, %(day)s", band=view.name, day=line.date),
            apart(
                line.time,
                line.what,
                line.purpose,
                *line.rooms,
                shown.altered,
                *shown.missing,
                *notices,
            ),
            anchor=line.anchor,
            keywords=f"rehearsal {line.n}",
            day=line.day,
            times=(held.start.time(), held.end.time()),
            answer=gettext(
                "%(band)s, %(day)s: %(facts)s",
                band=view.name,
                day=line.date,
                facts=with_clauses(filter(None, (line.what, line.time, line.room, *line.rooms))),
            ),
        )


def _view(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> EnsembleView:
    stages = tuple(stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages)
    concerts = cycle.concerts_of(ensemble.band)
    name, path = context.say(ensemble.item.name), addresses.ensemble(cycle.id, ensemble.item.id)
    warm_up = band_warm_up(context, ensemble)
    return EnsembleView(
        ensemble=ensemble,
        name=name,
        cycle=context.say(cycle.item.name),
        weeks=week_views(context, cycle, ensemble),
        parts=part_links(cycle, ensemble),
        stages=stages,
        strip=cycle_strips(
            [(name, path, ensemble, stages)],
            cycle.first,
            cycle.last,
            [one.item.date for one in concerts],
        ),
        pieces=tuple(_pieces(context, cycle, ensemble)),
        season=season_view(context, cycle, ensemble, stages),
        months=tuple(_months(context, cycle, ensemble, stages)),
        missed=tuple(_missed(context, ensemble)),
        led_by=capital(led_by(context, context.plan.program.leaders(ensemble.item.led_by))),
        strands=tuple(
            _strand(context, strand) for strand in ensemble.strands if strand.appearances
        ),
        warm_up=warm_up,
        glyphs=warm_up_sprite([warm_up] if warm_up else []),
        hearing=caution_groups(REHEARSAL_PAGE),
        concerts=concert_lines(context, cycle, concerts, ensemble.band),
        sheets=tuple(family_sheet(context, cycle.id, one, ensemble.band) for one in concerts),
        wall_months=months_of(context, replace(cycle, ensembles=(ensemble,))),
        events=event_lines(
            context, (one for one in cycle.events if one.is_for(ensemble.band)), own=True
        ),
    )


def _missed(context: Context, ensemble: EnsemblePlan) -> Iterator[tuple[str, str]]:
    """Give the days without a rehearsal that have one reason in a line, in order of the first."""
    by_reason: dict[str, list[str]] = {}
    for missed in ensemble.missed:
        by_reason.setdefault(why_lost(context, missed), []).append(formatting.short_day(missed.day))
    for why, days in by_reason.items():
        yield with_semicolons(days), why


def _pieces(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Iterator[EnsemblePieceLine]:
    """List a band's pieces, then those that it joins another band in."""
    for piece in ensemble.pieces:
        yield EnsemblePieceLine(
            piece, _path(cycle, ensemble.item, piece), at=_at(context, cycle, ensemble, piece)
        )
    for joined in ensemble.joined:
        host, piece = joined.host, joined.piece
        at = _at(context, cycle, ensemble, piece)
        yield EnsemblePieceLine(piece, _path(cycle, host, piece), context.say(host.name), at)


def _at(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, piece: PieceRow) -> str:
    found = played_at(context, cycle, ensemble.band, piece.item.id)
    return formatting.listed(
        [gettext("%(concert)s, %(day)s", concert=one.name, day=one.date) for one in found]
    )


def _path(cycle: CyclePlan, ensemble: Ensemble, piece: PieceRow) -> str:
    return addresses.piece(cycle.id, ensemble.id, piece.item.id)


def _months(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, stages: tuple[StageView, ...]
) -> Iterator[MonthView]:
    by_month: dict[str, list[RehearsalView]] = {}
    for shown in rehearsal_views(context, cycle, ensemble, stages):
        by_month.setdefault(formatting.month_heading(shown.line.day), []).append(shown)
    for name, rows in by_month.items():
        yield MonthView(name, tuple(rows))


def _strand(context: Context, strand: StrandRow) -> StrandLine:
    names = [context.say(exercise.name) for _, exercise in strand.appearances]
    return StrandLine(
        name=context.say(strand.item.name),
        path=addresses.strand(strand.item.id),
        first=names[0],
        last=names[-1],
        levels=levels_in_words(strand.first_level, strand.last_level),
        times=len(names),
    )

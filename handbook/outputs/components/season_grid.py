"""A season as a grid: a row for each passage, a column for each rehearsal, stages as bands.

All lengths are SVG user units; the origin is the top left corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.outputs.components.charts import WIDTH, StageBand, stage_bands
from handbook.outputs.components.stages import StageView
from handbook.outputs.components.visit_marks import visit_mark
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.note_values import bpm_words
from handbook.outputs.page import Context
from handbook.plan.model import EnsemblePlan, PassageRow, PieceRow
from handbook.records import dataclass

_BROAD = 1060
_TOP, _FOOT, _EDGE = 22, 34, 4
_EACH = 5  # rehearsals from one number to the next


@dataclass(frozen=True, slots=True)
class GridRow:
    """A passage: path data of all its visits by kind, and of the line at its goal."""

    name: str
    tempos: str
    text_y: float
    line_y: float
    alone: str
    joined: str
    run: str
    goal: str


@dataclass(frozen=True, slots=True)
class GridPiece:
    """A piece's rows under its title."""

    title: str
    y: float
    rows: tuple[GridRow, ...]


@dataclass(frozen=True, slots=True)
class Tick:
    """A word or number under a column."""

    x: float
    text: str


@dataclass(frozen=True, slots=True)
class SeasonGrid:
    """The grid; names stand over the rows, or beside them where there is room."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    bands: tuple[StageBand, ...]
    pieces: tuple[GridPiece, ...]
    numbers: tuple[Tick, ...]
    months: tuple[Tick, ...]
    beside: bool


@dataclass(frozen=True, slots=True)
class GridPair:
    """The same grid drawn for a phone and for a wide page, so that its text stays readable."""

    narrow: SeasonGrid
    broad: SeasonGrid


@dataclass(frozen=True, slots=True)
class _Layout:
    width: float
    left: float
    row: float
    middle: float  # of a row: where its marks are
    title: float
    beside: bool


_NARROW = _Layout(WIDTH, _EDGE, 38, 25, 22, beside=False)
_WIDE = _Layout(_BROAD, 330, 24, 13, 26, beside=True)


def season_grids(context: Context, ensemble: EnsemblePlan, stages: Sequence[StageView]) -> GridPair:
    """Draw an ensemble's season in both widths."""
    return GridPair(
        _grid(context, ensemble, stages, _NARROW), _grid(context, ensemble, stages, _WIDE)
    )


def _grid(
    context: Context, ensemble: EnsemblePlan, stages: Sequence[StageView], layout: _Layout
) -> SeasonGrid:
    step = (layout.width - layout.left - _EDGE) / len(ensemble.rehearsals)
    pieces, y = [], float(_TOP)
    for piece in ensemble.pieces:
        if piece.passages:
            rows = tuple(_rows(context, piece, layout, step, y + layout.title))
            pieces.append(GridPiece(context.say(piece.item.title), y + layout.title - 6, rows))
            y += layout.title + layout.row * len(rows)
    bottom = y + 4
    return SeasonGrid(
        width=layout.width,
        height=bottom + _FOOT,
        left=layout.left,
        right=layout.width - _EDGE,
        top=_TOP,
        bottom=bottom,
        bands=tuple(stage_bands(ensemble, stages, step, layout.left)),
        pieces=tuple(pieces),
        numbers=tuple(_numbers(len(ensemble.rehearsals), layout.left, step)),
        months=tuple(_months(ensemble, layout.left, step)),
        beside=layout.beside,
    )


def _rows(
    context: Context, piece: PieceRow, layout: _Layout, step: float, top: float
) -> Iterator[GridRow]:
    for place, passage in enumerate(piece.passages):
        y = top + layout.row * place
        middle = y + layout.middle
        marks = [
            visit_mark(visit.kinds, _middle_of(visit.place, layout.left, step), middle, step)
            for visit in passage.visits
        ]
        span = passage.item.measures
        yield GridRow(
            name=gettext(
                "%(passage)s, %(measures)s",
                passage=context.say(passage.item.name),
                measures=measures(span.first, span.last),
            ),
            tempos=tempos_from_to(passage),
            text_y=middle + 4 if layout.beside else y + 11,
            line_y=y + layout.row - 1,
            alone="".join(mark.alone for mark in marks),
            joined="".join(mark.joined for mark in marks),
            run="".join(mark.run for mark in marks),
            goal=_goal_line(passage, layout, step, y + layout.row - 4),
        )


def tempos_from_to(passage: PassageRow) -> str:
    """Write the first and the last tempo in class, `50 to 92`."""
    tempos = [bpm_words(visit.rung.tempo) for visit in passage.visits]
    if not tempos:
        return ""
    if tempos[0] == tempos[-1]:
        return tempos[0]
    return pgettext("tempos", "%(first)s to %(last)s", first=tempos[0], last=tempos[-1])


def _goal_line(passage: PassageRow, layout: _Layout, step: float, y: float) -> str:
    """Underline the rehearsals from the first one at the goal."""
    if not passage.at_goal:
        return ""
    first = layout.left + passage.at_goal[0].place * step + 1
    return f"M{first:.4g} {y:.4g}H{layout.width - _EDGE:g}"


def _middle_of(place: int, left: float, step: float) -> float:
    return round(left + step * (place + 0.5), 2)


def _numbers(count: int, left: float, step: float) -> Iterator[Tick]:
    for place in range(count):
        if place == 0 or (place + 1) % _EACH == 0:
            yield Tick(_middle_of(place, left, step), str(place + 1))


def _months(ensemble: EnsemblePlan, left: float, step: float) -> Iterator[Tick]:
    seen = set()
    for row in ensemble.rehearsals:
        month = formatting.short_month(row.rehearsal.day)
        if month not in seen:
            seen.add(month)
            yield Tick(round(left + step * row.place + 1, 2), month)

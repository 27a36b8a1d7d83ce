"""The sheet of a part: all weeks of a cycle, with what is practiced in each and what to watch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import chain
from typing import TYPE_CHECKING

from handbook.domain.values.tempo import Tempo
from handbook.outputs import addresses
from handbook.outputs.components.part_music import PartPassageView, PartPieceView, PointView
from handbook.outputs.html.formatting import month_day
from handbook.outputs.i18n.formats import with_clauses, with_commas
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import Sheet
from handbook.plan.model import EnsemblePlan
from handbook.plan.parts_model import PartPlan
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.part import PartView

_MOST_WEEKS = 9
"""Columns that fit beside the names of passages, in letters of 12 points."""


@dataclass(frozen=True, slots=True)
class WeeksOfPassage:
    """A passage over the weeks of a table: the tempo of each, None where nothing is to be reached.

    Without `tempos` no rehearsal plays it.
    """

    passage: PartPassageView
    tempos: tuple[Tempo | None, ...]


@dataclass(frozen=True, slots=True)
class WeeksOfPiece:
    """The passages of a piece in a table."""

    piece: PartPieceView
    passages: tuple[WeeksOfPassage, ...]


@dataclass(frozen=True, slots=True)
class WeeksTable:
    """Weeks side by side, each told by its Monday, with all pieces below."""

    weeks: tuple[str, ...]
    pieces: tuple[WeeksOfPiece, ...]


@dataclass(frozen=True, slots=True)
class PartSheetView:
    """Parts that practice the same; `points` are, by piece, those to watch that are the same for all."""

    band: str
    cycle: str
    names: str
    tables: tuple[WeeksTable, ...]
    points: tuple[tuple[str, tuple[PointView, ...]], ...]


def sheet_paths(context: Context, cycle_id: str, ensemble: EnsemblePlan) -> Mapping[str, str]:
    """Give the address of the sheet of each part that has passages to practice, by its id.

    Parts with the same passages have one together, called by the first of them: a sheet for each
    would cost ten times as much, and differ by nothing but what their pages say.
    """
    first = dict[object, str]()
    return {
        part.id: addresses.part_sheet(
            cycle_id,
            ensemble.item.id,
            first.setdefault(_practiced(part), part.id),
            context.language,
        )
        for part in ensemble.parts
        if any(piece.passages for piece in part.pieces)
    }


def _practiced(part: PartPlan) -> object:
    return tuple((piece.item.id, tuple(piece.passages)) for piece in part.pieces)


def part_sheet(views: Sequence[PartView]) -> Iterator[Sheet]:
    """Make the sheet of parts that have one together; none where nothing is rehearsed."""
    first = views[0]
    if first.weeks:
        yield Sheet(
            path=first.sheet,
            kind="part",
            title=with_clauses((first.ensemble, first.cycle)),
            page=first.ensemble_path,
            view=PartSheetView(
                first.ensemble,
                first.cycle,
                with_commas(view.name for view in views),
                tuple(_tables(first)),
                tuple(_same_points(views)),
            ),
            one_page=False,
        )


def _same_points(views: Sequence[PartView]) -> Iterator[tuple[str, tuple[PointView, ...]]]:
    others = [set(chain.from_iterable(map(_points, view.pieces))) for view in views[1:]]
    for piece in views[0].pieces:
        same = tuple(one for one in _points(piece) if all(one in points for points in others))
        if same:
            yield piece.title, same


def _points(piece: PartPieceView) -> Iterator[PointView]:
    yield from piece.points
    for passage in piece.passages:
        yield from passage.points


def _tables(view: PartView) -> Iterator[WeeksTable]:
    mondays = [week.monday for week in view.weeks]
    tables = -(-len(mondays) // _MOST_WEEKS)
    each = -(-len(mondays) // tables)
    for first in range(0, len(mondays), each):
        shown = mondays[first : first + each]
        yield WeeksTable(
            tuple(month_day(day).replace("\u00a0", " ") for day in shown),
            tuple(
                WeeksOfPiece(piece, tuple(_of_passage(one, shown) for one in piece.passages))
                for piece in view.pieces
                if piece.passages
            ),
        )


def _of_passage(passage: PartPassageView, mondays: Sequence[date]) -> WeeksOfPassage:
    weeks = passage.targets.weeks if passage.targets else ()
    tempos = (
        next((one.target for one in weeks if one.monday <= monday <= one.sunday), None)
        for monday in mondays
    )
    return WeeksOfPassage(passage, tuple(tempos) if weeks else ())

"""The sheet of a part: the tempos of all weeks, every evening at home, and how to practice what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import chain
from typing import TYPE_CHECKING, TypeVar

from handbook.domain.values.tempo import Tempo
from handbook.outputs import addresses
from handbook.outputs.components.part_music import (
    PartExerciseView,
    PartPassageView,
    PartPieceView,
    PointView,
)
from handbook.outputs.html.formatting import month_day
from handbook.outputs.i18n.formats import with_clauses, with_commas
from handbook.outputs.page import Context
from handbook.outputs.sheets.kinds.part_evenings import (
    Alike,
    EveningWeek,
    evening_weeks,
    evenings_by_part,
    without_exercises,
)
from handbook.outputs.sheets.model import Sheet
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.parts_model import PartPlan
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.part import PartView

SameT = TypeVar("SameT")
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
class HowPassage:
    """How a passage is practiced at home, and what to watch in it."""

    passage: PartPassageView
    home: tuple[str, ...]
    points: tuple[PointView, ...]


@dataclass(frozen=True, slots=True)
class HowPiece:
    """What to watch in all of a piece, then passage by passage."""

    title: str
    points: tuple[PointView, ...]
    passages: tuple[HowPassage, ...]


@dataclass(frozen=True, slots=True)
class HowExercise:
    """How an exercise goes."""

    exercise: PartExerciseView
    how: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartSheetView:
    """Parts that practice the same; `pieces` and `exercises` have what is told to all of them alike."""

    band: str
    cycle: str
    names: str
    tables: tuple[WeeksTable, ...]
    weeks: tuple[EveningWeek, ...]
    pieces: tuple[HowPiece, ...]
    exercises: tuple[HowExercise, ...]


def sheet_paths(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Mapping[str, str]:
    """Give the address of the sheet of each part that has passages to practice, by its id.

    Parts with the same passages on every evening have one together, called by the first of them:
    a sheet for each would cost ten times as much, and differ by little but what their pages say.
    """
    first, evenings = dict[object, str](), evenings_by_part(context, cycle, ensemble)
    alike = {own: without_exercises(own) for own in dict.fromkeys(evenings.values())}
    return {
        part.id: addresses.part_sheet(
            cycle.id,
            ensemble.item.id,
            first.setdefault((_practiced(part), alike[evenings[part.id]]), part.id),
            context.language,
        )
        for part in ensemble.parts
        if any(piece.passages for piece in part.pieces)
    }


def _practiced(part: PartPlan) -> object:
    return tuple((piece.item.id, tuple(piece.passages)) for piece in (*part.pieces, *part.joined))


def part_sheet(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, views: Sequence[PartView]
) -> Iterator[Sheet]:
    """Make the sheet of parts that have one together; none where nothing is rehearsed."""
    first = views[0]
    if not first.weeks:
        return
    evenings = evenings_by_part(context, cycle, ensemble)
    parts = [Alike(one.name, one.exercises, evenings[one.instrument]) for one in views]
    weeks = tuple(evening_weeks(cycle, ensemble, first.pieces, parts))
    yield Sheet(
        path=first.sheet,
        kind="part",
        title=with_clauses((first.ensemble, first.cycle)),
        page=first.ensemble_path,
        view=PartSheetView(
            first.ensemble,
            first.cycle,
            with_commas(view.name for view in views),
            () if weeks else tuple(_tables(first)),
            weeks,
            tuple(_how_pieces(views, goals=bool(weeks))),
            tuple(_how_exercises(views, weeks)),
        ),
        one_page=False,
    )


def _how_pieces(views: Sequence[PartView], *, goals: bool) -> Iterator[HowPiece]:
    """Tell of each piece what all parts are told, with `goals` of all passages, else of those that have such."""
    points = _same(views, lambda view: chain.from_iterable(map(_points, view.pieces)))
    homes = _same(views, lambda view: (text for one in _passages(view) for text in one.home))
    for piece in views[0].pieces:
        passages = tuple(
            HowPassage(
                one,
                tuple(text for text in one.home if text in homes),
                tuple(point for point in one.points if point in points),
            )
            for one in piece.passages
        )
        found = HowPiece(
            piece.title,
            tuple(point for point in piece.points if point in points),
            tuple(one for one in passages if goals or one.home or one.points),
        )
        if found.points or found.passages:
            yield found


def _how_exercises(
    views: Sequence[PartView], weeks: Iterable[EveningWeek]
) -> Iterator[HowExercise]:
    """Show how the exercises of all evenings go, as far as it is the same for all who have them."""
    shown = {one.item.id for week in weeks for one in week.exercises}
    found = dict[str, HowExercise]()
    for one in chain.from_iterable(view.exercises for view in views):
        if one.item.id in shown:
            known = found.get(one.item.id, HowExercise(one, one.how))
            same = tuple(text for text in known.how if text in one.how)
            found[one.item.id] = HowExercise(known.exercise, same)
    yield from (one for one in found.values() if one.how)


def _same(views: Sequence[PartView], of: Callable[[PartView], Iterable[SameT]]) -> set[SameT]:
    """Give what all parts have."""
    first, *others = (set(of(view)) for view in views)
    return first.intersection(*others)


def _passages(view: PartView) -> Iterator[PartPassageView]:
    yield from chain.from_iterable(piece.passages for piece in view.pieces)


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

"""The sheet of a part: the tempos of all weeks, every evening at home, and how to practice what."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import chain
from typing import TYPE_CHECKING, TypeVar

from handbook.domain.tables.rudiments import Rudiment
from handbook.domain.values.tempo import Tempo
from handbook.outputs import addresses
from handbook.outputs.components.part_music import (
    PartExerciseView,
    PartPassageView,
    PartPieceView,
    PointView,
)
from handbook.outputs.html.formatting import month_day
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_clauses, with_commas
from handbook.outputs.note_names import sign
from handbook.outputs.page import Context
from handbook.outputs.sheets.kinds.part_evenings import (
    LETTERS_A_LINE,
    LINES_A_PAGE,
    Alike,
    EveningWeek,
    drums_together,
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
_NO_BREAK = "\u00a0"
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
class OwnExercise:
    """What of an exercise only some are told; without `parts` it is told to all of the sheet.

    `key` is that of a scale, or the notes where there is no scale.
    """

    parts: str
    key: str
    how: tuple[str, ...]
    rudiment: Rudiment | None

    @property
    def more(self) -> bool:
        """Whether there is more than a key, which needs no line of its own."""
        return bool(self.how or self.rudiment)


@dataclass(frozen=True, slots=True)
class HowExercise:
    """How an exercise goes: what all who have it are told, then what each part has as its own."""

    name: str
    how: tuple[str, ...]
    own: tuple[OwnExercise, ...]

    @property
    def told(self) -> Iterator[str]:
        """What stands below its name, line by line."""
        yield from self.how
        for own in self.own:
            yield " ".join((own.parts, own.key, *own.how, str(own.rudiment or "")))


@dataclass(frozen=True, slots=True)
class PartSheetView:
    """Parts that practice the same; `pieces` have what is told to all of them alike.

    `drums` are those that have one name together at the evenings.
    """

    title: str
    band_and_cycle: str
    names: str
    tables: tuple[WeeksTable, ...]
    weeks: tuple[EveningWeek, ...]
    pieces: tuple[HowPiece, ...]
    exercises: tuple[HowExercise, ...]
    drums: str

    @property
    def parted(self) -> bool:
        """Whether some have another exercise than most on an evening."""
        return any(evening.others for week in self.weeks for evening in week.evenings)

    @property
    def together(self) -> bool:
        """Whether all exercises surely fit on a page, so that they need not be looked for on two."""
        lines = sum(
            1 + sum(1 + len(text) // LETTERS_A_LINE for text in one.told) for one in self.exercises
        )
        return lines < LINES_A_PAGE

    @property
    def keyed(self) -> bool:
        """Whether an exercise is in a key."""
        return any(own.key for exercise in self.exercises for own in exercise.own)


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
    parts = [
        Alike(
            one.name,
            one.exercises,
            evenings[one.instrument],
            drums=one.drums,
        )
        for one in views
    ]
    weeks = tuple(evening_weeks(cycle, ensemble, first.pieces, parts))
    title = gettext("Practice for every evening") if weeks else gettext("Tempos to reach at home")
    band_and_cycle = with_clauses((first.ensemble, first.cycle))
    yield Sheet(
        path=first.sheet,
        kind="part",
        title=gettext("%(what)s: %(words)s", what=title, words=band_and_cycle),
        page=first.ensemble_path,
        view=PartSheetView(
            title,
            band_and_cycle,
            with_commas(view.name for view in views),
            () if weeks else tuple(_tables(first)),
            weeks,
            tuple(_how_pieces(views, goals=bool(weeks))),
            tuple(_how_exercises(views, weeks)),
            drums_together(parts),
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
    """Show how the exercises of all evenings go, for all and for each part."""
    shown = dict.fromkeys(one.item.id for week in weeks for one in week.exercises)
    having = {name: dict[str, PartExerciseView]() for name in shown}
    for view in views:
        for one in view.exercises:
            if one.item.id in having:
                having[one.item.id][view.name] = one
    for by_part in having.values():
        first, *others = by_part.values()
        same = tuple(text for text in first.how if all(text in one.how for one in others))
        own = tuple(_own_exercises(by_part, same, len(views)))
        if same or own:
            yield HowExercise(first.name, same, own)


def _own_exercises(
    by_part: Mapping[str, PartExerciseView], same: Sequence[str], parts: int
) -> Iterator[OwnExercise]:
    """Put parts together that read one key and are told the same beside what all are told."""
    found = dict[OwnExercise, list[str]]()
    for name, one in by_part.items():
        how = tuple(text for text in one.how if text not in same)
        # Words with notes in them differ by part; where there are none, the notes are said.
        key = sign(one.key.key) if one.key else "" if how else one.read
        own = OwnExercise("", key.replace(" ", _NO_BREAK), how, one.rudiment)
        found.setdefault(own, []).append(name)
    for own, names in found.items():
        if own.key or own.how or own.rudiment:
            yield own if len(names) == parts else replace(own, parts=with_commas(names))


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
            tuple(month_day(day).replace(_NO_BREAK, " ") for day in shown),
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

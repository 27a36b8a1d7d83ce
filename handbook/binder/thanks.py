"""The opening thanks: whose turn it is at each rehearsal, and where to look for what to thank them for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from handbook.binder.model import Binder, BinderFile
from handbook.binder.paper import can_print, notice, sheet_file
from handbook.outputs.components.charts import room_for
from handbook.outputs.components.event_words import capital
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import in_a_row
from handbook.outputs.instrument_names import called
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import Layout, Sheet
from handbook.plan.model import CyclePlan, EnsemblePlan, RehearsalRow
from handbook.plan.opening_thanks import Thanked, ThanksPlan, ThanksRow, opening_thanks
from handbook.plan.parts import takes_part
from handbook.records import dataclass
from handbook.schema.music import Passage, Piece, WatchPoint
from handbook.schema.program import Program

_MOST_PASSAGES = 2


@dataclass(frozen=True, slots=True)
class LookAt:
    """Something to look at before thanking: `what` it is, with `words` on it; one of both may be empty."""

    what: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class ThanksView:
    """The opening thanks of one rehearsal, in the words of the binder's language.

    `whom` says who is thanked, such as "Low brass", empty for nobody in particular; `ids` are theirs, as a log
    may keep them. `stated` is False where it is only their turn, `sentence` what is written to be said, if anything is.
    `look` is what they did at the rehearsal before, or do today where there was none.
    """

    day: date
    date: str
    whom: str
    ids: tuple[str, ...]
    stated: bool
    sentence: str
    look: tuple[LookAt, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """What there is to look at that has no words of its own."""
        return tuple(one.what for one in self.look if not one.words)


def thanks_by_ensemble(context: Context) -> Mapping[tuple[str, str], tuple[ThanksView, ...]]:
    """Tell the thanks of all rehearsals, by the ids of their cycle and ensemble, one a rehearsal in order."""
    turns = opening_thanks(context.plan)
    return {
        (cycle.id, ensemble.item.id): tuple(
            _views(context, ensemble, turns[cycle.id, ensemble.item.id])
        )
        for cycle in context.plan.cycles
        for ensemble in cycle.ensembles
    }


def _views(context: Context, ensemble: EnsemblePlan, turns: ThanksPlan) -> Iterator[ThanksView]:
    before: RehearsalRow | None = None
    for row, whom in zip(ensemble.rehearsals, turns.rows, strict=True):
        yield ThanksView(
            day=row.rehearsal.day,
            date=formatting.short_day(row.rehearsal.day),
            whom=_named(whom.whom),
            ids=tuple(one.id for one in whom.whom),
            stated=whom.stated,
            sentence=context.say(row.thanks),
            look=tuple(_look(context, whom, before or row)),
        )
        before = row if row.day_plan.kind.rehearses else before


def _named(whom: Sequence[Thanked]) -> str:
    return capital(in_a_row([name_of(one) for one in whom]))


def name_of(one: Thanked) -> str:
    """Name a section or a role, among words."""
    return one.role.name if one.role else called(one.called)


def _look(context: Context, whom: ThanksRow, row: RehearsalRow) -> Iterator[LookAt]:
    """Give what those who are thanked did at a rehearsal; never a praise, which is the director's to find."""
    for one in whom.whom:
        if one.role and one.role.does:
            yield LookAt("", one.role.does)
    players = [name for one in whom.whom for name in one.instruments]
    if not players:
        return
    yield from _passages(context, players, row)
    if row.habit:
        yield LookAt(gettext("Look during: %(name)s", name=context.say(row.habit.name)))


def _passages(context: Context, players: Sequence[str], row: RehearsalRow) -> Iterator[LookAt]:
    """Give the passages of a rehearsal that some players had, first those with a point for them alone."""
    program = context.plan.program
    found: dict[tuple[str, str], tuple[bool, str, LookAt]] = {}
    for piece, passage in _played(row):
        if not _plays(program, players, passage.who):
            continue
        point = _point(program, players, passage)
        what = gettext(
            "%(passage)s, %(piece)s",
            passage=context.say(passage.name),
            piece=context.say(piece.title),
        )
        own = bool(point and point.who)
        look = LookAt(what, context.say(point.text) if point else "")
        found.setdefault((piece.id, passage.id), (not own, look.words, look))
    ordered = sorted(found.values(), key=lambda one: (one[0], not one[1]))
    yield from (look for _, _, look in ordered[:_MOST_PASSAGES])


def _played(row: RehearsalRow) -> Iterator[tuple[Piece, Passage]]:
    for block in row.blocks:
        if block.piece and block.passage:
            yield block.piece, block.passage
        elif block.piece and block.stretch:
            yield from ((block.piece, passage) for passage in block.stretch.passages)


def _point(program: Program, players: Sequence[str], passage: Passage) -> WatchPoint | None:
    """Give the watch point that concerns the fewest, of those that concern these players."""
    own = [point for point in passage.watch if _plays(program, players, point.who)]
    return min(own, key=lambda point: not point.who, default=None)


def _plays(program: Program, players: Iterable[str], who: tuple[str, ...]) -> bool:
    return any(takes_part(name, program.instrument(name), who) for name in players)


@dataclass(frozen=True, slots=True)
class Mark:
    """A thanks on the grid: in which column, and whether it was stated."""

    x: float
    stated: bool


@dataclass(frozen=True, slots=True)
class TurnRow:
    """Someone's thanks over the cycle; `y` is the middle of the row."""

    name: str
    y: float
    marks: tuple[Mark, ...]
    count: int
    stated: int


@dataclass(frozen=True, slots=True)
class TurnGrid:
    """Who was thanked at which rehearsal: a row for each, a column a rehearsal."""

    rows: tuple[TurnRow, ...]
    left: float
    right: float
    width: float
    height: float
    dot: float
    last: int


@dataclass(frozen=True, slots=True)
class BandThanks:
    """A band's part of the page."""

    id: str
    name: str
    days: tuple[ThanksView, ...]
    grid: TurnGrid


@dataclass(frozen=True, slots=True)
class ThanksPage:
    """The page of a cycle."""

    cycle: str
    bands: tuple[BandThanks, ...]


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a page for each cycle in which somebody's turn can come."""
    views, turns = thanks_by_ensemble(binder.context), opening_thanks(binder.plan)
    say = binder.context.say
    for cycle in binder.cycles:
        bands = tuple(_bands(binder, cycle, views, turns))
        if bands:
            page = ThanksPage(say(cycle.item.name), bands)
            yield binder.page(
                "thanks",
                page,
                f"{cycle.id}/thanks.html",
                title=pgettext("term", "Opening thanks"),
                about=gettext("Whose turn it is at each rehearsal, so that nobody is forgotten."),
                cycle=cycle.id,
            )
            if can_print(binder):
                yield _printed(binder, cycle, page)


def _printed(binder: Binder, cycle: CyclePlan, page: ThanksPage) -> BinderFile:
    return sheet_file(
        binder,
        Sheet(
            path=f"{cycle.id}/thanks.pdf",
            kind="thanks",
            title=gettext("Opening thanks, on paper"),
            view=page,
            notice=notice(),
            layout=Layout.PAGES,
        ),
        about=gettext("The same to print, each band by itself (PDF)."),
        cycle=cycle.id,
        parts=(band.name for band in page.bands),
    )


def _bands(
    binder: Binder,
    cycle: CyclePlan,
    views: Mapping[tuple[str, str], tuple[ThanksView, ...]],
    turns: Mapping[tuple[str, str], ThanksPlan],
) -> Iterator[BandThanks]:
    for ensemble in cycle.ensembles:
        key = cycle.id, ensemble.item.id
        if turns[key].whom:
            name = binder.context.say(ensemble.item.name)
            yield BandThanks(ensemble.item.id, name, views[key], _grid(turns[key]))


_ROW, _TOP, _FOOT, _PLOT, _COUNTS, _DOT = 22.0, 6.0, 20.0, 416.0, 34.0, 5.5


def _grid(turns: ThanksPlan) -> TurnGrid:
    """Lay out the turns; lengths are SVG user units from the top left corner."""
    names = [capital(name_of(one)) for one in turns.whom]
    left, count = room_for(names), max(1, len(turns.rows))
    step = _PLOT / count
    rows = []
    for place, (one, name) in enumerate(zip(turns.whom, names, strict=True)):
        had = [row for row in turns.rows if one in row.whom]
        rows.append(
            TurnRow(
                name=name,
                y=_TOP + _ROW * (place + 0.5),
                marks=tuple(
                    Mark(round(left + step * (row.place + 0.5), 2), row.stated) for row in had
                ),
                count=len(had),
                stated=sum(row.stated for row in had),
            )
        )
    return TurnGrid(
        rows=tuple(rows),
        left=left,
        right=left + _PLOT,
        width=left + _PLOT + _COUNTS,
        height=_TOP + _ROW * len(rows) + _FOOT,
        dot=round(min(_DOT, 0.45 * step), 2),
        last=len(turns.rows),
    )

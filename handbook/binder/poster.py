"""A poster for the wall of the room: the cycle's weeks, rehearsals, stages with their goals, and concerts.

It bears no notice, since all of it stands on the site and it is made to be seen by all who come
into the room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from handbook.binder.model import Binder, BinderFile
from handbook.binder.paper import can_print, sheet_file
from handbook.outputs.components.concert_line import ConcertLine, concert_lines
from handbook.outputs.components.stages import StageView, stage_view
from handbook.outputs.html.formatting import month_day
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import FAMILY_POINTS, Sheet
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass

_LIGHTEST, _DARKEST = (
    100,
    85,
)  # percent of white: the first stage and the last, light enough to read on
_CONCERT = 0
_WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class PosterDay:
    """A day to cross out: its number in the month, how light it is in percent, and which stage's shape it has.

    A copier loses light grays, so the shape tells the stage, too; a concert has the shape 0.
    """

    number: int
    tint: int
    shape: int


@dataclass(frozen=True, slots=True)
class PosterRow:
    """A band with its days, week by week."""

    name: str
    weeks: tuple[tuple[PosterDay, ...], ...]


@dataclass(frozen=True, slots=True)
class PosterStage:
    """A stage; `dates` are said once where they are the same for all bands, else with each band before them."""

    stage: StageView
    tint: int
    shape: int
    purpose: str
    goals: tuple[str, ...]
    dates: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Poster:
    """The cycle on one page; `last` is the concert that it leads to, `concerts` are those before."""

    name: str
    weeks: tuple[str, ...]
    rows: tuple[PosterRow, ...]
    stages: tuple[PosterStage, ...]
    concerts: tuple[ConcertLine, ...]
    last: ConcertLine | None


def poster(context: Context, cycle: CyclePlan) -> Poster:
    """Gather what hangs on the wall."""
    mondays = tuple(_mondays(cycle))
    tints = _tints(len(cycle.item.stages))
    *before, last = concert_lines(context, cycle, cycle.held_concerts) or (None,)
    return Poster(
        name=context.say(cycle.item.name),
        weeks=tuple(map(month_day, mondays)),
        rows=tuple(_row(context, cycle, one, mondays, tints) for one in cycle.ensembles),
        stages=tuple(_stages(context, cycle, tints)),
        concerts=tuple(one for one in before if one),
        last=last,
    )


def _mondays(cycle: CyclePlan) -> Iterator[date]:
    """Give the Monday of each week that has a rehearsal or a concert, with those between."""
    days = [row.rehearsal.day for one in cycle.ensembles for row in one.rehearsals]
    days += [one.item.date for one in cycle.held_concerts]
    if not days:
        return
    monday = min(days) - timedelta(days=min(days).weekday())
    while monday <= max(days):
        yield monday
        monday += _WEEK


def _tints(count: int) -> Sequence[int]:
    step = (_LIGHTEST - _DARKEST) / max(1, count - 1)
    return [round(_LIGHTEST - step * place) for place in range(count)]


def _row(
    context: Context,
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    mondays: Sequence[date],
    tints: Sequence[int],
) -> PosterRow:
    order = [stage.id for stage in cycle.item.stages]
    signs = [
        (row.rehearsal.start, PosterDay(row.rehearsal.day.day, tints[place], place + 1))
        for row in ensemble.rehearsals
        for place in (order.index(row.stage.item.id),)
    ]
    signs += [
        (concert.downbeat, PosterDay(concert.item.date.day, _CONCERT, _CONCERT))
        for concert in cycle.held_concerts
        if ensemble.band in concert.item.players
    ]
    signs.sort(key=lambda sign: sign[0].timestamp())
    return PosterRow(
        context.say(ensemble.item.name),
        tuple(
            tuple(day for start, day in signs if monday <= start.date() < monday + _WEEK)
            for monday in mondays
        ),
    )


def _stages(context: Context, cycle: CyclePlan, tints: Sequence[int]) -> Iterator[PosterStage]:
    for shape, (item, tint) in enumerate(zip(cycle.item.stages, tints, strict=True), start=1):
        shown = [
            (one, stage_view(context, span, len(one.stages)))
            for one in cycle.ensembles
            for span in one.stages
            if span.item.id == item.id
        ]
        if not shown:
            continue
        alike = len({stage.dates for _, stage in shown}) == 1
        yield PosterStage(
            stage=shown[0][1],
            tint=tint,
            shape=shape,
            purpose=context.say(item.purpose),
            goals=tuple(map(context.say, item.goals)),
            dates=(shown[0][1].dates,)
            if alike
            else tuple(
                gettext("%(band)s: %(dates)s", band=context.say(one.item.name), dates=stage.dates)
                for one, stage in shown
            ),
        )


def poster_file(binder: Binder, cycle: CyclePlan, view: Poster) -> BinderFile:
    """Make the poster of a cycle; goals give way where it would need a second page."""
    return sheet_file(
        binder,
        Sheet(
            path=f"{cycle.id}/poster.pdf",
            kind="poster",
            title=gettext("Poster for the wall"),
            view=view,
            points=FAMILY_POINTS,
            landscape=True,
        ),
        about=gettext(
            "The cycle on one page, to be crossed out day by day (PDF). It may hang in the room, and stays sharp at any size: print it as large as you can."
        ),
        cycle=cycle.id,
    )


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a poster of each cycle that has rehearsals or concerts."""
    if not can_print(binder):
        return
    for cycle in binder.cycles:
        view = poster(binder.context, cycle)
        if view.weeks:
            yield poster_file(binder, cycle, view)

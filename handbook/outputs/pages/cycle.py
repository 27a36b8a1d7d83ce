"""A cycle as a whole: weeks, stages, rehearsals and the concert on one strip."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from handbook.outputs import addresses
from handbook.outputs.components.charts import StripPair, cycle_strips
from handbook.outputs.components.concert_line import ConcertLine, concert_lines
from handbook.outputs.components.split_chart import (
    SplitChart,
    SplitGroup,
    split_chart,
    split_groups,
)
from handbook.outputs.components.stages import StageView, stage_view
from handbook.outputs.components.texts_for import all_words
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import days
from handbook.outputs.page import Context, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan, EnsemblePlan, StageSpan
from handbook.records import dataclass
from handbook.schema.cycle import Cycle


@dataclass(frozen=True, slots=True)
class EnsembleLine:
    """One ensemble in the cycle; `days` are the ends of its rehearsals, which lead `to` what they are for."""

    name: str
    path: str
    count: int
    minutes: int
    dates: str
    days: str
    to: str
    stages: tuple[StageView, ...]
    pieces: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class CycleView:
    """The page of a cycle; `spans` are the stages of its first ensemble, `stages` as they are shown."""

    item: Cycle
    dates: str
    first: date
    last: date
    spans: tuple[StageSpan, ...]
    strip: StripPair
    stages: tuple[StageView, ...]
    ensembles: tuple[EnsembleLine, ...]
    split: SplitChart
    split_groups: tuple[SplitGroup, ...]
    concerts: tuple[ConcertLine, ...]


def pages(context: Context, cycle: CyclePlan) -> Iterator[Page]:
    """Make the page of a cycle."""
    yield _page(context, cycle)


def _page(context: Context, cycle: CyclePlan) -> Page:
    name = context.say(cycle.item.name)
    ensembles = tuple(_line(context, cycle, ensemble) for ensemble in cycle.ensembles)
    dates = days(cycle.first, cycle.last)
    split = [
        (line.name, plan, line.stages)
        for line, plan in zip(ensembles, cycle.ensembles, strict=True)
    ]
    view = CycleView(
        item=cycle.item,
        dates=dates,
        first=cycle.first,
        last=cycle.last,
        spans=cycle.ensembles[0].stages if cycle.ensembles else (),
        strip=cycle_strips(
            [
                (line.name, line.path, plan, line.stages)
                for line, plan in zip(ensembles, cycle.ensembles, strict=True)
            ],
            cycle.first,
            cycle.last,
            [one.item.date for one in cycle.concerts],
        ),
        stages=ensembles[0].stages if ensembles else (),
        ensembles=ensembles,
        split=split_chart(split),
        split_groups=split_groups(split),
        concerts=concert_lines(context, cycle, cycle.concerts),
    )
    return Page(
        path=addresses.cycle(cycle.id),
        kind="cycle",
        title=name,
        description=gettext(
            "%(cycle)s, %(dates)s: stages, rehearsals and the concert on one strip.",
            cycle=name,
            dates=dates,
        ),
        section="cycle",
        view=view,
        search=(
            SearchEntry(
                name,
                " ".join((dates, *map(context.say, cycle.item.notes))),
                keywords="cycle",
            ),
            *(
                SearchEntry(
                    gettext(
                        "%(stage)s: %(purpose)s",
                        stage=stage.name,
                        purpose=context.say(span.item.purpose),
                    ),
                    " ".join((*map(context.say, span.item.goals), all_words(stage.home))),
                    anchor=f"stage-{stage.id}",
                    keywords="stage goals",
                )
                for stage, span in zip(view.stages, view.spans, strict=True)
            ),
        ),
    )


def _line(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> EnsembleLine:
    rows = ensemble.rehearsals
    return EnsembleLine(
        name=context.say(ensemble.item.name),
        path=addresses.ensemble(cycle.id, ensemble.item.id),
        count=len(rows),
        minutes=sum(row.rehearsal.minutes for row in rows),
        dates=days(rows[0].rehearsal.day, rows[-1].rehearsal.day),
        days=" ".join(formatting.moment(row.rehearsal.end) for row in rows),
        to="concert" if len(cycle.concerts) == 1 else "end",
        stages=tuple(stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages),
        pieces=tuple(
            (
                context.say(piece.item.title),
                addresses.piece(cycle.id, ensemble.item.id, piece.item.id),
            )
            for piece in ensemble.pieces
        ),
    )

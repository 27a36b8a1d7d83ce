"""One rehearsal with its agenda, as the page of its band and the director's sheets show it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.outputs import addresses
from handbook.outputs.components.blocks import BlockView, block_views
from handbook.outputs.components.event_words import capital, missing_words
from handbook.outputs.components.leaders import led_by
from handbook.outputs.components.rehearsal_names import anchors_by_place
from handbook.outputs.components.sections import SectionView, section_views
from handbook.outputs.components.stages import StageView, stage_view
from handbook.outputs.components.weeks import DayView, day_views
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.page import Context, Link
from handbook.plan.model import CyclePlan, EnsemblePlan, RehearsalRow
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class RehearsalView:
    """One rehearsal with its agenda; `old_anchors` are those by number that links once had.

    `led_by` says who leads it where that is not who leads the others.
    """

    row: RehearsalRow
    line: DayView
    stage: StageView
    habit: Link | None
    blocks: tuple[BlockView, ...]
    sections: tuple[SectionView, ...]
    altered: str
    sums: str
    missing: tuple[str, ...]
    old_anchors: tuple[str, ...]
    led_by: str


def band_rehearsals(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Iterator[RehearsalView]:
    """Show every rehearsal of an ensemble, in order."""
    stages = tuple(stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages)
    return rehearsal_views(context, cycle, ensemble, stages)


def rehearsal_views(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, stages: Sequence[StageView]
) -> Iterator[RehearsalView]:
    """Show every rehearsal of an ensemble, in order; `stages` are those of the ensemble."""
    lines = day_views(context, cycle, ensemble)
    taken = {line.anchor for line in lines}
    by_place = anchors_by_place(ensemble)
    for row, line, old in zip(ensemble.rehearsals, lines, by_place, strict=True):
        others = () if old in taken else (old,)
        yield _rehearsal(context, cycle, ensemble, row, stages, line, others)


def _rehearsal(
    context: Context,
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    row: RehearsalRow,
    stages: Sequence[StageView],
    line: DayView,
    old: tuple[str, ...],
) -> RehearsalView:
    usual = context.plan.program.leaders(ensemble.item.led_by)
    return RehearsalView(
        row=row,
        line=line,
        stage=stages[row.stage.index],
        habit=Link(context.say(row.habit.name), addresses.habit(row.habit.id))
        if row.habit
        else None,
        blocks=block_views(context, ensemble, row),
        sections=section_views(context, cycle, ensemble, row),
        altered=context.say(row.rehearsal.name) if row.rehearsal.kind == "altered" else "",
        sums=_sums(row),
        missing=missing_words(context, row.missing),
        old_anchors=(f"r{row.rehearsal.n}", *old),
        led_by=capital(led_by(context, row.led_by)) if row.led_by != usual else "",
    )


def _sums(row: RehearsalRow) -> str:
    minutes, agenda = row.rehearsal.minutes, row.agenda
    # Translators: a rehearsal in numbers, such as 47 minutes, 10 changes, longest block 8 minutes.
    return gettext(
        "%(minutes)s, %(changes)s, %(longest)s.",
        minutes=ngettext("%(num)s minute", "%(num)s minutes", minutes),
        # Translators: how often a rehearsal turns from one thing to the next.
        changes=ngettext("%(num)s change", "%(num)s changes", agenda.changes),
        longest=ngettext(
            "longest block %(num)s minute", "longest block %(num)s minutes", agenda.longest
        ),
    )

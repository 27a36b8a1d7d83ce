"""`handbook plan --home`: what players practice each evening, as tables for a terminal of 80 columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text as Line

from handbook.domain.home_days import HomeEvening
from handbook.plan.evenings import (
    evenings_of,
    has_evenings,
    home_passages,
    home_sets,
    minutes_at_home,
    passage_id,
)
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan


def home_tables(plan: Plan, cycle: CyclePlan) -> Group:
    """Draw the evenings of each ensemble, of those players who have most to practice."""
    language = plan.languages[0]
    name = cycle.item.name.read(language)
    parts: list[RenderableType] = [
        Line(f"{name} ({cycle.id}): evenings at home", style="bold underline")
    ]
    for ensemble in cycle.ensembles:
        parts += ["", *_ensemble(cycle, ensemble, language)]
    return Group(*parts, "")


def home_lines(ensemble: EnsemblePlan, language: str) -> list[RenderableType]:
    """Say in a line how many minutes a day each stage has; nothing where that is not said."""
    if not has_evenings(ensemble):
        return []
    told = ", ".join(
        f"{stage.item.name.read(language)} {minutes_at_home(ensemble, stage)}"
        for stage in ensemble.stages
    )
    return [Line(f"Minutes a day at home: {told} (--home shows each evening)", style="dim")]


def _ensemble(cycle: CyclePlan, ensemble: EnsemblePlan, language: str) -> Iterator[RenderableType]:
    name = ensemble.item.name.read(language)
    if not has_evenings(ensemble):
        yield Line(f"{name}: no `home_minutes` are given", style="bold")
        return
    evenings = evenings_of(cycle, ensemble)
    fullest = max(evenings, key=lambda one: len(one.passages), default=None)
    if fullest is None:
        yield Line(f"{name}: no instruments are given", style="bold")
        return
    parts = [part for part, own in home_sets(ensemble).items() if own == fullest]
    yield Line(f"{name}: {', '.join(parts)}", style="bold")
    if len(evenings) > 1:
        lists = "1 other list" if len(evenings) == 2 else f"{len(evenings) - 1} other lists"  # noqa: PLR2004
        yield Line(f"The other parts have {lists}, which --json shows.", style="dim")
    yield _table(ensemble, evenings[fullest], language)


def _table(ensemble: EnsemblePlan, evenings: Sequence[HomeEvening], language: str) -> Table:
    names = _names(ensemble, language)
    table = Table(expand=False, pad_edge=False, show_edge=False, row_styles=("", "dim"))
    table.add_column("Evening", no_wrap=True)
    table.add_column("Min", no_wrap=True, justify="right")
    table.add_column(
        "Minutes of each; * is played at the next rehearsal or concert", overflow="fold"
    )
    for evening in evenings:
        shares = "; ".join(
            f"{names[share.id]}{'*' if share.next else ''} {share.minutes}"
            for share in evening.shares
        )
        day = f"{evening.day:%a %b} {evening.day.day:>2}"
        table.add_row(
            day, str(evening.minutes), Line(f"{'(break) ' if evening.resting else ''}{shares}")
        )
    return table


def _names(ensemble: EnsemblePlan, language: str) -> Mapping[str, str]:
    exercises = {
        one.item.id: one.item.name.read(language)
        for part in ensemble.parts
        for one in part.exercises
    }
    passages = {
        passage_id(piece, passage): passage.item.name.read(language)
        for piece, passage in home_passages(ensemble)
    }
    return exercises | passages

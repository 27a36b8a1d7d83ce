"""`handbook plan --thanks`: whom the opening thanks go to, as tables for a terminal of 80 columns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text as Line

from handbook.plan.model import CyclePlan, EnsemblePlan, Plan
from handbook.plan.opening_thanks import Thanked, ThanksPlan, ThanksRow, opening_thanks

_STATED, _LOGGED, _SUGGESTED = "stated", "logged", "in turn"


def thanks_tables(plan: Plan, cycle: CyclePlan) -> Group:
    """Draw the turns of each ensemble of a cycle, then how often each was thanked."""
    language, turns = plan.languages[0], opening_thanks(plan)
    name = cycle.item.name.read(language)
    parts: list[RenderableType] = [
        Line(f"{name} ({cycle.id}): opening thanks", style="bold underline")
    ]
    for ensemble in cycle.ensembles:
        own = turns[cycle.id, ensemble.item.id]
        parts += ["", *_ensemble(ensemble, own, language)]
    return Group(*parts, "")


def _ensemble(ensemble: EnsemblePlan, turns: ThanksPlan, language: str) -> Iterator[RenderableType]:
    name = ensemble.item.name.read(language)
    if not turns.whom:
        yield Line(f"{name}: nobody's turn can come, since no instruments are given", style="bold")
        return
    yield Line(name, style="bold")
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("Date", no_wrap=True)
    table.add_column("Whom", max_width=22, overflow="fold")
    table.add_column("", no_wrap=True)
    table.add_column("Thanks", overflow="fold")
    for row, whom in zip(ensemble.rehearsals, turns.rows, strict=True):
        day, thanks = row.rehearsal.day, row.thanks
        sentence = thanks.read(language) if thanks else ""
        cells = (f"{day:%a %b} {day.day:>2}", _named(whom), _how(whom), sentence)
        table.add_row(*map(Line, cells))
    yield table
    yield Line(f"Counts: {_counted(turns.whom, turns.counts)}", style="dim")


def thanked_name(one: Thanked) -> str:
    """Name a section or a role in the plain English of the terminal."""
    return one.role.name if one.role else one.called.replace("-", " ")


def _named(row: ThanksRow) -> str:
    return ", ".join(map(thanked_name, row.whom)) or ("everyone" if row.stated else "-")


def _how(row: ThanksRow) -> str:
    return _LOGGED if row.held else _STATED if row.stated else _SUGGESTED if row.whom else ""


def _counted(whom: tuple[Thanked, ...], counts: Mapping[str, int]) -> str:
    return ", ".join(f"{thanked_name(one)} {counts[one.id]}" for one in whom)

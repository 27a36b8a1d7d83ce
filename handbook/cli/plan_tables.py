"""The reckoned plan as tables for a terminal of 80 columns, one an ensemble and cycle."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text as Line

from handbook.domain.timing import format_duration
from handbook.domain.values.clock import format_clock
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, RehearsalRow

_WIDEST_STAGE = 10
_WIDEST_HABIT = 10


def cycle_tables(plan: Plan, cycle: CyclePlan) -> Group:
    """Draw one cycle: a heading, then a table for each of its ensembles."""
    language = plan.languages[0]
    parts: list[RenderableType] = [_heading(cycle, language)]
    for ensemble in cycle.ensembles:
        parts += ["", Line(_summary(ensemble, language), style="bold"), _table(ensemble, language)]
        parts += _missed_lines(ensemble)
    return Group(*parts, "")


def _heading(cycle: CyclePlan, language: str) -> Line:
    concert, name = cycle.concert, cycle.item.name.read(language)
    ending = "no concert"
    if concert:
        day, clock = _day(concert.downbeat), format_clock(concert.downbeat.time())
        ending = f"concert {day}, {clock}, {format_duration(concert.seconds)} of music"
    return Line(f"{name} ({cycle.id}): {ending}", style="bold underline")


def _summary(ensemble: EnsemblePlan, language: str) -> str:
    minutes = sum(row.rehearsal.minutes for row in ensemble.rehearsals)
    count = len(ensemble.rehearsals)
    return f"{ensemble.item.name.read(language)}: {count} rehearsals, {minutes // 60} h {minutes % 60:02} min"


def _table(ensemble: EnsemblePlan, language: str) -> Table:
    table = Table(expand=False, pad_edge=False, show_edge=False, row_styles=("", "dim"))
    table.add_column("Date", no_wrap=True)
    table.add_column("No.", no_wrap=True, justify="right")
    table.add_column("Stage", max_width=_WIDEST_STAGE, overflow="fold")
    table.add_column("Min", no_wrap=True, justify="right")
    habits = any(row.habit for row in ensemble.rehearsals)
    if habits:
        table.add_column("Habit", max_width=_WIDEST_HABIT, overflow="fold")
    table.add_column("Tempos of the day, beats a minute", overflow="fold")
    for row in ensemble.rehearsals:
        table.add_row(
            _day(row.rehearsal.start),
            f"{row.rehearsal.n}/{row.rehearsal.of}",
            row.stage.item.name.read(language),
            str(row.rehearsal.minutes),
            *([_habit(row)] if habits else []),
            ", ".join(_rungs(row)),
        )
    return table


def _habit(row: RehearsalRow) -> str:
    return row.habit.id.replace("-", " ") if row.habit else ""


def _rungs(row: RehearsalRow) -> Iterator[str]:
    """Name each passage once, with its tempo; a passage that is played twice keeps its rung."""
    seen = set()
    for block in row.blocks:
        if block.passage and block.rung and block.piece:
            place = (block.piece.id, block.passage.id)
            if place not in seen:
                seen.add(place)
                yield f"{block.passage.id} {block.rung.tempo.bpm_text}"


def _missed_lines(ensemble: EnsemblePlan) -> list[RenderableType]:
    if not ensemble.missed:
        return []
    days = "; ".join(f"{_day(missed.day)} ({missed.why})" for missed in ensemble.missed)
    return [Line(f"No rehearsal: {days}", style="dim")]


def _day(day: date) -> str:
    return f"{day:%a %b} {day.day:>2}"

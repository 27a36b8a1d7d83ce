"""`handbook plan --care`: sound and lifting by the published rules, for planning by staff.

Each figure stands beside the name of its rule and its scope, and none is called safe.
"""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text as Line

from handbook.domain.lifting import EndResult, OutsideMethod, as_printed, index_reading
from handbook.domain.noise import DBA, Reckoning, allowed_seconds_as_printed
from handbook.domain.tables import lift_limits
from handbook.domain.tables.cautions import STAFF_PAGE
from handbook.domain.tables.noise_limits import NIOSH, OSHA
from handbook.plan.care import CarePlan, LiftRow, care_plan
from handbook.plan.model import ConcertPlan, CyclePlan, Plan

_LEVELS = (85, 88, 91, 94, 97, 100)  # three decibels apart: halvings by NIOSH 98-126
_SECONDS_A_MINUTE = 60
_RULES = (NIOSH, OSHA)


def care_tables(plan: Plan, cycle: CyclePlan) -> Group:
    """Draw the care of one cycle's concerts; several by their names."""
    language = plan.languages[0]
    parts: list[RenderableType] = [
        Line(
            f"{cycle.item.name.read(language)} ({cycle.id}): care, for staff",
            style="bold underline",
        )
    ]
    if not cycle.held_concerts:
        return Group(*parts, "There is no concert.", "")
    for concert in cycle.held_concerts:
        if len(cycle.held_concerts) > 1:
            parts += ["", Line(concert.item.name.read(language), style="bold underline")]
        care = care_plan(concert)
        for part in (
            _sound(care, language),
            _lifts(care, language),
            _loads(concert, care, language),
        ):
            parts += ["", *part]
    return Group(*parts, "", *_cautions(), "")


def _sound(care: CarePlan, language: str) -> Iterator[RenderableType]:
    yield Line("Sound", style="bold")
    if care.sound:
        measured = _table("Measured", "Level", "Minutes")
        for spell in care.sound:
            measured.add_row(spell.what.read(language), str(spell.level), str(spell.minutes))
        yield measured
        for rule in care.rules:
            yield _dose(rule)
    else:
        yield "Nothing was measured: write levels under `care: sound` in concert.yaml."
    yield _allowed()
    for limit in _RULES:
        yield Line(f"{limit.name}: {limit.scope} Source: {limit.source}.", style="dim")


def _dose(rule: Reckoning) -> Line:
    """Say what one rule makes of the day; to the nearest percent and tenth of a decibel."""
    average = f", average over 8 hours {rule.twa.value:.1f} dBA" if rule.twa else ""
    told = [f"{rule.limit.name}: dose {rule.dose_percent:.0f} %{average}"]
    if rule.over_limit:
        told.append("over its limit")
    elif rule.action:
        told.append("at its level for a hearing program")
    told += [f"{level} is over its ceiling" for level in rule.over_ceiling]
    told += [f"{level} is off its table" for level in rule.outside_table]
    return Line("; ".join(told) + ".")


def _allowed() -> Table:
    table = _table("Time to a full dose at", *(limit.name for limit in _RULES))
    for level in _LEVELS:
        times = (allowed_seconds_as_printed(DBA(level), limit) for limit in _RULES)
        table.add_row(f"{level} dBA", *(_hours(seconds) for seconds in times))
    return table


def _hours(seconds: int) -> str:
    minutes, rest = divmod(seconds, _SECONDS_A_MINUTE)
    hours, minutes = divmod(minutes, _SECONDS_A_MINUTE)
    parts = ((hours, "h"), (minutes, "min"), (rest, "s"))
    return " ".join(f"{number} {unit}" for number, unit in parts if number)


def _lifts(care: CarePlan, language: str) -> Iterator[RenderableType]:
    yield Line("Lifts", style="bold")
    if not care.lifts:
        yield "No lift is described: write some under `care: lifts` in concert.yaml."
    for row in care.lifts:
        yield _lift(row, language)
    yield Line(f"{lift_limits.SCOPE} Source: {lift_limits.SOURCE}.", style="dim")


def _lift(row: LiftRow, language: str) -> Line:
    what = row.item.what.read(language)
    if isinstance(row.result, OutsideMethod):
        return Line(f"{what}: the equation does not cover this: {', '.join(row.result.reasons)}.")
    end: EndResult = row.result.governing
    unit = row.units.mass
    return Line(
        f"{what}: {as_printed(row.load, 1)} {unit} against a recommended limit of "
        f"{as_printed(end.rwl, 1)} {unit}, index {as_printed(end.index, 1)}: {index_reading(end.index)}."
    )


def _loads(concert: ConcertPlan, care: CarePlan, language: str) -> Iterator[RenderableType]:
    yield Line("Loads", style="bold")
    load = care.load
    if load is None:
        yield "No equipment is listed."
        return
    names = {gear.id: gear.name.read(language) for gear in load.moves}
    found = load.findings
    if not load.limits_stated:
        yield "The program states no limit of its own: ask the facilities or safety office."
    for words, ids in (
        ("Two adults, by the program's own limit", found.two_adults),
        ("Wheels, by the program's own limit", found.wheels),
        ("Nobody has weighed", load.totals.unweighed),
    ):
        if ids:
            yield Line(f"{words}: {', '.join(names[one] for one in ids)}.")
    yield Line(
        f"Limits are those written in {concert.address[0]}. Under a limit means under that limit "
        "and no more.",
        style="dim",
    )


def _cautions() -> Iterator[RenderableType]:
    yield Line("Cautions", style="bold")
    for caution in STAFF_PAGE:
        yield Line(f"- {caution.text}")
        yield Line(f"  {caution.scope} Source: {caution.source}.", style="dim")


def _table(*columns: str) -> Table:
    table = Table(expand=False, pad_edge=False, show_edge=False)
    for n, column in enumerate(columns):
        table.add_column(column, justify="right" if n else "left", overflow="fold")
    return table

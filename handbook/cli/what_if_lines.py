"""A season beside another one, in a terminal of 80 columns, and lines of YAML to write."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from fractions import Fraction
from itertools import groupby
from textwrap import wrap

from handbook.plan.climbs import (
    Climb,
    PassageClimbs,
    SeasonChange,
    laws_broken,
    left_by_stage,
)
from handbook.plan.content_lines import LineKind, Lines
from handbook.plan.model import Plan
from handbook.plan.what_if_mends import ReckonedMend

_WIDTH = 80
_NAME = 22  # letters of the first column
_TO = "→"
_LAST, _OF_DROPPED = "Since", frozenset({"Days", "Min"})
_COLUMNS: tuple[tuple[str, int, Callable[[Climb], str]], ...] = (
    ("Days", 8, lambda one: str(one.visits)),
    ("Min", 8, lambda one: str(one.minutes)),
    ("Marks", 6, lambda one: str(one.marks)),
    ("% week", 7, lambda one: _percent(one.week_percent)),
    ("At goal", 8, lambda one: str(one.at_goal)),
    (_LAST, 15, lambda one: _day(one.settled) if one.settled else "never"),
)
LEGEND = (
    "Days: rehearsals that play it; Min: minutes on it alone; Marks: the largest step from one "
    "to the next; % week: the most that home practice rises in a week; At goal: rehearsals at "
    "the goal; Since: the first of them. One number: it stays as it is."
)
"""What the columns of `season_lines` mean."""


def wrapped(text: str, indent: str = "") -> list[str]:
    """Break a sentence into lines of 80 columns, less those that it may be indented by."""
    return wrap(
        text, _WIDTH - 4, subsequent_indent=indent, break_on_hyphens=False, break_long_words=False
    )


def season_lines(
    change: SeasonChange,
    mends: Sequence[ReckonedMend],
    plan: Plan,
    first: date,
    *,
    every: bool,
) -> Iterator[str]:
    """Tell what becomes of one ensemble's season: rehearsals, passages, what gives way, what mends it."""
    language = plan.languages[0]
    yield f"{change.plan.item.name.read(language)} ({change.cycle})"
    yield from wrapped(_rehearsals(change, first), indent="  ")
    rows = [one for one in change.passages if every or one.before != one.after]
    if rows:
        yield ""
        yield from _table(rows)
    same = len(change.passages) - len(rows)
    if same:
        yield "1 passage climbs as before." if same == 1 else f"{same} passages climb as before."
    yield ""
    yield from _gives_way(change, mends, plan)


def verdict(change: SeasonChange, mends: Sequence[ReckonedMend]) -> str:
    """Say in a few words what becomes of an ensemble's season."""
    if change.after is None:
        return "no rehearsal is left"
    before, after = (len(one.rehearsals) if one else 0 for one in (change.before, change.after))
    told = f"{_many(after)}, {'as now' if before == after else f'not {before}'}"
    if not change.gave_way:
        kept = "nothing more gives way" if laws_broken(change.after) else "every goal is kept"
        return f"{told}; {kept}" if change.passages else told
    names = dict.fromkeys(
        one.passage.id if one.passage else f"measures of {one.piece.id if one.piece else ''}"
        for one in change.gave_way
    )
    ways = len(mends)
    mended = f"; {ways} {'way' if ways == 1 else 'ways'} to mend it below" if ways else ""
    return f"{told}; what gives way: {', '.join(names)}{mended}"


def yaml_lines(found: Sequence[Lines]) -> Iterator[str]:
    """Give lines with the place that each belongs to."""
    for place in found:
        yield from (f"  {line}" for line in wrapped(_where(place), indent="  "))
        yield from (f"    {line}" for line in place.lines)


def _rehearsals(change: SeasonChange, first: date) -> str:
    sides = [len(one.rehearsals) if one else 0 for one in (change.before, change.after)]
    if change.after is None:
        return "No rehearsal is left."
    stages = ", ".join(
        f"{one.name} {_both(str(one.before), str(one.after))}" for one in change.stages
    )
    told = f"{_many(sides[1])} in all: {stages}"
    if sides[0] != sides[1]:
        told = f"{_many(sides[1])} in all, not {sides[0]}: {stages}"
    last = change.after.rehearsals[-1].rehearsal.day
    if change.after.rehearsals[0].rehearsal.day < first <= last:
        left = [left_by_stage(one, first) for one in (change.before, change.after)]
        by_stage = ", ".join(
            f"{one.name} {_both(str(left[0][one.id]), str(left[1][one.id]))}"
            for one in change.stages
            if left[0][one.id] or left[1][one.id]
        )
        told += f". Left from {_day(first)} on: {by_stage}"
    return f"{told}."


def _table(rows: Sequence[PassageClimbs]) -> Iterator[str]:
    yield _line("Passage", [name for name, _, _ in _COLUMNS])
    for title, group in groupby(rows, key=lambda one: one.title):
        yield title
        for one in group:
            cells = [_cell(one, name, read) for name, _, read in _COLUMNS]
            name = f"  {one.passage}"
            if len(name) > _NAME:
                yield name
                name = ""
            yield _line(name, cells)


def _line(name: str, cells: Sequence[str]) -> str:
    widths = [width for _, width, _ in _COLUMNS]
    told = "".join(f" {cell:<{width}}" for cell, width in zip(cells, widths, strict=True))
    return f"{name:<{_NAME}}{told}".rstrip()


def _cell(one: PassageClimbs, column: str, read: Callable[[Climb], str]) -> str:
    before, after = (read(side) if side else "-" for side in (one.before, one.after))
    if one.dropped and column not in _OF_DROPPED:
        return "dropped" if column == _LAST else ""
    return _both(before, after)


def _both(before: str, after: str) -> str:
    return before if before == after else f"{before}{_TO}{after}"


def _gives_way(change: SeasonChange, mends: Sequence[ReckonedMend], plan: Plan) -> Iterator[str]:
    cycle = next((one for one in plan.cycles if one.id == change.cycle), None)
    leap = cycle.item.leap if cycle else 0
    if not change.gave_way:
        if change.after is not None and change.passages:
            yield from wrapped(
                "Nothing gives way that is kept now: no time in class is more than "
                f"{leap} percent faster than the last (`leap`)."
            )
        return
    yield from wrapped(
        f"What gives way, with no time in class more than {leap} percent faster than the last "
        "(`leap`):"
    )
    for one in change.gave_way:
        yield from wrapped(f"- {one.sentence}", indent="  ")
    yield ""
    if not mends:
        yield from wrapped(
            "No one small change is enough: take more rehearsals, lower goals and fewer "
            "passages together."
        )
        return
    yield "This mends it:" if len(mends) == 1 else "Any one of these mends it:"
    for mend in mends:
        yield from wrapped(f"- {mend.sentence}", indent="  ")
        yield from yaml_lines(mend.altered.lines)
        for problem in mend.problems:
            yield from (
                f"    {line}" for line in wrapped(f"(`handbook check` would say: {problem})")
            )


def _where(place: Lines) -> str:
    steps = [f"entry {one + 1}" if isinstance(one, int) else str(one) for one in place.under]
    under = f", {' > '.join(steps)}" if steps else ""
    match place.kind:
        case LineKind.ADD:
            return f"{place.file}{under}, add:"
        case LineKind.SET:
            return f"{place.file}{under}, set:"
        case LineKind.TAKE_OUT:
            what = "the entry" if place.under else "all of"
            return f"{place.file}{under}, take out {what}:"


def _many(count: int) -> str:
    return f"{count} rehearsal" if count == 1 else f"{count} rehearsals"


def _percent(share: Fraction) -> str:
    return f"{float(share):.0f}"


def _day(day: date) -> str:
    return f"{day:%b} {day.day}"

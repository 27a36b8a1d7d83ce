"""Stages as pages show them: a name and a row of rising notes, never colour alone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby

from handbook.outputs.components.texts_for import TextView, text_views
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import days, with_semicolons
from handbook.outputs.page import Context
from handbook.plan.model import RehearsalRow, StageSpan
from handbook.records import dataclass

_NOTE_STEP, _NOTE_MARGIN = 7, 4  # SVG user units from one notehead to the next, and at the edges
_LOWEST, _HIGHEST = 15.5, 4.5


@dataclass(frozen=True, slots=True)
class StageMark:
    """A row of rising noteheads, one a stage, as path data in a box 20 high.

    Those up to the stage itself are `filled`, the rest `open`.
    """

    width: int
    filled: str
    open: str


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage: `place` of `count`, from 1."""

    id: str
    name: str
    place: int
    count: int
    mark: StageMark
    home: tuple[TextView, ...]
    begins: date
    ends: date
    dates: str
    rehearsals: int


def stage_view(context: Context, span: StageSpan, count: int) -> StageView:
    """Show one of an ensemble's `count` stages."""
    return StageView(
        id=span.item.id,
        name=context.say(span.item.name),
        place=span.index + 1,
        count=count,
        mark=stage_mark(span.index + 1, count),
        home=text_views(context, span.item.home),
        begins=span.begins,
        ends=span.ends,
        dates=days(span.begins, span.ends),
        rehearsals=span.count,
    )


def stage_mark(place: int, count: int) -> StageMark:
    """Draw the mark of a stage, `place` of `count` from 1."""
    rise = (_LOWEST - _HIGHEST) / (count - 1) if count > 1 else 0.0
    heads = [
        f"M{_NOTE_MARGIN - 3 + _NOTE_STEP * index} {_LOWEST - rise * index:.4g}"
        "a3 2.4 0 1 0 6 0a3 2.4 0 1 0-6 0"
        for index in range(count)
    ]
    width = _NOTE_STEP * (count - 1) + 2 * _NOTE_MARGIN
    return StageMark(width, "".join(heads[:place]), "".join(heads[place:]))


@dataclass(frozen=True, slots=True)
class StageTurn:
    """A stage within a week; `when` says on which of its days, empty if it is the only one."""

    stage: StageView
    when: str


def stage_turns(rows: Sequence[RehearsalRow], stages: Sequence[StageView]) -> tuple[StageTurn, ...]:
    """Name the stages of a week's rehearsals in order, and from or until which day each one goes."""
    runs = [
        (stages[index], [row.rehearsal.day for row in group])
        for index, group in groupby(rows, key=lambda row: row.stage.index)
    ]
    last = len(runs) - 1
    return tuple(
        StageTurn(stage, _when(days, runs[place - 1][1] if place else [], last=place == last))
        for place, (stage, days) in enumerate(runs)
    )


def stages_in_words(turns: Sequence[StageTurn]) -> str:
    """Write `Build on Mon, Dec 7; Polish from Wed, Dec 9`."""
    return with_semicolons(
        gettext("%(stage)s %(when)s", stage=turn.stage.name, when=turn.when)
        if turn.when
        else turn.stage.name
        for turn in turns
    )


def _when(days: Sequence[date], before: Sequence[date], *, last: bool) -> str:
    """Say on which days a stage is; `before` are those of the stage before it in the week."""
    if last and not before:
        return ""
    # Translators: these stand behind the name of a stage of the season, such as "Polish".
    if last and before[-1] == days[0]:
        return pgettext("stage in a week", "from later that day")
    if last:
        return pgettext("stage in a week", "from %(day)s", day=formatting.short_day(days[0]))
    if days[0] == days[-1]:
        return pgettext("stage in a week", "on %(day)s", day=formatting.short_day(days[0]))
    return pgettext("stage in a week", "until %(day)s", day=formatting.short_day(days[-1]))

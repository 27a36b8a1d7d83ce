"""Stages as pages show them: a name and a circle that fills, never colour alone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from handbook.outputs.pages import formatting
from handbook.outputs.pages.draft import Context
from handbook.plan.model import StageSpan

_CIRCUMFERENCE = 25.133  # of the ring of radius 4 whose stroke of 8 draws the filling


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage: `place` of `count` (from 1), `fill` the dash that fills its circle."""

    id: str
    name: str
    place: int
    count: int
    fill: str
    purpose: str
    home: str
    goals: tuple[str, ...]
    begins: date
    ends: date
    dates: str
    rehearsals: int


def stage_view(context: Context, span: StageSpan, count: int) -> StageView:
    """Show one of an ensemble's `count` stages; the first circle is empty, the last full."""
    share = span.index / (count - 1) if count > 1 else 1.0
    return StageView(
        id=span.item.id,
        name=context.say(span.item.name),
        place=span.index + 1,
        count=count,
        fill=f"{share * _CIRCUMFERENCE:.2f} {_CIRCUMFERENCE}",
        purpose=context.say(span.item.purpose),
        home=context.say(span.item.home),
        goals=tuple(context.say(goal) for goal in span.item.goals),
        begins=span.begins,
        ends=span.ends,
        dates=f"{formatting.short_day(span.begins)} – {formatting.short_day(span.ends)}",
        rehearsals=span.count,
    )

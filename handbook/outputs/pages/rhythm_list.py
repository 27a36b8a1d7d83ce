"""The rhythms of a piece as pages list them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from handbook.outputs.pages.draft import Context
from handbook.outputs.pages.notation import Reader, RhythmFigure, RhythmFigures
from handbook.outputs.pages.weeks import measures
from handbook.plan.parts_model import PieceRhythm


@dataclass(frozen=True, slots=True)
class RhythmView:
    """A rhythm to count; `rudiment` is its name if it is one, `who` whom it is for, if not all."""

    name: str
    where: str
    who: str
    figure: RhythmFigure
    rudiment: str
    text: str


def rhythm_views(
    context: Context, rhythms: Iterable[PieceRhythm], figures: RhythmFigures, reader: Reader
) -> tuple[RhythmView, ...]:
    """Show rhythms to a reader in the order they are listed."""
    return tuple(_view(context, one, figures.of(one.row, reader)) for one in rhythms)


def _view(context: Context, one: PieceRhythm, figure: RhythmFigure) -> RhythmView:
    item = one.item
    return RhythmView(
        name=context.say(item.name),
        where=measures(item.measures.first, item.measures.last) if item.measures else "",
        who=", ".join(name.replace("-", " ") for name in item.who),
        figure=figure,
        rudiment=item.rudiment.name if item.rudiment else "",
        text=context.say(item.text),
    )

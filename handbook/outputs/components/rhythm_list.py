"""The rhythms of a piece as pages list them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from handbook.domain.values.text import Text
from handbook.outputs.components.notation import Reader, RhythmFigure, RhythmFigures
from handbook.outputs.components.texts_for import named_who
from handbook.outputs.components.weeks import measures
from handbook.outputs.instrument_names import rudiment_name
from handbook.plan.parts_model import PieceRhythm
from handbook.records import dataclass


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
    say: Callable[[Text | None], str],
    rhythms: Iterable[PieceRhythm],
    figures: RhythmFigures,
    reader: Reader,
) -> tuple[RhythmView, ...]:
    """Show rhythms to a reader in the order they are listed; `say` gives their words."""
    return tuple(_view(say, one, figures.of(one.row, reader)) for one in rhythms)


def _view(say: Callable[[Text | None], str], one: PieceRhythm, figure: RhythmFigure) -> RhythmView:
    item = one.item
    return RhythmView(
        name=say(item.name),
        where=measures(item.measures.first, item.measures.last) if item.measures else "",
        who=named_who(item.who),
        figure=figure,
        rudiment=rudiment_name(item.rudiment) if item.rudiment else "",
        text=say(item.text),
    )

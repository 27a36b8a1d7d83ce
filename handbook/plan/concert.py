"""From the concert's entries to its turns and its day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from handbook.plan.concert_day import Ground, concert_day
from handbook.plan.model import AppearancePlan, ConcertPlan, EnsemblePlan
from handbook.schema.concert import Appearance
from handbook.schema.handbook import concert_id


def concert_plan(ground: Ground, ensembles: Mapping[str, EnsemblePlan]) -> ConcertPlan:
    """Plan the concert of one cycle."""
    item = ground.item
    return ConcertPlan(
        id=concert_id(ground.concert.file),
        item=item,
        address=(ground.concert.file,),
        venue=ground.venue,
        downbeat=ground.downbeat,
        pick_up=ground.ending(item.pick_up) if item.pick_up else None,
        appearances=tuple(
            _appearance(
                turn, ensembles[turn.ensemble], ground.moment(turn.call) if turn.call else None
            )
            for turn in item.program
            if turn.ensemble in ensembles
        ),
        day=concert_day(ground, ensembles),
    )


def _appearance(turn: Appearance, ensemble: EnsemblePlan, call: datetime | None) -> AppearancePlan:
    pieces = {piece.item.id: piece for piece in ensemble.pieces}
    return AppearancePlan(
        item=turn,
        ensemble=ensemble.item,
        pieces=tuple(pieces[piece] for piece in turn.pieces if piece in pieces),
        call=call,
    )

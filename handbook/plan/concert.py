"""From the concert's entries to its turns and its day."""

from __future__ import annotations

from collections.abc import Mapping

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
            _appearance(ground, turn, ensembles.get(turn.band))
            for turn in item.program
            if turn.band in ensembles or turn.guest in ground.guests
        ),
        day=concert_day(ground, ensembles),
    )


def _appearance(ground: Ground, turn: Appearance, ensemble: EnsemblePlan | None) -> AppearancePlan:
    pieces = {piece.item.id: piece for piece in ensemble.pieces} if ensemble else {}
    return AppearancePlan(
        item=turn,
        ensemble=ensemble.item if ensemble else None,
        pieces=tuple(pieces[piece] for piece in turn.pieces if piece in pieces),
        call=ground.moment(turn.call) if turn.call else None,
        guest=ground.guests.get(turn.guest or ""),
    )

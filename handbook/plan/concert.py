"""From the concert's entries to moments with a zone, and the pieces of each turn."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, time
from zoneinfo import ZoneInfo

from handbook.plan.model import AppearancePlan, ConcertPlan, EnsemblePlan
from handbook.schema.concert import Appearance, Concert
from handbook.schema.handbook import Sourced
from handbook.schema.program import Program


def concert_plan(
    concert: Sourced[Concert],
    program: Program,
    ensembles: Mapping[str, EnsemblePlan],
    zone: ZoneInfo,
) -> ConcertPlan:
    """Plan the concert of one cycle."""
    item = concert.item

    def moment(clock: time | None) -> datetime | None:
        return datetime.combine(item.date, clock, zone) if clock else None

    return ConcertPlan(
        item=item,
        address=(concert.file,),
        venue=next(venue for venue in program.venues if venue.id == item.venue),
        downbeat=datetime.combine(item.date, item.downbeat, zone),
        pick_up=moment(item.pick_up),
        appearances=tuple(
            _appearance(turn, place, concert.file, ensembles[turn.ensemble], moment(turn.call))
            for place, turn in enumerate(item.program)
            if turn.ensemble in ensembles
        ),
    )


def _appearance(
    turn: Appearance, place: int, file: str, ensemble: EnsemblePlan, call: datetime | None
) -> AppearancePlan:
    pieces = {piece.item.id: piece for piece in ensemble.pieces}
    return AppearancePlan(
        ensemble=ensemble.item,
        pieces=tuple(pieces[piece] for piece in turn.pieces if piece in pieces),
        call=call,
        place=turn.place,
        address=(file, "program", place),
    )

"""From the concert's entries to its turns and its day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from handbook.plan.concert_day import Ground, concert_day, rain_ground
from handbook.plan.concert_model import ConcertDay
from handbook.plan.model import AppearancePlan, ConcertPlan, ConcertRain, EnsemblePlan
from handbook.schema.concert import Appearance
from handbook.schema.handbook import concert_id


def concert_plan(ground: Ground, ensembles: Mapping[str, EnsemblePlan]) -> ConcertPlan:
    """Plan one concert of a cycle."""
    item, day = ground.item, concert_day(ground, ensembles)
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
        day=day,
        rain=_rain(ground, ensembles, day) if item.rain else None,
    )


def _rain(
    ground: Ground, ensembles: Mapping[str, EnsemblePlan], usual: ConcertDay
) -> ConcertRain | None:
    rain = ground.item.rain
    if rain is None:
        return None
    then = rain_ground(ground)
    day = concert_day(then, ensembles) if then else None
    known = {(one.clash, one.first.address, one.second.address) for one in usual.conflicts}
    return ConcertRain(
        item=rain,
        address=ground.at("rain"),
        venue=(then or ground).venue,
        downbeat=(then or ground).downbeat,
        decided=decided_at(ground),
        day=day,
        conflicts=tuple(
            one
            for one in (day.conflicts if day else ())
            if (one.clash, one.first.address, one.second.address) not in known
        ),
    )


def decided_at(ground: Ground) -> datetime | None:
    """Give the moment at which it is decided what the weather allows."""
    decided = ground.item.rain.decided if ground.item.rain else None
    if decided is None:
        return None
    return datetime.combine(decided.day or ground.item.date, decided.clock, ground.zone)


def _appearance(ground: Ground, turn: Appearance, ensemble: EnsemblePlan | None) -> AppearancePlan:
    pieces = {piece.item.id: piece for piece in ensemble.pieces} if ensemble else {}
    return AppearancePlan(
        item=turn,
        ensemble=ensemble.item if ensemble else None,
        pieces=tuple(pieces[piece] for piece in turn.pieces if piece in pieces),
        call=ground.moment(turn.call) if turn.call else None,
        guest=ground.guests.get(turn.guest or ""),
    )

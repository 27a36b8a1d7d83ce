"""What is moved: totals, trips by route and carrier, and what is over the program's own limits."""

from __future__ import annotations

from handbook.domain.loads import (
    Carrier,
    LoadItem,
    OwnLimits,
    TripPlan,
    handling_findings,
    totals,
    trips,
)
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_model import LoadDay, RouteLoad
from handbook.schema.loads import CarrierEntry, Gear, LiftingRules
from handbook.schema.program import Room

_Route = tuple[str, str, str]


def load_day(ground: Ground) -> LoadDay | None:
    """Reckon the loads; None where nothing is listed. Handling keeps the director's words."""
    gear = ground.item.equipment
    if not gear:
        return None
    items = tuple(_load_item(ground, one) for one in gear)
    rules = ground.item.lifting or LiftingRules()
    limits = OwnLimits(rules.two_adults_over, rules.wheels_over)
    routes: dict[_Route, list[Gear]] = {}
    moves = tuple(move for one in gear for move in one.moves)
    for one in moves:
        routes.setdefault((one.from_, one.to, one.carrier or ""), []).append(one)
    return LoadDay(
        items=items,
        moves=moves,
        routes=tuple(_route(ground, route, tuple(moved)) for route, moved in routes.items()),
        totals=totals(items),
        findings=handling_findings(items, limits),
        limits_stated=limits != OwnLimits(),
    )


def _load_item(ground: Ground, gear: Gear) -> LoadItem:
    return LoadItem(
        id=gear.id,
        count=gear.count,
        weight=gear.weight,
        start=gear.from_,
        end=gear.to,
        handling=tuple(words.read(ground.language) for words in gear.handling),
        who=gear.who,
    )


def _route(ground: Ground, route: _Route, gear: tuple[Gear, ...]) -> RouteLoad:
    start, end, carrier_id = route
    carrier = next((one for one in ground.item.carriers if one.id == carrier_id), None)
    items = [_load_item(ground, one) for one in gear]
    return RouteLoad(
        start=_room(ground, start),
        end=_room(ground, end),
        carrier=carrier,
        items=gear,
        totals=totals(items),
        trips=_trips(items, carrier) if carrier else None,
    )


def _room(ground: Ground, room: str) -> Room:
    return ground.rooms.get(room) or Room(id=room, name=room.replace("-", " "))


def _trips(items: list[LoadItem], carrier: CarrierEntry) -> TripPlan:
    return trips(items, Carrier(carrier.id, carrier.pieces, carrier.weight))

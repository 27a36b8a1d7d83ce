"""What is moved, in words for the crew; limits are the program's own and no more."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.loads import Totals
from handbook.outputs.components.concert_words import counted, total, units_of, weight
from handbook.outputs.page import Context
from handbook.plan.concert_model import LoadDay, RouteLoad
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass
from handbook.schema.loads import Gear

NOT_WEIGHED = "not weighed"


@dataclass(frozen=True, slots=True)
class GearLine:
    """An item; `needs` is what the program's own limits ask for it, `handling` how it is handled."""

    item: Gear
    weight: str
    needs: tuple[str, ...]
    way: str
    who: str
    handling: str


@dataclass(frozen=True, slots=True)
class RouteLine:
    """One way with one carrier: what in all, and how often it goes.

    Not in the `trips` are what is `too_heavy` for the carrier, and `later` what has no weight yet.
    """

    way: str
    carrier: str
    total: str
    trips: tuple[str, ...]
    too_heavy: tuple[str, ...]
    later: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LoadView:
    """All loads; `limits` says in words what the program's own limits are."""

    items: tuple[GearLine, ...]
    routes: tuple[RouteLine, ...]
    total: str
    limits: tuple[str, ...]


def load_view(context: Context, concert: ConcertPlan) -> LoadView | None:
    """Gather the loads of a concert; None where nothing is listed."""
    load = concert.day.load
    if load is None:
        return None
    return LoadView(
        items=tuple(_items(context, concert, load)),
        routes=tuple(_route(context, load, route) for route in load.routes),
        total=_weighed(load, load.totals),
        limits=tuple(_limits(concert)),
    )


def _items(context: Context, concert: ConcertPlan, load: LoadDay) -> Iterator[GearLine]:
    roles = {role.id: context.say(role.name) for role in concert.item.crew}
    rooms = {route.start.id: route.start for route in load.routes}
    rooms |= {route.end.id: route.end for route in load.routes}
    for gear in load.gear:
        start, end = rooms[gear.from_], rooms[gear.to]
        yield GearLine(
            item=gear,
            weight=weight(gear.weight) or NOT_WEIGHED,
            needs=tuple(_needs(gear, load)),
            way=f"{context.say(start.name)} to {context.say(end.name)}",
            who=roles.get(gear.who or "", ""),
            handling="; ".join(context.say(words).rstrip(".;") for words in gear.handling),
        )


def _needs(gear: Gear, load: LoadDay) -> Iterator[str]:
    if gear.id in load.findings.two_adults:
        yield "two adults"
    if gear.id in load.findings.wheels:
        yield "wheels"
    if gear.weight is None:
        yield "ask first"


def _route(context: Context, load: LoadDay, route: RouteLoad) -> RouteLine:
    plan = route.trips
    items = {gear.id: gear for gear in route.items}

    def named(one: str, count: int) -> str:
        name = context.say(items[one].name)
        return f"{name} ({count})" if count > 1 else name

    def whole(ids: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(named(one, items[one].count) for one in ids)

    return RouteLine(
        way=f"{context.say(route.start.name)} to {context.say(route.end.name)}",
        carrier=context.say(route.carrier.name) if route.carrier else "",
        total=_weighed(load, route.totals),
        trips=tuple(
            ", ".join(named(one, count) for one, count in trip.pieces)
            for trip in (plan.trips if plan else ())
        ),
        too_heavy=whole(plan.too_heavy) if plan else (),
        later=whole(plan.unweighed) if plan else (),
    )


def _weighed(load: LoadDay, totals: Totals) -> str:
    """Write how many pieces there are, and what those weigh that were weighed."""
    pieces = counted("piece", totals.pieces)
    if not totals.weighed:
        return pieces
    weight_of_all = total(totals.kg, units_of(gear.weight for gear in load.gear))
    if totals.weighed == totals.pieces:
        return f"{pieces}, {weight_of_all} in all"
    rest = totals.pieces - totals.weighed
    return f"{pieces}: {rest} {NOT_WEIGHED}, the others {weight_of_all}"


def _limits(concert: ConcertPlan) -> Iterator[str]:
    rules = concert.item.lifting
    if rules and rules.two_adults_over:
        yield f"two adults for a piece over {weight(rules.two_adults_over)}"
    if rules and rules.wheels_over:
        yield f"wheels for a piece over {weight(rules.wheels_over)}"

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
    """One way with one carrier: what in all, and how often it goes."""

    way: str
    carrier: str
    total: str
    trips: tuple[str, ...]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LoadView:
    """All loads; `limits` says in words what the program's own limits are."""

    items: tuple[GearLine, ...]
    routes: tuple[RouteLine, ...]
    total: str
    unweighed: tuple[str, ...]
    limits: tuple[str, ...]


def load_view(context: Context, concert: ConcertPlan) -> LoadView | None:
    """Gather the loads of a concert; None where nothing is listed."""
    load = concert.day.load
    if load is None:
        return None
    names = {gear.id: context.say(gear.name) for gear in load.gear}
    return LoadView(
        items=tuple(_items(context, concert, load)),
        routes=tuple(_route(context, load, route, names) for route in load.routes),
        total=_weighed(load, load.totals),
        unweighed=tuple(names[one] for one in load.totals.unweighed),
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
            weight=weight(gear.weight),
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
        yield "not weighed: ask first"


def _route(context: Context, load: LoadDay, route: RouteLoad, names: dict[str, str]) -> RouteLine:
    plan = route.trips
    return RouteLine(
        way=f"{context.say(route.start.name)} to {context.say(route.end.name)}",
        carrier=context.say(route.carrier.name) if route.carrier else "",
        total=_weighed(load, route.totals),
        trips=tuple(
            ", ".join(f"{count} × {names[one]}" for one, count in trip.pieces)
            for trip in (plan.trips if plan else ())
        ),
        left=tuple(names[one] for one in (*plan.too_heavy, *plan.unweighed)) if plan else (),
    )


def _weighed(load: LoadDay, totals: Totals) -> str:
    """Write how many pieces there are, what those weigh that were weighed, and how many were not."""
    pieces = counted("piece", totals.pieces)
    if not totals.weighed:
        return f"{pieces}, not weighed"
    weight_of_all = total(totals.kg, units_of(gear.weight for gear in load.gear))
    if totals.weighed == totals.pieces:
        return f"{pieces}, {weight_of_all} in all"
    rest = totals.pieces - totals.weighed
    return f"{pieces}: {totals.weighed} weighed, {weight_of_all} in all; {rest} not weighed"


def _limits(concert: ConcertPlan) -> Iterator[str]:
    rules = concert.item.lifting
    if rules and rules.two_adults_over:
        yield f"two adults above {weight(rules.two_adults_over)}"
    if rules and rules.wheels_over:
        yield f"wheels above {weight(rules.wheels_over)}"

"""What is moved, in words for the crew; limits are the program's own and no more."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.domain.loads import LoadItem, Totals, totals
from handbook.outputs.components.concert_words import total, unended, units_of, weight
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import with_semicolons
from handbook.outputs.page import Context
from handbook.plan.concert_model import LoadDay, RouteLoad
from handbook.plan.model import ConcertPlan
from handbook.records import dataclass
from handbook.schema.loads import Gear
from handbook.schema.program import Room

_SIDE_BY_SIDE = " · "  # between names that begin with a capital, which no sentence would keep


@dataclass(frozen=True, slots=True)
class GearLine:
    """An item on one of its ways; `each` is the weight of one, `needs` what the program's own limits ask.

    `carrier` takes it, empty if it goes by hand or on wheels; `handling` says how it is handled.
    """

    item: Gear
    weight: str
    each: str
    needs: tuple[str, ...]
    way: str
    carrier: str
    who: str
    handling: str
    two_adults: bool = False


@dataclass(frozen=True, slots=True)
class Share:
    """Things that go together, and the role that moves them; `who` is empty where one moves all of a way."""

    who: str
    things: str

    @property
    def told(self) -> str:
        """Name who moves them, if that must be said, and then the things."""
        if not self.who:
            return self.things
        return gettext("%(who)s: %(words)s", who=self.who, words=self.things)


@dataclass(frozen=True, slots=True)
class RouteLine:
    """One way with one carrier: what in all, and how often it goes.

    Not in the `trips` are what is `too_heavy` for the carrier, and `later` what has no weight yet.
    `roles` are the numbers of those who move it; None where any of it is left to all.
    `parts` say of each role that moves not all of it how much it moves.
    """

    way: str
    carrier: str
    total: str
    trips: tuple[tuple[Share, ...], ...]
    too_heavy: tuple[Share, ...]
    later: tuple[Share, ...]
    roles: tuple[int, ...] | None
    parts: tuple[tuple[str, str], ...] = ()

    def part_of(self, role: str) -> str:
        """Say what of it a role moves; nothing where that is all."""
        return dict(self.parts).get(role, "")


@dataclass(frozen=True, slots=True)
class LoadView:
    """All loads, `items` for each way of a thing; `limits` says in words what the program's own limits are.

    `back` says whether they go back by the ways on which they came, but for what stays.
    """

    items: tuple[GearLine, ...]
    routes: tuple[RouteLine, ...]
    total: str
    limits: tuple[str, ...]
    back: bool

    @property
    def things(self) -> tuple[tuple[GearLine, ...], ...]:
        """Each thing with all of its ways, in their order."""
        ids = dict.fromkeys(line.item.id for line in self.items)
        return tuple(tuple(line for line in self.items if line.item.id == one) for one in ids)


def load_view(context: Context, concert: ConcertPlan) -> LoadView | None:
    """Gather the loads of a concert; None where nothing is listed."""
    load = concert.day.load
    if load is None:
        return None
    return LoadView(
        items=tuple(_items(context, concert, load)),
        routes=tuple(_route(context, concert, load, route) for route in load.routes),
        total=_weighed(load, load.totals),
        limits=tuple(_limits(concert)),
        back=concert.item.goes_back,
    )


def _items(context: Context, concert: ConcertPlan, load: LoadDay) -> Iterator[GearLine]:
    roles = {role.id: context.say(role.name) for role in concert.item.crew}
    carriers = {one.id: context.say(one.name) for one in concert.item.carriers}
    rooms = {route.start.id: route.start for route in load.routes}
    rooms |= {route.end.id: route.end for route in load.routes}
    for gear in load.moves:
        start, end = rooms[gear.from_], rooms[gear.to]
        weighs = weight(gear.weight) or gettext("not weighed")
        yield GearLine(
            item=gear,
            weight=weighs,
            # Translators: the weight of one of several pieces.
            each=gettext("%(weight)s each", weight=weighs)
            if gear.weight and gear.count > 1
            else weighs,
            needs=tuple(_needs(gear, load)),
            way=_way(context, start, end),
            carrier=carriers.get(gear.carrier or "", ""),
            who=roles.get(gear.who or "", ""),
            handling=with_semicolons(unended(context.say(words)) for words in gear.handling),
            two_adults=gear.id in load.findings.two_adults,
        )


def _way(context: Context, start: Room, end: Room) -> str:
    # Translators: from one room to another.
    return gettext(
        "From %(start)s to %(end)s", start=context.say(start.name), end=context.say(end.name)
    )


def _needs(gear: Gear, load: LoadDay) -> Iterator[str]:
    if gear.id in load.findings.two_adults:
        yield gettext("two adults")
    if gear.id in load.findings.wheels:
        # Translators: how a heavy piece is to be moved: on a cart, a dolly or wheels of its own.
        yield gettext("on wheels")
    if gear.weight is None:
        yield gettext("ask first")


def _route(context: Context, concert: ConcertPlan, load: LoadDay, route: RouteLoad) -> RouteLine:
    plan = route.trips
    movers = {gear.who for gear in route.items}
    items = {gear.id: gear for gear in route.items}
    names = {role.id: context.say(role.name) for role in concert.item.crew}

    def named(one: str, count: int) -> str:
        name = context.say(items[one].name)
        if count == 1:
            return name
        # Translators: a thing, and how many of it.
        return gettext("%(thing)s (%(count)s)", thing=name, count=count)

    def shares(pieces: Sequence[tuple[str, int]]) -> tuple[Share, ...]:
        if len(movers) == 1:
            things = _SIDE_BY_SIDE.join(named(one, count) for one, count in pieces)
            return (Share("", things),) if pieces else ()
        roles = dict.fromkeys(items[one].who for one, _ in pieces)
        return tuple(
            Share(
                names.get(role or "", gettext("Everyone")),
                _SIDE_BY_SIDE.join(
                    named(one, count) for one, count in pieces if items[one].who == role
                ),
            )
            for role in roles
        )

    def whole(ids: tuple[str, ...]) -> tuple[Share, ...]:
        return shares([(one, items[one].count) for one in ids])

    return RouteLine(
        way=_way(context, route.start, route.end),
        carrier=context.say(route.carrier.name) if route.carrier else "",
        total=_weighed(load, route.totals) if route.carrier else _counted(route.totals),
        trips=tuple(shares(trip.pieces) for trip in (plan.trips if plan else ())),
        too_heavy=whole(plan.too_heavy) if plan else (),
        later=whole(plan.unweighed) if plan else (),
        roles=None
        if None in movers
        else tuple(n for n, one in enumerate(concert.item.crew, start=1) if one.id in movers),
        parts=tuple(_parts(load, route)),
    )


def _parts(load: LoadDay, route: RouteLoad) -> Iterator[tuple[str, str]]:
    """Say of each role that shares a way with others how much of it is its own."""
    movers = dict.fromkeys(gear.who for gear in route.items)
    for one in movers if len(movers) > 1 else ():
        if one:
            own = totals(
                LoadItem(gear.id, gear.count, gear.weight, gear.from_, gear.to)
                for gear in route.items
                if gear.who == one
            )
            yield one, _weighed(load, own) if route.carrier else _counted(own)


def _pieces(totals: Totals) -> str:
    # Translators: a piece of equipment, to be carried.
    return ngettext("%(num)s piece", "%(num)s pieces", totals.pieces)


def _weighed(load: LoadDay, totals: Totals) -> str:
    """Write how many pieces there are, and what those weigh together that were weighed."""
    pieces = _pieces(totals)
    if not totals.weighed:
        return pieces
    weight_of_all = total(totals.kg, units_of(gear.weight for gear in load.moves))
    if totals.weighed == totals.pieces:
        return gettext("%(pieces)s, %(weight)s in all", pieces=pieces, weight=weight_of_all)
    return ngettext(
        "%(pieces)s: %(num)s not weighed, the rest %(weight)s together",
        "%(pieces)s: %(num)s not weighed, the rest %(weight)s together",
        totals.pieces - totals.weighed,
        pieces=pieces,
        weight=weight_of_all,
    )


def _counted(totals: Totals) -> str:
    """Write how many pieces go by hand: nobody carries all of them at once, so no sum is said."""
    if totals.weighed in (0, totals.pieces):
        return _pieces(totals)
    return ngettext(
        "%(pieces)s, %(num)s of them not weighed",
        "%(pieces)s, %(num)s of them not weighed",
        totals.pieces - totals.weighed,
        pieces=_pieces(totals),
    )


def _limits(concert: ConcertPlan) -> Iterator[str]:
    rules = concert.item.lifting
    if rules and rules.two_adults_over:
        over = weight(rules.two_adults_over)
        yield gettext("two adults for a piece over %(weight)s", weight=over)
    if rules and rules.wheels_over:
        over = weight(rules.wheels_over)
        yield gettext("wheels for a piece over %(weight)s", weight=over)

"""The sheet that a role of the crew has in the hand on the day of a concert."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from handbook.outputs import addresses
from handbook.outputs.components.crew_loads import GearLine, RouteLine
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import CREW_POINTS, Sheet
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.crew import CrewView, RoleView


@dataclass(frozen=True, slots=True)
class WayView:
    """A way on which a role moves things: with each cart or truck, or by hand, what of it."""

    way: str
    loads: tuple[tuple[RouteLine, tuple[GearLine, ...]], ...]


@dataclass(frozen=True, slots=True)
class CrewSheetView:
    """The crew's page, for one `role` of it, the `n`-th from 1.

    `ways` are those on which it moves things; `stage` and `bands` say whether the run of show
    and the times of the bands concern it.
    """

    page: CrewView
    role: RoleView
    n: int
    ways: tuple[WayView, ...]
    stage: bool
    bands: bool


def crew_sheets(context: Context, cycle_id: str, view: CrewView) -> Iterator[Sheet]:
    """Make a sheet for each role; none for a concert that is cancelled."""
    concert = view.concert
    if concert.item.cancelled:
        return
    for n, role in enumerate(view.roles, start=1):
        yield Sheet(
            path=addresses.concert_sheet(
                cycle_id, concert.id, context.language, "role", role.item.id
            ),
            kind="crew",
            # Translators: the title of a printed sheet.
            title=gettext(
                "%(concert)s: %(role)s",
                concert=context.say(concert.item.name),
                role=context.say(role.item.name),
            ),
            view=CrewSheetView(
                view,
                role,
                n,
                _ways(view, role),
                stage=_concerns(n, view.only_for.stage),
                bands=_concerns(n, view.only_for.bands),
            ),
            points=CREW_POINTS,
        )


def _ways(view: CrewView, role: RoleView) -> tuple[WayView, ...]:
    found: dict[str, list[tuple[RouteLine, tuple[GearLine, ...]]]] = {}
    for route in view.load.routes if view.load else ():
        own = tuple(
            line for line in role.carries if (line.way, line.carrier) == (route.way, route.carrier)
        )
        if own:
            found.setdefault(route.way, []).append((route, own))
    return tuple(WayView(way, tuple(loads)) for way, loads in found.items())


def _concerns(n: int, roles: tuple[int, ...] | None) -> bool:
    return roles is None or n in roles

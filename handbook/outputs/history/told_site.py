"""What must be known of a site to tell of its changes: names, pages, cycles."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from zoneinfo import ZoneInfo

from handbook.outputs import addresses
from handbook.outputs.components.free_pages import shown_pages
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.page import Context
from handbook.plan.players import everyone
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class ToldCycle:
    """A cycle, by which publications are put together."""

    name: str
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class ToldSite:
    """A site whose changes are told.

    It is told in a `language`, of which the `first` of the site may be another. `ensembles` are
    names by ids, in order; `free_pages` titles by addresses; `address` is where its pages in
    this language will stand, with a slash at its end, if that is known, `tree` their folder.
    """

    name: str
    language: str
    zone: ZoneInfo
    ensembles: Mapping[str, str]
    free_pages: Mapping[str, str]
    cycles: tuple[ToldCycle, ...]
    address: str | None
    first: str = SOURCE
    tree: str = ""


def told_site(context: Context, cycles: Iterable[ToldCycle], address: str | None) -> ToldSite:
    """Gather it of a plan; that may have no cycles, which are given beside it, in order of their first day."""
    plan = context.plan
    return ToldSite(
        name=context.say(plan.program.name),
        language=context.language,
        zone=plan.zone,
        ensembles={one.id: context.say(one.name) for one in everyone(plan.program.ensembles)},
        free_pages={
            addresses.free_page(shown.slug): context.marked(shown.page.title, shown.language)
            for shown in shown_pages(context)
        },
        cycles=tuple(cycles),
        address=address and f"{address}{context.tree}",
        first=plan.languages[0],
        tree=context.tree,
    )

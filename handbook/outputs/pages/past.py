"""All cycles, the newest first; which are coming, on and over is for the reader's browser to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from handbook.outputs import addresses
from handbook.outputs.components.concert_line import ConcertLine, concert_lines
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import days
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class PastCycle:
    """A cycle in the list."""

    name: str
    path: str
    dates: str
    first: date
    last: date
    concerts: tuple[ConcertLine, ...]
    ensembles: tuple[tuple[Link, tuple[Link, ...]], ...]


@dataclass(frozen=True, slots=True)
class PastView:
    """The page of cycles."""

    cycles: tuple[PastCycle, ...]


def share(context: Context, cycle: CyclePlan) -> PastCycle:
    """Give what the list shows of a cycle."""
    return PastCycle(
        name=context.say(cycle.item.name),
        path=addresses.cycle(cycle.id),
        # Translators: some weeks and the year of the last one, `Mon, Aug 24 – Tue, Oct 13, 2026`.
        dates=gettext(
            "%(days)s, %(year)s", days=days(cycle.first, cycle.last), year=cycle.last.year
        ),
        first=cycle.first,
        last=cycle.last,
        concerts=concert_lines(context, cycle, cycle.concerts),
        ensembles=tuple(
            (
                Link(
                    context.say(ensemble.item.name),
                    addresses.ensemble(cycle.id, ensemble.item.id),
                ),
                tuple(
                    Link(
                        context.say(piece.item.title),
                        addresses.piece(cycle.id, ensemble.item.id, piece.item.id),
                    )
                    for piece in ensemble.pieces
                ),
            )
            for ensemble in cycle.ensembles
        ),
    )


def pages(_context: Context, in_order: Sequence[PastCycle]) -> Iterator[Page]:
    """Make the page of all cycles."""
    cycles = tuple(reversed(in_order))
    yield Page(
        path=addresses.PAST,
        kind="past",
        title=gettext("All cycles"),
        description=gettext(
            "The cycles of the program, coming and past, with their music and concerts."
        ),
        section="past",
        view=PastView(cycles),
        search=(
            SearchEntry(
                gettext("All cycles"),
                " ".join(cycle.name for cycle in cycles),
                keywords="past cycles archive earlier finished last year coming next",
            ),
        ),
    )

"""The kinds of pages: those of one cycle, and those about the whole handbook."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from handbook.outputs.page import Context, Page
from handbook.outputs.pages import (
    calendar,
    concert,
    crew,
    cycle,
    ensemble,
    families,
    fundamentals,
    part,
    past,
    piece,
    today,
    words,
)
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass

OF_CYCLES: tuple[Callable[[Context, CyclePlan], Iterator[Page]], ...] = (
    cycle.pages,
    concert.pages,
    crew.pages,
)
"""Pages about a cycle as a whole, which show nothing of any other."""

OF_ENSEMBLES: tuple[Callable[[Context, CyclePlan, EnsemblePlan], Iterator[Page]], ...] = (
    ensemble.pages,
    piece.pages,
    part.pages,
)
"""Pages of one ensemble in a cycle, which show nothing of the others; see `alone`."""


@dataclass(frozen=True, slots=True)
class WholeKind:
    """Pages about the whole handbook, made of what each cycle adds to them and no more.

    `share` gives what a cycle adds; `pages` makes them of the shares of all cycles in order,
    or of the `newest` so many.
    """

    name: str
    share: Callable[[Context, CyclePlan], Any]
    pages: Callable[[Context, Sequence[Any]], Iterator[Page]]
    newest: int | None = None

    def shown(self, shares: Sequence[Any]) -> Sequence[Any]:
        """Give the shares of the cycles that are shown."""
        return shares if self.newest is None else shares[-self.newest :]


WHOLE: tuple[WholeKind, ...] = (
    WholeKind("today", today.share, today.pages, today.CYCLES_SHOWN),
    WholeKind("fundamentals", fundamentals.share, fundamentals.pages),
    WholeKind("calendar", calendar.share, calendar.pages),
    WholeKind("words", words.share, words.pages),
    WholeKind("families", lambda _context, _cycle: None, families.pages, newest=0),
    WholeKind("past", past.share, past.pages),
)

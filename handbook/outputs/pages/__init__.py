"""The kinds of pages, in the order of the navigation."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from handbook.outputs.pages import (
    calendar_page,
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
    words_page,
)
from handbook.outputs.pages.draft import Context, PageDraft

Kind = Callable[[Context], Iterator[PageDraft]]

PAGES: tuple[Kind, ...] = (
    today.drafts,
    cycle.drafts,
    ensemble.drafts,
    piece.drafts,
    part.drafts,
    concert.drafts,
    crew.drafts,
    fundamentals.drafts,
    calendar_page.drafts,
    words_page.drafts,
    families.drafts,
    past.drafts,
)

# Those whose pages are an ensemble's own, made without regard to any other's.
BY_ENSEMBLE: frozenset[Kind] = frozenset({ensemble.drafts, piece.drafts, part.drafts})

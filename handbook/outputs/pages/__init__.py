"""The kinds of pages, in the order of the navigation."""

from __future__ import annotations

from collections.abc import Callable, Iterator

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

Kind = Callable[[Context], Iterator[Page]]

PAGES: tuple[Kind, ...] = (
    today.pages,
    cycle.pages,
    ensemble.pages,
    piece.pages,
    part.pages,
    concert.pages,
    crew.pages,
    fundamentals.pages,
    calendar.pages,
    words.pages,
    families.pages,
    past.pages,
)

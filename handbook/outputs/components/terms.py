"""A term and its meaning, as pages of music show it."""

from __future__ import annotations

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class TermView:
    """A term and its meaning."""

    term: str
    meaning: str
    anchor: str

"""Ids that content may not use, since the site has pages of its own at those addresses."""

from __future__ import annotations

CYCLES = frozenset(
    {"fundamentals", "calendar", "words", "families", "past", "search", "assets", "media"}
)
"""Stand beside the cycles."""
ENSEMBLES = frozenset({"concert"})
"""Stand beside the ensembles of a cycle."""
PIECES = frozenset({"part"})
"""Stand beside the pieces of an ensemble."""

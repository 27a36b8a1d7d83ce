"""Ids that content may not use, since they could not be addresses of their own."""

from __future__ import annotations

from handbook.domain.anchors import TAKEN_ANCHORS
from handbook.page_kinds import Of, kept_folders

MOST_LETTERS = 60
"""Of an id: several of them make one address, and a system may take 260 letters of it."""
DEVICES = frozenset(
    {"con", "prn", "aux", "nul"}
    | {f"{port}{number}" for port in ("com", "lpt") for number in range(10)}
)
"""Names that Windows keeps, with any ending, for devices ("Naming Files, Paths, and
Namespaces", Microsoft Learn)."""
NO_FOLDERS = DEVICES | {"index"}
"""Those, and the page of the folder above."""

CYCLES = kept_folders(Of.HANDBOOK) | {"search", "assets", "media", "404"}
"""Stand beside the cycles."""
ENSEMBLES = kept_folders(Of.CYCLE)
"""Stand beside the ensembles of a cycle."""
PIECES = kept_folders(Of.ENSEMBLE)
"""Stand beside the pieces of an ensemble."""

PLACES = TAKEN_ANCHORS
"""Places that any page may have for itself, and so no id that has a place on one."""
PLACES_OF_PARTS = PLACES | {
    *("this-week", "tuning", "fundamentals", "percussion-players"),
    *("know-first", "know-asks", "know-question"),
}
"""Those of a part's page, where pieces and exercises have theirs."""
PLACES_OF_PIECES = PLACES | {
    *("targets", "watch", "rhythms", "percussion-players", "drone", "form", "terms"),
}
"""Those of a piece's page, where passages have theirs."""

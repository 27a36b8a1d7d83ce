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
_OF_KNOWN_FIRST = {"know-first", "know-asks", "know-question"}
PLACES_OF_TODAY = PLACES | {
    *("bands", "concerts", "events", "next-rehearsal", "school-days", "tonight"),
    *("which-band", "which-part"),
}
"""Those of the first page, where ensembles have theirs."""
PLACES_OF_PARTS = (
    PLACES
    | _OF_KNOWN_FIRST
    | {
        *("this-week", "tonight", "tuning", "tuning-octave", "fundamentals", "percussion-players"),
        *("your-music",),
    }
)
"""Those of a part's page, where pieces and exercises have theirs."""
PLACES_OF_PIECES = PLACES | {
    *("targets", "watch", "rhythms", "percussion-players", "drone", "form", "terms"),
    *("form-reckoned", "piece-lead", "road-map"),
}
"""Those of a piece's page, where passages have theirs."""

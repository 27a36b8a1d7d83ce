"""Sections of a band, as they sit and are spoken to; common practice, no source."""

from __future__ import annotations

from collections.abc import Mapping

from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS, Family

SECTIONS: Mapping[str, frozenset[str]] = {
    "flutes": FAMILIES["flutes"],
    "double-reeds": FAMILIES["double-reeds"],
    "clarinets": FAMILIES["clarinets"],
    "saxophones": FAMILIES["saxophones"],
    "trumpets": frozenset({"trumpet", "trumpet-in-c", "cornet", "flugelhorn"}),
    "horns": frozenset({"horn", "mellophone"}),
    "low-brass": FAMILIES["low-brass"],
    "strings": FAMILIES["strings"],
    "keyboards": frozenset(row.id for row in INSTRUMENTS if row.family is Family.KEYBOARD),
    "percussion": FAMILIES["percussion"],
}
"""Section to the ids of its instruments in the table, in score order; no instrument is in two."""

CALLED_ALIKE = frozenset({"flutes", "clarinets", "saxophones", "trumpets", "horns"})
"""Sections that have their name even where only one kind of instrument is in them."""

_OF = {one: section for section, those in SECTIONS.items() for one in those}


def section_of(instrument: str) -> str:
    """Give the section of an instrument of the table, by its id; ValueError for any other."""
    if instrument not in _OF:
        raise ValueError(f"{instrument} is no instrument of the table")
    return _OF[instrument]

"""Families of instruments by the names that directors call them, gathered from the table."""

from __future__ import annotations

from handbook.domain.tables.instruments import INSTRUMENTS, Family


def _of(*families: Family) -> frozenset[str]:
    return frozenset(row.id for row in INSTRUMENTS if row.family in families)


def _grouped() -> dict[str, frozenset[str]]:
    names = dict.fromkeys(group for row in INSTRUMENTS for group in row.groups)
    return {name: frozenset(row.id for row in INSTRUMENTS if name in row.groups) for name in names}


FAMILIES: dict[str, frozenset[str]] = {
    "winds": _of(Family.WOODWIND, Family.BRASS),
    "woodwinds": _of(Family.WOODWIND),
    "brass": _of(Family.BRASS),
    "percussion": _of(Family.PERCUSSION),
    "unpitched-percussion": frozenset(
        row.id for row in INSTRUMENTS if row.family is Family.PERCUSSION and not row.pitched
    ),
    "strings": _of(Family.STRINGS),
    **_grouped(),
}
"""Family to the ids of its instruments in the table."""

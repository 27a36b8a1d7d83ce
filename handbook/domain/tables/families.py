"""Families of instruments by the names that directors call them.

Common practice, no source; a tenor saxophone is counted with neither high nor low woodwinds.
"""

from __future__ import annotations

from handbook.domain.tables.instruments import INSTRUMENTS, Family


def _of(*families: Family) -> frozenset[str]:
    return frozenset(row.id for row in INSTRUMENTS if row.family in families)


_FLUTES = frozenset({"piccolo", "flute", "alto-flute", "bass-flute"})
_DOUBLE_REEDS = frozenset({"oboe", "english-horn", "bassoon", "contrabassoon"})
_CLARINETS = frozenset(row.id for row in INSTRUMENTS if row.id.endswith("clarinet"))
_SAXOPHONES = frozenset(row.id for row in INSTRUMENTS if row.id.endswith("saxophone"))
_LOW_BRASS = frozenset({"trombone", "bass-trombone", "euphonium", "euphonium-treble-clef", "tuba"})
_LOW_WOODWINDS = frozenset(
    {
        "bassoon",
        "contrabassoon",
        "bass-clarinet",
        "contra-alto-clarinet",
        "contrabass-clarinet",
        "baritone-saxophone",
    }
)
_MALLETS = frozenset(
    {"glockenspiel", "xylophone", "vibraphone", "marimba", "chimes", "mallet-percussion"}
)

FAMILIES: dict[str, frozenset[str]] = {
    "winds": _of(Family.WOODWIND, Family.BRASS),
    "woodwinds": _of(Family.WOODWIND),
    "high-woodwinds": frozenset(
        {"piccolo", "flute", "oboe", "e-flat-clarinet", "clarinet", "soprano-saxophone"}
    ),
    "low-woodwinds": _LOW_WOODWINDS,
    "flutes": _FLUTES,
    "double-reeds": _DOUBLE_REEDS,
    "clarinets": _CLARINETS,
    "saxophones": _SAXOPHONES,
    "brass": _of(Family.BRASS),
    "high-brass": _of(Family.BRASS) - _LOW_BRASS,
    "low-brass": _LOW_BRASS,
    "percussion": _of(Family.PERCUSSION),
    "mallets": _MALLETS,
    "unpitched-percussion": frozenset(
        row.id for row in INSTRUMENTS if row.family is Family.PERCUSSION and not row.pitched
    ),
    "strings": _of(Family.STRINGS),
}
"""Family to the ids of its instruments in the table."""

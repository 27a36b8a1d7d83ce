"""Ways of counting rhythms aloud that classrooms use.

Common practice, no source: no two rooms count quite alike, so the program names its way.
A way that counts by place gives every spot within the beat its syllable; one that counts
by length gives every note value its own, wherever it falls.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction
from types import MappingProxyType

from handbook.records import dataclass

_HALF, _QUARTER, _THIRD, _SIXTH = Fraction(1, 2), Fraction(1, 4), Fraction(1, 3), Fraction(1, 6)


def _table(rows: dict[Fraction, str]) -> Mapping[Fraction, str]:
    return MappingProxyType(rows)


@dataclass(frozen=True, slots=True)
class CountingSystem:
    """One way of counting.

    `halves` and `thirds` give syllables by place in a beat that divides in two or in three,
    as a share of the beat; the beat itself is its number. `between` is said at any finer
    place. `lengths`, if given, is by note length in quarters instead, and then `rest` is
    said for rests, and `pairs` and `triplet` for sixteenths in turn and for three in the
    time of two.
    """

    id: str
    name: str
    halves: Mapping[Fraction, str] = field(default_factory=dict)
    thirds: Mapping[Fraction, str] = field(default_factory=dict)
    between: str = "ta"
    lengths: Mapping[Fraction, str] = field(default_factory=dict)
    pairs: tuple[str, str] = ("", "")
    triplet: tuple[str, str, str] = ("", "", "")
    rest: str = ""


_E_AND_A = _table({_QUARTER: "e", _HALF: "&", 3 * _QUARTER: "a"})
_TA_TE_TA = _table({_QUARTER: "ta", _HALF: "te", 3 * _QUARTER: "ta"})
_LA_LI = _table({_SIXTH: "ta", _THIRD: "la", _HALF: "ta", 2 * _THIRD: "li", 5 * _SIXTH: "ta"})
_AND_A = _table({_SIXTH: "ta", _THIRD: "&", _HALF: "ta", 2 * _THIRD: "a", 5 * _SIXTH: "ta"})
_TRIP_LET = _table({_SIXTH: "ta", _THIRD: "trip", _HALF: "ta", 2 * _THIRD: "let", 5 * _SIXTH: "ta"})

_TA_TI = _table(
    {
        Fraction(4): "ta-a-a-a",
        Fraction(3): "ta-a-a",
        Fraction(2): "ta-a",
        Fraction(3, 2): "tai",
        Fraction(1): "ta",
        Fraction(3, 4): "tim",
        _HALF: "ti",
    }
)

COUNTING_SYSTEMS: dict[str, CountingSystem] = {
    row.id: row
    for row in (
        CountingSystem("numbers", "1 e & a, triplets 1 & a", _E_AND_A, _AND_A),
        CountingSystem("numbers-la-li", "1 e & a, triplets 1 la li", _E_AND_A, _LA_LI),
        CountingSystem("numbers-trip-let", "1 e & a, triplets 1 trip let", _E_AND_A, _TRIP_LET),
        CountingSystem("numbers-ta-te", "1 ta te ta, triplets 1 la li", _TA_TE_TA, _LA_LI),
        CountingSystem(
            "ta-ti",
            "ta, ti-ti, ti-ka-ti-ka",
            lengths=_TA_TI,
            pairs=("ti", "ka"),
            triplet=("tri", "o", "la"),
            between="ri",
            rest="sh",
        ),
    )
}
DEFAULT_COUNTING = "numbers"

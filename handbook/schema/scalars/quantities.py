"""Field types of weights, lengths and sound levels: a number is never taken without its unit."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated

from pydantic import WithJsonSchema

from handbook.domain.loads import MassUnit, Weight
from handbook.domain.noise import DBA, parse_dba
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass
from handbook.schema.scalars.codes import UNREADABLE_LENGTH, UNREADABLE_LEVEL, UNREADABLE_WEIGHT
from handbook.schema.scalars.patterns import any_case, one_of, whole
from handbook.schema.scalars.reading import read_by

_NUMBER = r"[0-9]{1,6}(\.[0-9]{1,4})?"
_MASS_UNITS = {"lb": MassUnit.LB, "lbs": MassUnit.LB, "pounds": MassUnit.LB, "kg": MassUnit.KG}
_LENGTH_UNITS = {"in": "in", "inches": "in", "cm": "cm"}
_QUANTITY = re.compile(r"(?P<number>[0-9]+(\.[0-9]{1,4})?)\s*(?P<unit>[a-z]*)")
_MOST_DECIBELS = 200
MOST = 100_000  # pounds or inches: more than a loaded truck weighs

MASS = whole(rf"{_NUMBER}\s*{one_of(_MASS_UNITS)}")
LENGTH = whole(rf"{_NUMBER}\s*{one_of(_LENGTH_UNITS)}")
LEVEL = whole(
    rf"[0-9]{{1,3}}(\.[0-9]{{1,3}})?\s*({any_case('dba')}|{any_case('db(a)')}|{any_case('db a')})"
)


@dataclass(frozen=True, slots=True)
class Length:
    """A length as stated, in inches (`in`) or centimetres (`cm`)."""

    number: Fraction
    unit: str


def _quantity(text: str, units: dict[str, str], what: str) -> tuple[Fraction, str]:
    found = _QUANTITY.fullmatch(" ".join(text.lower().split()))
    names = tuple(dict.fromkeys(units.values()))
    if not found:
        raise UnreadableError(f"`{text}` is no {what}", tuple(f"20 {name}" for name in names))
    if Fraction(found["number"]) > MOST:
        raise UnreadableError(f"`{text}` is more than any {what} here: {MOST:,} {names[0]} at most")
    if found["unit"] not in units:
        raise UnreadableError(
            f"`{text}` does not say its unit: {' or '.join(names)}",
            tuple(f"{found['number']} {name}" for name in names),
        )
    return Fraction(found["number"]), units[found["unit"]]


def _weight(text: str) -> Weight:
    number, unit = _quantity(
        text, {name: unit.value for name, unit in _MASS_UNITS.items()}, "weight"
    )
    return Weight(number, MassUnit(unit))


def _length(text: str) -> Length:
    return Length(*_quantity(text, _LENGTH_UNITS, "length"))


def _level(text: str) -> DBA:
    level = parse_dba(text)
    if not 0 <= level.value <= _MOST_DECIBELS:
        raise UnreadableError(f"`{text}` is no level that a meter shows", ("95 dBA",))
    return level


Mass = Annotated[
    Weight,
    read_by(_weight, "a weight", UNREADABLE_WEIGHT),
    WithJsonSchema({"type": "string", "pattern": MASS, "examples": ["45 lb", "20 kg"]}),
]
Distance = Annotated[
    Length,
    read_by(_length, "a length", UNREADABLE_LENGTH),
    WithJsonSchema({"type": "string", "pattern": LENGTH, "examples": ["18 in", "45 cm"]}),
]
SoundLevel = Annotated[
    DBA,
    read_by(_level, "a sound level", UNREADABLE_LEVEL),
    WithJsonSchema({"type": "string", "pattern": LEVEL, "examples": ["95 dBA"]}),
]

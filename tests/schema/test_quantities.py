"""Weights, lengths and levels: never without their unit."""

from __future__ import annotations

from fractions import Fraction

import pytest
from pydantic import TypeAdapter, ValidationError

from handbook.domain.loads import MassUnit, Weight
from handbook.domain.noise import DBA
from handbook.schema.scalars.quantities import Distance, Length, Mass, SoundLevel

MASS: TypeAdapter[Weight] = TypeAdapter(Mass)
DISTANCE: TypeAdapter[Length] = TypeAdapter(Distance)
LEVEL: TypeAdapter[DBA] = TypeAdapter(SoundLevel)


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("45 lb", "45", MassUnit.LB),
        ("45lbs", "45", MassUnit.LB),
        ("45 pounds", "45", MassUnit.LB),
        ("20.5 kg", "20.5", MassUnit.KG),
        ("0 KG", "0", MassUnit.KG),
    ],
)
def test_weights(text: str, number: str, unit: MassUnit) -> None:
    assert MASS.validate_python(text) == Weight(Fraction(number), unit)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("18 in", Length(Fraction(18), "in")),
        ("18 inches", Length(Fraction(18), "in")),
        ("45.5 cm", Length(Fraction("45.5"), "cm")),
    ],
)
def test_lengths(text: str, expected: Length) -> None:
    assert DISTANCE.validate_python(text) == expected


@pytest.mark.parametrize("text", ["95 dBA", "95 dB(A)", "95.0 dba"])
def test_levels(text: str) -> None:
    assert LEVEL.validate_python(text) == DBA(95.0)


@pytest.mark.parametrize(
    ("adapter", "text", "code", "suggested"),
    [
        (MASS, "45", "unreadable-weight", ("45 lb", "45 kg")),
        (MASS, "45 stone", "unreadable-weight", ("45 lb", "45 kg")),
        (MASS, "heavy", "unreadable-weight", ("20 lb", "20 kg")),
        (MASS, "-3 lb", "unreadable-weight", ("20 lb", "20 kg")),
        (DISTANCE, "18", "unreadable-length", ("18 in", "18 cm")),
        (DISTANCE, "2 ft", "unreadable-length", ("2 in", "2 cm")),
        (LEVEL, "95", "unreadable-level", ("95 dBA",)),
        (LEVEL, "95 dBC", "unreadable-level", ()),
        (LEVEL, "950 dBA", "unreadable-level", ("95 dBA",)),
    ],
)
def test_a_number_without_its_unit_is_refused(
    adapter: TypeAdapter[object], text: str, code: str, suggested: tuple[str, ...]
) -> None:
    with pytest.raises(ValidationError) as refused:
        adapter.validate_python(text)
    (error,) = refused.value.errors()
    assert (error["ctx"]["code"], error["ctx"]["suggestions"]) == (code, suggested)


@pytest.mark.parametrize(("kind", "unit"), [(MASS, "lb"), (DISTANCE, "in")])
@pytest.mark.parametrize("number", ["100000.1", "1000000000000"])
def test_more_than_can_be_meant_is_refused_with_the_limit(
    kind: TypeAdapter[object], unit: str, number: str
) -> None:
    kind.validate_python(f"100000 {unit}")
    with pytest.raises(ValidationError, match=f"100,000 {unit} at most"):
        kind.validate_python(f"{number} {unit}")

"""Figures of the revised NIOSH lifting equation, in both of its unit systems.

Source: NIOSH Publication No. 94-110, Applications Manual for the Revised NIOSH Lifting
Equation (1994; revised 9/2021); pages beside each table. For healthy adults at work: the
manual names no value for minors.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction

from handbook.records import dataclass

SOURCE = "NIOSH Publication No. 94-110 (1994, revised 9/2021)"
SCOPE = (
    "Made for healthy adults at work, two hands, one person, without carrying. It gives no value "
    "for students; the district's facilities or safety office decides."
)


@dataclass(frozen=True, slots=True)
class UnitSystem:
    """The equation's constants in one unit system (pp. 7-13); the two are no exact conversions.

    Lengths in `length`, loads in `mass`. Below a `least` length the multiplier is 1, above a
    `most` length it is 0. `vertical_ideal` also parts the columns of Tables 5 and 7.
    """

    name: str
    length: str
    mass: str
    load_constant: Fraction
    horizontal_least: Fraction
    horizontal_most: Fraction
    vertical_ideal: Fraction
    vertical_slope: Fraction
    vertical_most: Fraction
    travel_least: Fraction
    travel_most: Fraction
    travel_constant: Fraction


METRIC = UnitSystem(
    name="metric",
    length="cm",
    mass="kg",
    load_constant=Fraction(23),
    horizontal_least=Fraction(25),
    horizontal_most=Fraction(63),
    vertical_ideal=Fraction(75),
    vertical_slope=Fraction("0.003"),
    vertical_most=Fraction(175),
    travel_least=Fraction(25),
    travel_most=Fraction(175),
    travel_constant=Fraction("4.5"),
)
US = UnitSystem(
    name="US customary",
    length="in",
    mass="lb",
    load_constant=Fraction(51),
    horizontal_least=Fraction(10),
    horizontal_most=Fraction(25),
    vertical_ideal=Fraction(30),
    vertical_slope=Fraction("0.0075"),
    vertical_most=Fraction(70),
    travel_least=Fraction(10),
    travel_most=Fraction(70),
    travel_constant=Fraction("1.8"),
)

TRAVEL_BASE = Fraction("0.82")  # p. 11
ASYMMETRY_SLOPE = Fraction("0.0032")  # a degree, p. 12
ASYMMETRY_MOST = 135  # degrees, p. 12


class Duration(StrEnum):
    """How long lifting goes on (pp. 13-14)."""

    SHORT = "up to 1 hour"
    MODERATE = "over 1 to 2 hours"
    LONG = "over 2 to 8 hours"


class Coupling(StrEnum):
    """How well the hands hold the load (pp. 17-19); in doubt, the worse class."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


# Work up to which a class reaches, and the recovery it needs as a share of that work (pp. 13-14).
# The 1994 edition asked for 1.2 in the short class; the 9/2021 revision asks for 1.0.
SHORT_MINUTES, SHORT_RECOVERY = 60, Fraction(1)
MODERATE_MINUTES, MODERATE_RECOVERY = 120, Fraction("0.3")

LEAST_FREQUENCY = Fraction("0.2")  # lifts a minute; fewer count as this many, p. 15

# Table 5, p. 15: lifts a minute -> FM, hands low then high, for each duration in turn.
# The copy of this table in chapter 3 (p. 31) misprints its first row as 2.
_TABLE_5 = """
0.2  1.00 1.00  .95 .95  .85 .85
0.5   .97  .97  .92 .92  .81 .81
1     .94  .94  .88 .88  .75 .75
2     .91  .91  .84 .84  .65 .65
3     .88  .88  .79 .79  .55 .55
4     .84  .84  .72 .72  .45 .45
5     .80  .80  .60 .60  .35 .35
6     .75  .75  .50 .50  .27 .27
7     .70  .70  .42 .42  .22 .22
8     .60  .60  .35 .35  .18 .18
9     .52  .52  .30 .30  .00 .15
10    .45  .45  .26 .26  .00 .13
11    .41  .41  .00 .23  .00 .00
12    .37  .37  .00 .21  .00 .00
13    .00  .34  .00 .00  .00 .00
14    .00  .31  .00 .00  .00 .00
15    .00  .28  .00 .00  .00 .00
"""
_COLUMNS = tuple((duration, low) for duration in Duration for low in (True, False))
_ROWS = tuple(tuple(Fraction(cell) for cell in row.split()) for row in _TABLE_5.split("\n") if row)

# (duration, hands low) -> rows of (lifts a minute, FM), without the zero cells at the end.
FREQUENCY: dict[tuple[Duration, bool], tuple[tuple[Fraction, Fraction], ...]] = {
    column: tuple((row[0], row[place]) for row in _ROWS if row[place])
    for place, column in enumerate(_COLUMNS, start=1)
}

# Table 7, p. 19: coupling -> CM, hands low then high.
COUPLING: dict[Coupling, tuple[Fraction, Fraction]] = {
    Coupling.GOOD: (Fraction(1), Fraction(1)),
    Coupling.FAIR: (Fraction("0.95"), Fraction(1)),
    Coupling.POOR: (Fraction("0.90"), Fraction("0.90")),
}


class Outside(StrEnum):
    """Why the equation does not cover a lift: limits (pp. 8-15), then conditions (p. 6)."""

    TOO_FAR = "hands too far from the body"
    TOO_HIGH = "hands too high"
    TOO_LONG_A_WAY = "lifted or lowered too far"
    TOO_MUCH_TWIST = "turned too far to the side"
    TOO_OFTEN = "lifted too often"
    ONE_HAND = "one-handed"
    OVER_EIGHT_HOURS = "over eight hours"
    SEATED_OR_KNEELING = "seated or kneeling"
    TIGHT_SPACE = "in a tight space"
    UNSTABLE_LOAD = "an unstable load"
    CARRYING = "carrying, pushing or pulling"
    TWO_PEOPLE = "lifted by two or more people"
    BARROW_OR_SHOVEL = "with a barrow or shovel"
    FAST = "fast lifting"  # over about 30 in a second
    SLIPPERY_FLOOR = "a slippery floor"  # friction under 0.4
    HOT_COLD_OR_DAMP = "outside ordinary room climate"  # 19-26 °C, 35-50 % humidity


# Conditions that a caller states; the others follow from the numbers.
CONDITIONS = frozenset(Outside) - {
    Outside.TOO_FAR,
    Outside.TOO_HIGH,
    Outside.TOO_LONG_A_WAY,
    Outside.TOO_MUCH_TWIST,
    Outside.TOO_OFTEN,
}

GOAL_INDEX = 1  # p. 20; the glossary's "1.0 or more" is read as over 1.0
HIGH_INDEX = 3  # p. 20

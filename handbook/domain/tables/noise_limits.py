"""Noise exposure limits: criterion levels, exchange rates, ends of the printed tables.

Limits for adults at work. None was set for students, and none is a classroom limit.
"""

from __future__ import annotations

from fractions import Fraction

from handbook.records import dataclass

_WORK_SCOPE = (
    "A limit for adults at work. It was not set for students and is no limit for a classroom; "
    "the district's health and safety staff decide."
)


@dataclass(frozen=True, slots=True)
class ExposureLimit:
    """One body's rule for trading level against time.

    Levels in dBA, `exchange` in dB for each halving of time, `hours` the time allowed at
    `criterion`. `twa_factor` is the factor of the printed TWA formula, None where the source
    has none. `reaching_counts`: a dose of exactly 100 % is already too much. `action_dose` is
    the percent at which a hearing program must start. `tabled` are the first and last
    level of the source's own table, both included.
    """

    name: str
    criterion: Fraction
    exchange: Fraction
    hours: Fraction
    source: str
    scope: str
    tabled: tuple[Fraction, Fraction]
    twa_factor: Fraction | None = None
    reaching_counts: bool = False
    ceiling: Fraction | None = None
    action_dose: Fraction | None = None


# The printed 10 stands for 3 / log10(2) = 9.966; the printed figure is kept.
NIOSH = ExposureLimit(
    name="NIOSH recommended exposure limit",
    criterion=Fraction(85),
    exchange=Fraction(3),
    hours=Fraction(8),
    source="NIOSH Publication No. 98-126 (1998), chapter 1, Tables 1-1 and 1-2",
    scope=_WORK_SCOPE,
    tabled=(Fraction(80), Fraction(140)),
    twa_factor=Fraction(10),
    reaching_counts=True,
    ceiling=Fraction(140),
)

# The printed 16.61 stands for 5 / log10(2) = 16.6096. The regulation's cap on impulse noise,
# 140 dB peak, is no dBA level and so is not a ceiling here.
OSHA = ExposureLimit(
    name="OSHA permissible exposure",
    criterion=Fraction(90),
    exchange=Fraction(5),
    hours=Fraction(8),
    source="29 CFR 1910.95(a)-(c), Table G-16; Appendix A, Tables G-16a and A-1",
    scope=_WORK_SCOPE,
    tabled=(Fraction(80), Fraction(130)),
    twa_factor=Fraction("16.61"),
    action_dose=Fraction(50),
)

"""Noise dose and average level by published occupational rules, for staff planning only.

Every rule here is a limit for adults at work (`ExposureLimit.scope`). None was set for
students; no result may be shown as a safe level, and the district's health and safety
staff decide. A page that shows one rule's result must say which rule.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from fractions import Fraction

from handbook.domain.tables.noise_limits import ExposureLimit
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

_LEVEL = re.compile(r"(?P<number>-?\d+(?:\.\d+)?)\s*(?P<unit>.*)")
_DBA = ("dba", "db(a)", "db a")
_WHOLE_DOSE = 100
_MINUTES, _SECONDS = 60, 60


@dataclass(frozen=True, slots=True)
class DBA:
    """A sound level in A-weighted decibels; a type of its own, so that no other decibel passes.

    Raises ValueError unless finite.
    """

    value: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise ValueError(f"{self.value} is no level")

    def __str__(self) -> str:
        return f"{self.value:g} dBA"


@dataclass(frozen=True, slots=True)
class Exposure:
    """Minutes spent at one steady level. Raises ValueError below 0 minutes, TypeError if not dBA."""

    level: DBA
    minutes: float

    def __post_init__(self) -> None:
        _require_dba(self.level)
        if not (math.isfinite(self.minutes) and self.minutes >= 0):
            raise ValueError(f"{self.minutes} minutes of exposure")


@dataclass(frozen=True, slots=True)
class Reckoning:
    """What one rule makes of a day: dose in percent, TWA in dBA (None without any dose).

    `over_limit` and `action` compare the dose with the rule's own figures; `over_ceiling` and
    `outside_table` list levels above the rule's ceiling and off the end of its table. A
    reckoning with none of these is still no finding that the day is safe.
    """

    limit: ExposureLimit
    dose_percent: float
    twa: DBA | None
    over_limit: bool
    action: bool
    over_ceiling: tuple[DBA, ...]
    outside_table: tuple[DBA, ...]


def parse_dba(text: str) -> DBA:
    """Read `95 dBA` or `95 dB(A)`.

    Raises UnreadableError for a bare number and for any other weighting (dBC, dB SPL), which
    cannot be turned into dBA without the spectrum.
    """
    found = _LEVEL.fullmatch(" ".join(text.split()))
    if not found:
        raise UnreadableError(f"`{text.strip()}` is no sound level", ("95 dBA",))
    number, unit = found["number"], found["unit"]
    if not unit:
        raise UnreadableError(
            f"`{number}` does not say that it was measured in dBA", (f"{number} dBA",)
        )
    if unit.lower() not in _DBA:
        raise UnreadableError(f"`{unit}` is not A-weighted: measure in dBA, it cannot be converted")
    return DBA(float(number))


def allowed_minutes(level: DBA, limit: ExposureLimit) -> float:
    """Give the minutes after which a steady level alone makes a dose of 100 %; not rounded.

    T = hours / 2 ** ((L - criterion) / exchange): NIOSH 98-126 chapter 1; 29 CFR 1910.95
    Appendix A. For a weekly rule these are minutes a week. Off the source's table the formula
    still answers; `Reckoning.outside_table` says so.
    """
    _require_dba(level)
    halvings = (level.value - float(limit.criterion)) / float(limit.exchange)
    return float(limit.hours) * _MINUTES / math.exp2(halvings)


def allowed_seconds_as_printed(level: DBA, limit: ExposureLimit) -> int:
    """Give the allowed time in seconds, rounded half-up: to the minute from one hour up, else to the second.

    This is how NIOSH 98-126 Table 1-1 prints its rows, 99, 124 and 127 dBA excepted.
    """
    seconds = Fraction(allowed_minutes(level, limit)) * _SECONDS
    step = _SECONDS if seconds >= _MINUTES * _SECONDS else 1
    return math.floor(seconds / step + Fraction(1, 2)) * step


def dose_percent(day: Sequence[Exposure], limit: ExposureLimit) -> float:
    """Sum the dose, D = 100 * sum(C / T), in percent; 0 for no exposure at all."""
    return _WHOLE_DOSE * math.fsum(
        exposure.minutes / allowed_minutes(exposure.level, limit) for exposure in day
    )


def twa(dose: float, limit: ExposureLimit) -> DBA | None:
    """Turn a dose in percent into the 8-hour time-weighted average in dBA; not rounded.

    TWA = factor * log10(D / 100) + criterion with the factor as printed. None for a dose of 0,
    which has no average. Raises ValueError for a dose below 0 or a rule without a TWA.
    """
    if limit.twa_factor is None:
        raise ValueError(f"{limit.name} defines no 8-hour average")
    if dose < 0:
        raise ValueError(f"a dose of {dose} %")
    if dose == 0:
        return None
    return DBA(float(limit.twa_factor) * math.log10(dose / _WHOLE_DOSE) + float(limit.criterion))


def noise_dose(day: Sequence[Exposure], limit: ExposureLimit) -> Reckoning:
    """Apply one rule to a day (or, for a weekly rule, to a week) of exposures."""
    dose = dose_percent(day, limit)
    levels = sorted({exposure.level.value for exposure in day})
    low, high = limit.tabled
    return Reckoning(
        limit=limit,
        dose_percent=dose,
        twa=None if limit.twa_factor is None else twa(dose, limit),
        over_limit=dose >= _WHOLE_DOSE if limit.reaching_counts else dose > _WHOLE_DOSE,
        action=limit.action_dose is not None and dose >= limit.action_dose,
        over_ceiling=tuple(
            DBA(level) for level in levels if limit.ceiling is not None and level > limit.ceiling
        ),
        outside_table=tuple(DBA(level) for level in levels if not low <= level <= high),
    )


def _require_dba(level: object) -> None:
    if not isinstance(level, DBA):
        raise TypeError(f"a level in dBA is wanted, not {type(level).__name__}")

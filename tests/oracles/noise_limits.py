"""A weekly allowance, to show that the rules of a day are not taken for all rules."""

from __future__ import annotations

from fractions import Fraction

from handbook.domain.tables.noise_limits import ExposureLimit

_DEVICE_SCOPE = (
    "An allowance for listening to personal devices over a week. It is not meant for rehearsals "
    "or concerts."
)

# Weekly allowances; the 3 dB exchange is the equal-energy rule.
WHO_DEVICES_ADULT = ExposureLimit(
    name="WHO-ITU weekly sound allowance for devices, adults",
    criterion=Fraction(80),
    exchange=Fraction(3),
    hours=Fraction(40),
    source="WHO-ITU H.870, Guidelines for safe listening devices and systems",
    scope=_DEVICE_SCOPE,
    tabled=(Fraction(80), Fraction(104)),
)


WHO_DEVICES_SENSITIVE = ExposureLimit(
    name="WHO-ITU weekly sound allowance for devices, children and sensitive users",
    criterion=Fraction(75),
    exchange=Fraction(3),
    hours=Fraction(40),
    source="WHO-ITU H.870, Guidelines for safe listening devices and systems",
    scope=_DEVICE_SCOPE,
    tabled=(Fraction(75), Fraction(104)),
)

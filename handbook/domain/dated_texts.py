"""Whether a text names a day, and so is of no use another time; the project's own rule."""

from __future__ import annotations

import re

from handbook.domain.values.dates import MONTHS

_SHORT = 3
_SPANISH = [
    "enero",
    "febrero",
    "marzo",
    "abril",
    "mayo",
    "junio",
    "julio",
    "agosto",
    "septiembre",
    "setiembre",
    "octubre",
    "noviembre",
    "diciembre",
]
_NAMES = "|".join((*MONTHS, *(name[:_SHORT] for name in MONTHS), "Sept"))
_DAY = re.compile(
    rf"\b(?:{_NAMES})\b\.? \d{{1,2}}\b"  # with a capital: `may 5 players` is no day
    rf"|\b\d{{1,2}}(?:st|nd|rd|th)? (?:of )?(?:{_NAMES})\b"
    rf"|\b\d{{1,2}}º? de (?i:{'|'.join(_SPANISH)})\b"
    r"|\b\d{4}-\d{2}-\d{2}\b"
    r"|\b\d{1,2}/\d{1,2}/(?:\d{4}|\d{2})\b"
)


def names_a_day(text: str) -> bool:
    """Whether a text says the day of a month, as `December 4`, `4 de diciembre`, `2026-12-04` or `12/4/2026`."""
    return _DAY.search(text) is not None

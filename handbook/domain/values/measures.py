"""Spans of measures as a director names them in rehearsal."""

from __future__ import annotations

import re
from dataclasses import dataclass

from handbook.domain.values.unreadable import UnreadableError

_SPAN = re.compile(
    r"(?:(?:mm?|bars?|measures?)\.? ?)?(?P<first>\d{1,4})(?: ?(?:[-‐‑–—]| to | through )\s?(?P<last>\d{1,4}))?"
)


@dataclass(frozen=True, slots=True, order=True)
class MeasureSpan:
    """Measures `first` to `last`, both included; the first full measure is 1.

    Raises ValueError when they are out of order or below 1.
    """

    first: int
    last: int

    def __post_init__(self) -> None:
        if not 1 <= self.first <= self.last:
            raise ValueError(f"no span runs from measure {self.first} to {self.last}")

    @property
    def count(self) -> int:
        """How many measures."""
        return self.last - self.first + 1

    def overlaps(self, other: MeasureSpan) -> bool:
        """Whether the two share a measure."""
        return self.first <= other.last and other.first <= self.last

    def __str__(self) -> str:
        return str(self.first) if self.first == self.last else f"{self.first}–{self.last}"


def parse_measures(text: str) -> MeasureSpan:
    """Read `1-16`, `17`, `9 to 24`, with any dash and with `m.` or `mm.` in front if wished.

    Raises UnreadableError for other text, for measure 0 (a pickup goes with measure 1,
    common practice, no source) and for a span that runs backward.
    """
    plain = " ".join(text.lower().split())
    found = _SPAN.fullmatch(plain)
    if not found:
        more = ", which have four digits at most" if re.search(r"\d{5}", plain) else ""
        raise UnreadableError(f"`{text.strip()}` names no measures{more}", ("1-16", "17"))
    first = int(found["first"])
    last = int(found["last"] or first)
    if first == 0 or last == 0:
        raise UnreadableError(
            "the first full measure is 1, and a pickup goes with it",
            (str(MeasureSpan(1, max(1, last))),),
        )
    if first > last:
        raise UnreadableError(f"`{plain}` runs backward", (f"{last}-{first}",))
    return MeasureSpan(first, last)

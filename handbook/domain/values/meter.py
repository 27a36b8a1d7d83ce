"""Meters: beats to a measure, the note that gets the beat, and the grouping if it is irregular."""

from __future__ import annotations

import re
from fractions import Fraction

from handbook.domain.values.tempo import BEAT_UNITS, BeatUnit
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

# Lower figures of a time signature that name a note of the beat table: common practice, no source.
UNITS = (1, 2, 4, 8, 16)
MOST_UNITS = 64

_BY_LENGTH = {unit.quarters: unit for unit in BEAT_UNITS.values()}
_SIGNS = {
    "c": (4, 4),
    "common": (4, 4),
    "common time": (4, 4),
    "cut": (2, 2),
    "cut time": (2, 2),
    "c|": (2, 2),
    "¢": (2, 2),
    "alla breve": (2, 2),
}
_METER = re.compile(
    r"(?P<top>\d{1,3}) ?/ ?(?P<unit>\d{1,2})(?: ?\( ?(?P<groups>\d+(?: ?\+ ?\d+)+) ?\))?"
)
_ADDED = re.compile(r"\(? ?(?P<groups>\d+(?: ?\+ ?\d+)+) ?\)? ?/ ?(?P<unit>\d{1,2})")
_EXAMPLES = ("4/4", "6/8", "7/8 (2+2+3)")
_THREE = 3  # a compound beat divides in three


@dataclass(frozen=True, slots=True)
class Meter:
    """`top` notes of 1/`unit` to a measure; `groups` is the grouping as written, or empty.

    Raises ValueError for a unit outside UNITS, a top outside 1 to 64, or groups that
    do not add up to the top.
    """

    top: int
    unit: int
    groups: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if self.unit not in UNITS or not 1 <= self.top <= MOST_UNITS:
            raise ValueError(f"no meter has {self.top} over {self.unit}")
        if self.groups and (sum(self.groups) != self.top or min(self.groups) < 1):
            raise ValueError(f"the groups {self.groups} do not add up to {self.top}")

    @property
    def quarters(self) -> Fraction:
        """The length of a measure in quarter notes."""
        return Fraction(4 * self.top, self.unit)

    @property
    def compound(self) -> bool:
        """Whether the beat is dotted: 6, 9, 12 of any note, or 3 of eighths or shorter, in threes.

        Common practice, no source. A grouping with anything but threes makes it not so.
        """
        in_threes = self.top % _THREE == 0 and set(self.groups) <= {_THREE}
        short = self.top > _THREE or self.unit > 4  # noqa: PLR2004 - 3/4 is three beats, 3/8 is one
        return in_threes and short and self._unit_quarters * _THREE in _BY_LENGTH

    @property
    def irregular(self) -> bool:
        """Whether the beats are uneven or unclear without a grouping: 5, 7, 11... or mixed groups."""
        if self.groups:
            return len(set(self.groups)) > 1
        return self.top > _THREE and self.top % 2 != 0 and not self.compound

    @property
    def beat(self) -> BeatUnit:
        """The note that a metronome mark counts: dotted in compound meters, else the unit."""
        return _BY_LENGTH[self._unit_quarters * (_THREE if self.compound else 1)]

    @property
    def _unit_quarters(self) -> Fraction:
        return Fraction(4, self.unit)

    def __str__(self) -> str:
        grouping = f" ({'+'.join(map(str, self.groups))})" if self.groups else ""
        return f"{self.top}/{self.unit}{grouping}"


def parse_meter(text: str) -> Meter:
    """Read `4/4`, `C`, `cut`, `6/8`, `7/8 (2+2+3)` or `2+2+3/8`.

    An irregular meter may go without its grouping; `groups` is then empty. Raises
    UnreadableError for any other text or groups that do not add up.
    """
    plain = " ".join(text.lower().split())
    if plain in _SIGNS:
        return Meter(*_SIGNS[plain])
    found = _METER.fullmatch(plain) or _ADDED.fullmatch(plain)
    if not found:
        raise UnreadableError(f"`{text.strip()}` is no meter", _EXAMPLES)
    groups = tuple(int(group) for group in (found["groups"] or "").split("+") if group)
    top = int(found["top"]) if "top" in found.groupdict() else sum(groups)
    unit = int(found["unit"])
    _check(top, unit, groups)
    return Meter(top, unit, groups)


def _check(top: int, unit: int, groups: tuple[int, ...]) -> None:
    if unit not in UNITS:
        raise UnreadableError(
            f"no note is called 1/{unit}: the lower figure is 1, 2, 4, 8 or 16", _EXAMPLES
        )
    if not 1 <= top <= MOST_UNITS:
        raise UnreadableError(f"a measure of {top} notes is outside 1 to {MOST_UNITS}", _EXAMPLES)
    if groups and min(groups) < 1:
        raise UnreadableError("a group has at least one note", _EXAMPLES)
    if groups and sum(groups) != top:
        written, total = "+".join(map(str, groups)), sum(groups)
        finer = (
            (f"{total}/{unit * total // top} ({written})",)
            if unit * total // top in UNITS and total % top == 0
            else ()
        )
        raise UnreadableError(f"{written} is {total}, not {top}", finer)

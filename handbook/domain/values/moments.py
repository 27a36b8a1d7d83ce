"""A clock time with or without its day, as a decision has it: `2 pm`, or `Fri 2027-05-14, 2 pm`."""

from __future__ import annotations

import re
from datetime import date, time

from handbook.domain.values.clock import parse_clock
from handbook.domain.values.dates import parse_date
from handbook.records import dataclass

_WITH_DATE = re.compile(
    r"(?P<day>.*\d{4}-\d{2}-\d{2})(?:\s*,\s*|\s+at\s+|\s+)(?P<clock>\S.*)", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class StatedMoment:
    """A clock time; `day` is None where it is the day of whatever it stands in."""

    clock: time
    day: date | None = None


def parse_moment(text: str) -> StatedMoment:
    """Read `2 pm`, or a date and a clock time, with a comma or `at` between them if wished.

    Raises UnreadableError as `parse_clock` and `parse_date` do.
    """
    day, clock = parts_of_moment(text)
    return StatedMoment(parse_clock(clock), parse_date(day) if day else None)


def parts_of_moment(text: str) -> tuple[str, str]:
    """Give the date as it is written, or nothing, and the clock time."""
    plain = " ".join(text.split())
    found = _WITH_DATE.fullmatch(plain)
    return (found["day"], found["clock"]) if found else ("", plain)

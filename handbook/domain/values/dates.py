"""Dates as a director writes them: year-month-day, with the weekday in front if wished."""

from __future__ import annotations

import re
from calendar import monthrange
from contextlib import suppress
from datetime import date, timedelta
from difflib import get_close_matches

from handbook.domain.values.unreadable import UnreadableError

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

FIRST_YEAR, LAST_YEAR = 1900, 2199  # outside these a year is surely a slip

# Longer short forms than three letters in general use: common practice, no source.
_SHORT_WEEKDAYS = {"tues": 1, "weds": 2, "thur": 3, "thurs": 3}
_WEEKDAY_INDEX = {
    **{name.lower(): index for index, name in enumerate(WEEKDAYS)},
    **{name[:3].lower(): index for index, name in enumerate(WEEKDAYS)},
    **_SHORT_WEEKDAYS,
}

_DATE = re.compile(
    r"(?:(?P<weekday>[^\W\d]+)\.?,? )?(?P<year>\d{4})-(?P<month>\d{2})-(?P<day>\d{2})"
)
_YEAR_FIRST = re.compile(r"(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})")
_YEAR_LAST = re.compile(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4})")
_MONTH_NAMED = re.compile(
    r"(?:(?P<before>\d{1,2})\.? )?(?P<month>[a-z]{3,})\.? (?:(?P<after>\d{1,2}),? )?(?P<year>\d{4})"
)
_EXAMPLES = ("2026-12-10", "Thu 2026-12-10")
_DAYS_OF_WEEK, _MONTHS_OF_YEAR, _SHORT = 7, 12, 3


def parse_date(text: str) -> date:
    """Read `2026-12-10` or `Thu 2026-12-10` (also `Thursday`, also with a comma).

    Raises UnreadableError for a day that does not exist, a year outside 1900 to 2199, a weekday that is not
    that date's, and for any other order of the parts, whose ISO 8601 spelling is suggested.
    """
    plain = " ".join(text.split())
    found = _DATE.fullmatch(plain)
    if not found:
        raise UnreadableError(
            f"`{plain}` is no date as year-month-day", _iso_spellings(plain) or _EXAMPLES
        )
    day = _existing(int(found["year"]), int(found["month"]), int(found["day"]))
    if found["weekday"] is not None:
        _agree(parse_weekday(found["weekday"]), day)
    return day


def parse_weekday(text: str) -> int:
    """Read `Mon` or `Monday`, in either case; Monday is 0.

    Raises UnreadableError with the nearest names for any other text.
    """
    plain = text.strip().rstrip(".").lower()
    if plain in _WEEKDAY_INDEX:
        return _WEEKDAY_INDEX[plain]
    near = get_close_matches(plain, [name.lower() for name in WEEKDAYS], n=2)
    raise UnreadableError(
        f"`{text.strip()}` is no weekday", tuple(name.capitalize() for name in near) or WEEKDAYS
    )


def _existing(year: int, month: int, day: int) -> date:
    if not 1 <= month <= _MONTHS_OF_YEAR:
        raise UnreadableError(f"there is no month {month}: months run from 01 to 12")
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise UnreadableError(f"the year {year:04} is outside {FIRST_YEAR} to {LAST_YEAR}")
    days = monthrange(year, month)[1]
    if day < 1:
        raise UnreadableError("there is no day 00", (f"{year:04}-{month:02}-01",))
    if day > days:
        raise UnreadableError(
            f"{MONTHS[month - 1]} {year} has {days} days", (f"{year:04}-{month:02}-{days}",)
        )
    return date(year, month, day)


def _agree(stated: int, day: date) -> None:
    """Refuse a stated weekday that is not the day's, naming both ways to mend it."""
    if stated == day.weekday():
        return
    near = _nearest(stated, day)
    real = WEEKDAYS[day.weekday()]
    raise UnreadableError(
        f"{day} is a {real}, not a {WEEKDAYS[stated]}; the nearest {WEEKDAYS[stated]} is {near}",
        (f"{real[:_SHORT]} {day}", f"{WEEKDAYS[stated][:_SHORT]} {near}"),
    )


def _nearest(weekday: int, day: date) -> date:
    """Find the date with that weekday closest to the day: at most three days off, so never a tie."""
    ahead = (weekday - day.weekday()) % _DAYS_OF_WEEK
    return day + timedelta(days=ahead if ahead <= _DAYS_OF_WEEK // 2 else ahead - _DAYS_OF_WEEK)


def _iso_spellings(plain: str) -> tuple[str, ...]:
    """Guess the ISO 8601 spellings of a date in another order, the American reading first."""
    if found := _YEAR_FIRST.fullmatch(plain):
        year, month, day = map(int, found.groups())
        return _spelled((year, month, day))
    if found := _YEAR_LAST.fullmatch(plain):
        first, second, year = map(int, found.groups())
        return _spelled((year, first, second), (year, second, first))
    if found := _MONTH_NAMED.fullmatch(plain.lower()):
        number = found["before"] or found["after"]
        months = [i for i, name in enumerate(MONTHS, 1) if name.lower().startswith(found["month"])]
        return _spelled((int(found["year"]), months[0], int(number))) if number and months else ()
    return ()


def _spelled(*parts: tuple[int, int, int]) -> tuple[str, ...]:
    spellings: list[str] = []
    for year, month, day in parts:
        with suppress(ValueError):
            spellings.append(date(year, month, day).isoformat())
    return tuple(dict.fromkeys(spellings))

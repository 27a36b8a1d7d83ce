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

# One letter a day, as schools write them: R is Thursday, U Sunday (common practice, no source).
_LETTER_INDEX = {"m": 0, "tu": 1, "t": 1, "w": 2, "th": 3, "r": 3, "f": 4, "sa": 5, "s": 5, "su": 6}
_NAMED_DAYS = {**_LETTER_INDEX, **_WEEKDAY_INDEX}
_DAY_LETTERS = re.compile("th|tu|sa|su|[mtwrfs]")
_SPAN_OF_DAYS = re.compile(r"([a-z]+)\.?\s*(?:-|–|to|through)\s*([a-z]+)\.?")
_BETWEEN_DAYS = re.compile(r"\s*(?:[,;/&+]|\band\b|\s)\s*")

_DATE = re.compile(
    r"(?:(?P<weekday>[^\W\d]+)\.?,? )?(?P<year>\d{4})-(?P<month>\d{2})-(?P<day>\d{2})"
)
_YEAR_FIRST = re.compile(r"(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})")
_YEAR_LAST = re.compile(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4})")
_SHORT_YEAR_LAST = re.compile(r"(\d{1,2})[/.](\d{1,2})[/.](\d{2})")
_MONTH_NAMED = re.compile(
    r"(?:(?P<before>\d{1,2})\.? )?(?P<month>[a-z]{3,})\.? (?:(?P<after>\d{1,2})(?:st|nd|rd|th)?,? )?(?P<year>\d{4})"
)
_MONTH_AND_DAY = re.compile(
    r"(?:[a-z]+\.?,? )??(?:(?P<before>\d{1,2})\.? )?(?P<month>[a-z]{3,})\.?(?: (?P<after>\d{1,2})(?:st|nd|rd|th)?)?"
)
_TWO_NUMBERS = re.compile(r"(\d{1,2})[-/.](\d{1,2})")
_TWO_DAYS = re.compile(
    r"(?:(?P<month>[a-z]{3,})\.? |(?P<number>\d{1,2})/)(?P<first>\d{1,2})(?:st|nd|rd|th)?"
    r" ?(?:-|–|to|and|&|through) ?(?:(?P<later>[a-z]{3,})\.? |(?P<other>\d{1,2})/)?"
    r"(?P<last>\d{1,2})(?:st|nd|rd|th)?(?:[,/]? ?(?P<year>\d{4}))?"
)
_LEAP_YEAR = 2024
_CENTURY = 2000
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
        _refuse_without_year(plain)
        _refuse_two_days(plain)
        spelled, agreeing = _iso_spellings(plain)
        raise UnreadableError(
            f"`{plain}` is no date as year-month-day", spelled or _EXAMPLES, sure=agreeing
        )
    day = _existing(int(found["year"]), int(found["month"]), int(found["day"]))
    if found["weekday"] is not None:
        _agree(parse_weekday(found["weekday"]), day)
    return day


def dated(day: date) -> str:
    """Write a date as content files do, `Thu 2026-12-10`: its weekday is checked when it is read."""
    return f"{WEEKDAYS[day.weekday()][:_SHORT]} {day.isoformat()}"


def short_day(day: date) -> str:
    """Write a date as a sentence does, `Thu, Dec 10`."""
    return f"{WEEKDAYS[day.weekday()][:_SHORT]}, {MONTHS[day.month - 1][:_SHORT]} {day.day}"


def parse_weekday(text: str) -> int:
    """Read `Mon` or `Monday`, in either case; Monday is 0.

    Raises UnreadableError with the nearest names for any other text.
    """
    plain = text.strip().rstrip(".").lower()
    if plain in _WEEKDAY_INDEX:
        return _WEEKDAY_INDEX[plain]
    several = weekdays_in(plain)
    if len(several) > 1:
        raise UnreadableError(
            f"`{text.strip()}` is not one weekday", (", ".join(several),), sure=True
        )
    near = get_close_matches(plain, [name.lower() for name in WEEKDAYS], n=2)
    raise UnreadableError(
        f"`{text.strip()}` is no weekday", tuple(name.capitalize() for name in near) or WEEKDAYS
    )


def weekdays_in(text: str) -> tuple[str, ...]:
    """Find the weekdays that a text lists in a way of its own, as short names; none if unsure.

    `Mon Wed`, `Mon/Wed/Fri`, `Mon and Wed`, `Mon-Fri`, `M-F`, `MWF`, `TTh`, `MTWRF`: common
    practice, no source.
    """
    plain = text.strip().lower()
    words = [word.rstrip(".") for word in _BETWEEN_DAYS.split(plain) if word]
    letters = _DAY_LETTERS.findall("".join(words))
    if (span := _SPAN_OF_DAYS.fullmatch(plain)) and {span[1], span[2]} <= _NAMED_DAYS.keys():
        days = list(range(_NAMED_DAYS[span[1]], _NAMED_DAYS[span[2]] + 1))
    elif len(words) > 1 and set(words) <= _WEEKDAY_INDEX.keys():
        days = [_WEEKDAY_INDEX[word] for word in words]
    elif "".join(letters) == "".join(words):
        days = [_LETTER_INDEX[letter] for letter in letters]
    else:
        return ()
    return tuple(WEEKDAYS[day][:_SHORT] for day in days) if days == sorted(set(days)) else ()


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


def _iso_spellings(plain: str) -> tuple[tuple[str, ...], bool]:
    """Guess the ISO 8601 spellings of a date in another order, the American reading first.

    A weekday in front tells which of two is meant. Also whether the first is sure.
    """
    weekday, _, rest = plain.partition(" ")
    stated = _WEEKDAY_INDEX.get(weekday.rstrip(".,").lower())
    spelled = _spellings(plain if stated is None else rest)
    if stated is None:
        return spelled, len(spelled) == 1
    short = WEEKDAYS[stated][:_SHORT]
    agreeing = [one for one in spelled if date.fromisoformat(one).weekday() == stated]
    if len(agreeing) == 1:
        return (f"{short} {agreeing[0]}",), True
    return spelled, False


def _spellings(plain: str) -> tuple[str, ...]:
    if found := _YEAR_FIRST.fullmatch(plain):
        year, month, day = map(int, found.groups())
        return _spelled((year, month, day))
    if found := _YEAR_LAST.fullmatch(plain):
        first, second, year = map(int, found.groups())
        return _spelled((year, first, second), (year, second, first))
    if found := _SHORT_YEAR_LAST.fullmatch(plain):
        first, second, year = map(int, found.groups())
        year += _CENTURY
        return _spelled((year, first, second), (year, second, first))
    if found := _MONTH_NAMED.fullmatch(plain.lower()):
        number = found["before"] or found["after"]
        months = [i for i, name in enumerate(MONTHS, 1) if name.lower().startswith(found["month"])]
        return _spelled((int(found["year"]), months[0], int(number))) if number and months else ()
    return ()


def _refuse_without_year(plain: str) -> None:
    """Refuse `Monday, January 18`, `18 Jan` or `1/18`, saying what is missing."""
    named = _MONTH_AND_DAY.fullmatch(plain.lower())
    numbers = _TWO_NUMBERS.fullmatch(plain)
    month = day = 0
    if named:
        days = [number for number in (named["before"], named["after"]) if number]
        months = [i for i, name in enumerate(MONTHS, 1) if name.lower().startswith(named["month"])]
        if len(days) == len(months) == 1:
            month, day = months[0], int(days[0])
    elif numbers:
        month, day = int(numbers[1]), int(numbers[2])
    if 1 <= month <= _MONTHS_OF_YEAR and 1 <= day <= monthrange(_LEAP_YEAR, month)[1]:
        raise UnreadableError(
            f"`{plain}` does not say its year: write the year, then `-{month:02}-{day:02}`"
        )


def _refuse_two_days(plain: str) -> None:
    """Refuse `Nov 25-27`, `Nov 30 to Dec 2` or `11/25-27`, with both days as they are written."""
    found = _TWO_DAYS.fullmatch(plain.lower())
    if not found:
        return
    begun = _month(found["month"], found["number"])
    ends = _month(found["later"], found["other"]) or begun
    days = (begun, int(found["first"])), (ends, int(found["last"]))
    year = int(found["year"] or _LEAP_YEAR)
    spelled = _spelled(*((year, *one) for one in days))
    if len(spelled) < len(days):
        return
    if found["year"]:
        raise UnreadableError(f"`{plain}` names two days, and a date is one", spelled)
    first, last = (f"`{one[4:]}`" for one in spelled)
    raise UnreadableError(
        f"`{plain}` names two days and no year, and a date is one day with its year: "
        f"the year, then {first} or {last}"
    )


def _month(name: str | None, number: str | None) -> int:
    """Give the month of a name, of its beginning or of a number; 0 if there is none."""
    named = (i for i, one in enumerate(MONTHS, 1) if name and one.lower().startswith(name))
    return next(named, int(number or 0))


def _spelled(*parts: tuple[int, int, int]) -> tuple[str, ...]:
    spellings: list[str] = []
    for year, month, day in parts:
        with suppress(ValueError):
            spellings.append(date(year, month, day).isoformat())
    return tuple(dict.fromkeys(spellings))

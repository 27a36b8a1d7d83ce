"""How dates, clock times, lists and durations are written in a language.

Names and patterns are those of Unicode CLDR, as Babel has them, but for what a reviewed table
sets right: English is written as American schools write it, Spanish as in the United States
(CLDR's es-US, with the space that RAE asks for in `p. m.`), Haitian Creole with its own names of
days and months, since CLDR has French ones there. Numbers are written with Latin digits.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import field
from datetime import date, datetime, time
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.lists import format_list
from babel.units import format_unit

from handbook.outputs.i18n.catalogues import SAME, SOURCE
from handbook.outputs.i18n.speaking import speech
from handbook.records import dataclass

_LETTERS = re.compile(r"'([^']*)'|(E+|M+|d+|y+)")
_PLAIN_SPACES = {0x202F: 0xA0, 0x2009: 0xA0, 0x200E: None, 0x200F: None}
_WORD = "\ufffc"
_NOON = time(12)
_HOURS_OF_HALF = 12
_UNITS = ("hour", "minute", "second")
_MONTHS, _DAYS = range(1, 13), range(7)


@dataclass(frozen=True, slots=True)
class Names:
    """Months from January and days from Monday, as they stand in a date."""

    months: tuple[str, ...]
    short_months: tuple[str, ...]
    days: tuple[str, ...]
    short_days: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Formats:
    """The patterns of a language, in the letters of CLDR: E, M, d, y.

    `halves` are the words for both halves of the day, nothing for a clock of 24 hours; `noon`
    is set where 12:00 would mislead, `before_last` where CLDR's lists will not do. `comma` stands in lists, `clause` between facts. `units` are hour, minute and second in short.
    """

    locale: str = SOURCE
    short_day: str = "EEE, MMM d"
    month_day: str = "MMM d"
    month_day_year: str = "MMM d, y"
    long_day: str = "EEEE, MMMM d, y"
    full_day: str = "EEEE, MMMM d"
    month: str = "MMMM y"
    halves: tuple[str, str] | None = ("am", "pm")
    two_digits: bool = False
    noon: str = "noon"
    span: str = "%s–%s"
    days: str = "%s – %s"
    comma: str = ", "
    before_last: str = ""
    clause: str = ", "
    semicolon: str = "; "
    units: tuple[str, str, str] = ("%s h", "%s min", "%s s")
    full_units: tuple[str, str, str] | None = None
    unit_space: str = " "
    percent: str = "%s %%"
    names: Names | None = field(default=None, repr=False)


_HAITIAN = Names(  # as US school districts write them to families, common practice, no source
    months=tuple(
        "janvye fevriye mas avril me jen jiyè out septanm oktòb novanm desanm".split()  # noqa: SIM905
    ),
    short_months=tuple(
        "janv. fevr. mas avr. me jen jiyè out sept. okt. nov. des.".split()  # noqa: SIM905
    ),
    days=tuple("lendi madi mèkredi jedi vandredi samdi dimanch".split()),  # noqa: SIM905
    short_days=tuple("len. mad. mèk. jed. van. sam. dim.".split()),  # noqa: SIM905
)

REVIEWED = {
    "en": Formats(before_last=" and "),  # without the comma that CLDR has before it
    "es": Formats(
        locale="es_US",
        short_day="EEE, d MMM",
        month_day="d MMM",
        month_day_year="d MMM y",
        long_day="EEEE, d 'de' MMMM 'de' y",
        full_day="EEEE, d 'de' MMMM",
        month="MMMM 'de' y",
        halves=("a.\u00a0m.", "p.\u00a0m."),
        noon="12:00 del mediodía",
    ),
    "vi": Formats(
        locale="vi",
        short_day="EEE, d\u00a0MMM",  # names of days and months are two words: a narrow column
        month_day="d\u00a0MMM",  # may not part them and the number of the day
        month_day_year="d\u00a0MMM, y",
        long_day="EEEE, d MMMM, y",
        full_day="EEEE, d MMMM",
        month="MMMM 'năm' y",
        halves=None,
        two_digits=True,
        noon="",
        units=("%s giờ", "%s phút", "%s giây"),
        full_units=("%s giờ", "%s phút", "%s giây"),  # CLDR's long ones are lacking
        percent="%s%%",
    ),
    "ar": Formats(
        locale="ar",
        short_day="EEE، d MMM",
        month_day="d MMM",
        month_day_year="d MMM y",
        long_day="EEEE، d MMMM y",
        full_day="EEEE، d MMMM",
        month="MMMM y",
        halves=("ص", "م"),
        noon="12:00 ظهرًا",
        days="%s إلى %s",
        comma="، ",
        clause="، ",
        semicolon="؛ ",
        span="%s إلى %s",  # a dash between numbers is read in either direction
        units=("%s س", "%s د", "%s ث"),
        percent="%s%%",
    ),
    "zh-hans": Formats(
        locale="zh_Hans",
        short_day="M月d日EEE",
        month_day="M月d日",
        month_day_year="y年M月d日",
        long_day="y年M月d日EEEE",
        full_day="M月d日EEEE",
        month="y年M月",
        halves=None,
        two_digits=True,
        comma="、",
        clause="，",
        semicolon="；",
        noon="",
        units=("%s小时", "%s分钟", "%s秒"),
        full_units=("%s小时", "%s分钟", "%s秒"),
        unit_space="",
        percent="%s%%",
    ),
    "ht": Formats(
        locale="ht",
        short_day="EEE d MMM",
        month_day="d MMM",
        month_day_year="d MMM y",
        long_day="EEEE d MMMM y",
        full_day="EEEE d MMMM",
        month="MMMM y",
        before_last=" ak ",
        noon="midi",
        full_units=("%s èdtan", "%s minit", "%s segond"),  # one form for any number
        names=_HAITIAN,
    ),
}
"""The languages whose formats were looked at one by one; tests hold them to a golden table."""


@lru_cache(maxsize=64)
def formats(code: str) -> Formats:
    """Give the formats of a language; of one that nobody knows, those of English."""
    plain = code.lower()
    for known in (plain, SAME.get(plain, ""), plain.partition("-")[0]):
        if known in REVIEWED:
            return REVIEWED[known]
    try:
        locale = Locale.parse(code, sep="-")
    except (UnknownLocaleError, ValueError):
        return REVIEWED[SOURCE]
    return _of_locale(locale)


def _of_locale(locale: Locale) -> Formats:
    """Take the patterns as CLDR has them."""
    skeletons, english = locale.datetime_skeletons, REVIEWED[SOURCE]

    def pattern(skeleton: str, otherwise: str) -> str:
        found = str(skeletons[skeleton]) if skeleton in skeletons else otherwise
        known = re.sub(r"E+", lambda run: run[0] if len(run[0]) > 3 else "EEE", found)  # noqa: PLR2004
        return known.replace("LLL", "MMM").translate(_PLAIN_SPACES)

    clock = locale.time_formats["short"].pattern
    halves = locale.day_periods["format"]["abbreviated"] if "a" in clock else {}
    return Formats(
        locale=str(locale),
        short_day=pattern("MMMEd", english.short_day),
        month_day=pattern("MMMd", english.month_day),
        month_day_year=pattern("yMMMd", english.month_day_year),
        long_day=locale.date_formats["full"].pattern.translate(_PLAIN_SPACES),
        full_day=pattern("MMMMEEEEd", pattern("MMMEd", english.full_day)),
        month=pattern("yMMMM", english.month),
        halves=(halves["am"], halves["pm"]) if halves else None,
        two_digits="HH" in clock,
        noon="",
        percent="%s\u00a0%%" if "\u00a0" in str(locale.percent_formats[None]) else "%s%%",
    )


@lru_cache(maxsize=64)
def names(code: str) -> Names:
    """Give the names of months and days in a language."""
    own = formats(code)
    if own.names:
        return own.names
    locale = Locale.parse(own.locale)
    months, days = locale.months["format"], locale.days["format"]
    return Names(
        months=tuple(months["wide"][one] for one in _MONTHS),
        short_months=tuple(_together(months["abbreviated"][one]) for one in _MONTHS),
        days=tuple(days["wide"][one] for one in _DAYS),
        short_days=tuple(_together(days["abbreviated"][one]) for one in _DAYS),
    )


def _together(name: str) -> str:
    return name.replace(" ", "\u00a0")


@lru_cache(maxsize=8192)
def written(day: date, pattern: str, code: str) -> str:
    """Write a day by a pattern of the language."""
    known = names(code)
    letters = {
        "EEEE": known.days[day.weekday()],
        "EEE": known.short_days[day.weekday()],
        "MMMM": known.months[day.month - 1],
        "MMM": known.short_months[day.month - 1],
        "M": str(day.month),
        "d": str(day.day),
        "y": str(day.year),
    }
    return _LETTERS.sub(lambda found: found[1] if found[2] is None else letters[found[2]], pattern)


def clock_time(moment: time) -> str:
    """Write a clock time as families read it, `6:30 pm`; noon as a word where 12:00 misleads."""
    return _clock(moment.hour, moment.minute, speech().code)


@lru_cache(maxsize=4096)
def _clock(hour: int, minute: int, code: str) -> str:
    own = formats(code)
    if own.noon and (hour, minute) == (_NOON.hour, _NOON.minute):
        return own.noon
    if own.halves is None:
        return f"{hour:02}:{minute:02}" if own.two_digits else f"{hour}:{minute:02}"
    half = own.halves[hour >= _HOURS_OF_HALF]
    return f"{hour % _HOURS_OF_HALF or _HOURS_OF_HALF}:{minute:02} {half}"


def clock_span(start: time, end: time) -> str:
    """Write two clock times with the half of the day said once if both share it."""
    own = formats(speech().code)
    first, last = clock_time(start), clock_time(end)
    for half in own.halves or ():
        if first.endswith(f" {half}") and last.endswith(f" {half}"):
            first = first.removesuffix(f" {half}")
    return own.span % (first, last)


def in_a_row(words: Sequence[str]) -> str:
    """Write names as a person would: `a, b and c`."""
    own = formats(speech().code)
    if own.before_last:
        return own.before_last.join([", ".join(words[:-1]), words[-1]] if words[1:] else words)
    # Only what joins them is made plain: a word keeps what holds it from left to right.
    joined = format_list([_WORD] * len(words), locale=own.locale).translate(_PLAIN_SPACES)
    kept = iter(words)
    return re.sub(_WORD, lambda _: next(kept), joined)


def with_commas(words: Iterable[str]) -> str:
    """Write what follows one another without an `and`: `96, 100, 104`."""
    return formats(speech().code).comma.join(words)


def with_clauses(words: Iterable[str]) -> str:
    """Write facts side by side, `Hall, 12 Lake Street`; some languages have another comma for it."""
    return formats(speech().code).clause.join(words)


def with_semicolons(words: Iterable[str]) -> str:
    """Write what follows one another and has commas of its own: `Mon, Oct 5; Wed, Oct 7`."""
    return formats(speech().code).semicolon.join(words)


def days(first: date, last: date) -> str:
    """Write the first and the last day, `Mon, Oct 26 – Thu, Dec 17`; one day once."""
    own, code = formats(speech().code), speech().code
    told = (written(first, own.short_day, code), written(last, own.short_day, code))
    return told[0] if first == last else own.days % told


def day_and_clock(moment: datetime) -> str:
    """Write a day of the same week with the time, `Thu 4:00 pm`."""
    return f"{written(moment.date(), 'EEE', speech().code)} {clock_time(moment.time())}"


def short_units(amounts: tuple[int, int, int]) -> str:
    """Write hours, minutes and seconds in short, `3 min 25 s`, without those that are none."""
    own = formats(speech().code)
    return _with_units(amounts, own.units, own.unit_space)


def full_units(amounts: tuple[int, int, int]) -> str:
    """Write hours, minutes and seconds as they are said, `3 minutes 25 seconds`."""
    own = formats(speech().code)
    if own.full_units:
        return _with_units(amounts, own.full_units, own.unit_space)
    told = [
        _in_full(amount, unit, own.locale)
        for amount, unit in zip(amounts, _UNITS, strict=True)
        if amount
    ]
    return " ".join(told) or _in_full(0, _UNITS[-1], own.locale)


def full_minutes(minutes: int) -> str:
    """Write minutes as they are said, `75 minutes`."""
    own = formats(speech().code)
    return (
        own.full_units[1] % minutes if own.full_units else _in_full(minutes, "minute", own.locale)
    )


@lru_cache(maxsize=1024)
def _in_full(amount: int, unit: str, locale: str) -> str:
    told = format_unit(amount, unit, length="long", locale=locale)
    return told.translate(_PLAIN_SPACES)


def _with_units(amounts: tuple[int, int, int], units: tuple[str, str, str], space: str) -> str:
    told = [unit % amount for amount, unit in zip(amounts, units, strict=True) if amount]
    return space.join(told) or units[2] % 0


def script_formats(code: str) -> dict[str, object]:
    """Give what the scripts of pages need to write days and times as `written` and `clock_time` do."""
    own, known = formats(code), names(code)
    return {
        "months": known.months,
        "shortMonths": known.short_months,
        "days": known.days,
        "shortDays": known.short_days,
        "shortDay": own.short_day,
        "monthDay": own.month_day,
        "monthDayYear": own.month_day_year,
        "longDay": own.long_day,
        "fullDay": own.full_day,
        "month": own.month,
        "halves": own.halves,
        "twoDigits": own.two_digits,
        "noon": own.noon,
        "span": own.span,
        "comma": own.comma,
        "clause": own.clause,
        "semicolon": own.semicolon,
        "minutes": own.units[1],
    }

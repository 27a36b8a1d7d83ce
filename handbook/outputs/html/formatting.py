"""How values are written for readers: dates, times, tempos, durations."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from fractions import Fraction
from functools import lru_cache

from babel.dates import format_date
from markupsafe import Markup, escape

from handbook.domain.timing import format_duration
from handbook.domain.values.clock import format_clock
from handbook.domain.values.tempo import LooseTempo, Tempo
from handbook.domain.values.text import Text

_SHORT_DAY = "EEE, MMM d"
_MONTH_DAY, _SHORT_MONTH = "MMM d", "MMM"
_MONTH_DAY_YEAR = "MMM d, y"
_MINUTE = 60
_LONG_DAY = "EEEE, MMMM d, y"
_MONTH = "MMMM y"


@lru_cache(maxsize=4096)
def short_day(day: date) -> str:
    """Write `Thu, Dec 17`."""
    return format_date(day, _SHORT_DAY, locale="en")


@lru_cache(maxsize=4096)
def month_day(day: date) -> str:
    """Write `Dec 17`."""
    return format_date(day, _MONTH_DAY, locale="en")


@lru_cache(maxsize=1024)
def month_day_year(day: date) -> str:
    """Write `Dec 17, 2026`."""
    return format_date(day, _MONTH_DAY_YEAR, locale="en")


@lru_cache(maxsize=256)
def short_month(day: date) -> str:
    """Write `Dec`."""
    return format_date(day, _SHORT_MONTH, locale="en")


@lru_cache(maxsize=1024)
def long_day(day: date) -> str:
    """Write `Thursday, December 17, 2026`."""
    return format_date(day, _LONG_DAY, locale="en")


@lru_cache(maxsize=256)
def month(day: date) -> str:
    """Write `December 2026`."""
    return format_date(day, _MONTH, locale="en")


def clock(moment: datetime) -> str:
    """Write the local clock time, `7:00 pm`."""
    return format_clock(moment.time())


def dotted(words: Iterable[str]) -> str:
    """Set what is not empty in a row; where it breaks, a dot ends the line."""
    return "\u00a0· ".join(filter(None, words))


def moment(at: datetime) -> str:
    """Write `2026-12-17T17:20`, the school's time as the scripts of pages compare it."""
    return f"{at:%Y-%m-%dT%H:%M}"


def span(start: datetime, end: datetime) -> str:
    """Write two clock times with the half of the day said once if both share it."""
    first, last = clock(start), clock(end)
    if first[-2:] == last[-2:] and " " in first and " " in last:
        first = first[:-3]
    return f"{first}–{last}"


def duration(seconds: float, about: bool = False) -> str:
    """Write a duration to the nearest 5 s, `3 min 25 s` or `about 3 min 25 s`."""
    return format_duration(seconds, about=about)


def full_duration(seconds: float) -> str:
    """Write a duration as it is said, `3 minutes 25 seconds`, rounded as `duration`."""
    words = duration(seconds)
    for short, full in (("h", "hour"), ("min", "minute"), ("s", "second")):
        words = re.sub(rf"\b1 {short}\b", f"1 {full}", words)
        words = re.sub(rf" {short}\b", f" {full}s", words)
    return words


def whole_minutes(seconds: float) -> str:
    """Write a duration as families use it, to the nearest minute, half up, and never none."""
    minutes = max(1, int(seconds / _MINUTE + 0.5))
    return f"{minutes} minute{'' if minutes == 1 else 's'}"


@lru_cache(maxsize=8192)
def _mark(symbol: str, name: str, number: str) -> Markup:
    return Markup(
        '<span class="mark" translate="no"><span class="note" aria-hidden="true">{}</span>'
        '<span class="vh">{} note</span> = <b>{}</b></span>'
    ).format(symbol, name, number)


def mark(tempo: Tempo) -> Markup:
    """Write a metronome mark: the note as a sign for the eye and a word for the ear."""
    if tempo.free:
        return _free(tempo)
    return _mark(tempo.beat.symbol, tempo.beat.name, tempo.bpm_text)


def _free(tempo: Tempo) -> Markup:
    """Say that a tempo is free, and about how fast it goes if that is stated."""
    free = Markup('<span class="mark">free</span>')
    if not isinstance(tempo, LooseTempo) or not tempo.stated:
        return free
    about = Tempo(tempo.beat, tempo.bpm)
    return Markup("{}, about {}").format(free, mark(about))


def percent(value: Fraction) -> str:
    """Write whole percents, rounded half up: `75 %`."""
    return f"{int(value + Fraction(1, 2))} %"


def listed(names: Sequence[str]) -> str:
    """Write names as a person would: `a, b and c`."""
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def text(value: Text | str | None, language: str = "") -> str:
    """Give the words of a text in the page's language."""
    if value is None:
        return ""
    return value if isinstance(value, str) else value.read(language)


def joined(parts: tuple[str, ...] | list[str]) -> Markup:
    """Join short texts by a middle dot that is not read aloud."""
    dot = Markup(' <span class="dot" aria-hidden="true">·</span> ')
    return dot.join(escape(part) for part in parts if part)

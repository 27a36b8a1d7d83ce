"""How values are written for readers: dates, times, tempos, durations."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from fractions import Fraction
from functools import lru_cache

from markupsafe import Markup, escape

from handbook.domain.timing import hours_minutes_seconds
from handbook.domain.values.tempo import LooseTempo, Tempo
from handbook.domain.values.text import Text
from handbook.outputs.i18n import gettext, pgettext, speech
from handbook.outputs.i18n.formats import (
    clock_span,
    clock_time,
    formats,
    full_minutes,
    full_units,
    in_a_row,
    short_units,
    written,
)

_MINUTE = 60


def short_day(day: date) -> str:
    """Write `Thu, Dec 17`."""
    code = speech().code
    return written(day, formats(code).short_day, code)


def weekday(day: date) -> str:
    """Write `Thu`."""
    return written(day, "EEE", speech().code)


def month_day(day: date) -> str:
    """Write `Dec 17`."""
    code = speech().code
    return written(day, formats(code).month_day, code)


def month_day_year(day: date) -> str:
    """Write `Dec 17, 2026`."""
    code = speech().code
    return written(day, formats(code).month_day_year, code)


def short_month(day: date) -> str:
    """Write `Dec`."""
    return written(day, "MMM", speech().code)


def long_day(day: date) -> str:
    """Write `Thursday, December 17, 2026`."""
    code = speech().code
    return written(day, formats(code).long_day, code)


def month(day: date) -> str:
    """Write `December 2026`."""
    code = speech().code
    return written(day, formats(code).month, code)


def month_heading(day: date) -> str:
    """Write `December 2026` as it stands by itself, with a capital in any language that has them."""
    words = month(day)
    return words[:1].upper() + words[1:]


def clock(moment: datetime) -> str:
    """Write the local clock time, `7:00 pm`."""
    return clock_time(moment.time())


def dotted(words: Iterable[str]) -> str:
    """Set what is not empty in a row; where it breaks, a dot ends the line."""
    return "\u00a0· ".join(filter(None, words))


def moment(at: datetime) -> str:
    """Write `2026-12-17T17:20`, the school's time as the scripts of pages compare it."""
    return f"{at:%Y-%m-%dT%H:%M}"


def span(start: datetime, end: datetime) -> str:
    """Write two clock times with the half of the day said once if both share it."""
    return clock_span(start.time(), end.time())


def duration(seconds: float, about: bool = False) -> str:
    """Write a duration to the nearest 5 s, `3 min 25 s` or `about 3 min 25 s`."""
    told = short_units(hours_minutes_seconds(seconds))
    return gettext("about %(duration)s", duration=told) if about else told


def full_duration(seconds: float) -> str:
    """Write a duration as it is said, `3 minutes 25 seconds`, rounded as `duration`."""
    return full_units(hours_minutes_seconds(seconds))


def whole_minutes(seconds: float) -> str:
    """Write a duration as families use it, to the nearest minute, half up, and never none."""
    minutes = max(1, int(seconds / _MINUTE + 0.5))
    return full_minutes(minutes)


@lru_cache(maxsize=8192)
def _mark(symbol: str, note: str, number: str) -> Markup:
    return Markup(
        '<span class="mark" translate="no"><span class="note" aria-hidden="true">{}</span>'
        '<span class="vh">{}</span> = <b>{}</b></span>'
    ).format(symbol, note, number)


def mark(tempo: Tempo) -> Markup:
    """Write a metronome mark: the note as a sign for the eye and a word for the ear."""
    if tempo.free:
        return _free(tempo)
    return _mark(tempo.beat.symbol, pgettext("beat", f"{tempo.beat.name} note"), tempo.bpm_text)


def _free(tempo: Tempo) -> Markup:
    """Say that a tempo is free, and about how fast it goes if that is stated."""
    free = Markup('<span class="mark">{}</span>').format(pgettext("tempo", "free"))
    if not isinstance(tempo, LooseTempo) or not tempo.stated:
        return free
    about = Tempo(tempo.beat, tempo.bpm)
    told = gettext("%(free)s, about %(tempo)s", free=free, tempo=mark(about))
    return Markup(told)  # noqa: S704 - its values are HTML


def percent(value: Fraction) -> str:
    """Write whole percents, rounded half up: `75 %`."""
    return formats(speech().code).percent % int(value + Fraction(1, 2))


def listed(names: Sequence[str]) -> str:
    """Write names as a person would: `a, b and c`."""
    return in_a_row(names)


def text(value: Text | str | None, language: str = "") -> str:
    """Give the words of a text in the page's language."""
    if value is None:
        return ""
    return value if isinstance(value, str) else value.read(language)


def joined(parts: tuple[str, ...] | list[str]) -> Markup:
    """Join short texts by a middle dot that is not read aloud."""
    dot = Markup(' <span class="dot" aria-hidden="true">·</span> ')
    return dot.join(escape(part) for part in parts if part)

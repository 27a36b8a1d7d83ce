"""Clock times as a director writes them: 12-hour with am or pm, or 24-hour with two digits."""

from __future__ import annotations

import re
from datetime import time

from handbook.domain.values.unreadable import UnreadableError

_HALF_DAY = (
    re.compile(r"(?P<hour>\d{1,2})(?::(?P<minute>\d{2}))?\s?(?P<half>[ap])\.?\s?m\.?"),
    re.compile(r"(?P<hour>\d{1,2}):(?P<minute>\d{2})"),
)
_NOON = time(12)
_HOURS_OF_HALF, _HOURS_OF_DAY, _MINUTES_OF_HOUR = 12, 24, 60
_SPELLINGS = ("6:30 pm", "18:30")
# `7.00 pm`, `7:0 pm`, `1900`, `7 o'clock`, `7-00`: slips of the hand, no source.
_ALMOST = re.compile(
    r"(?:at )?(?P<hour>\d{1,2})(?:[.:,h -]?(?P<minute>\d{2}))?(?: ?o.?clock)?(?: ?(?P<half>[ap])\.? ?m?\.?)?(?: [ecmp][sd]?t)?"
)


_TIME_IN_TEXT = re.compile(
    r"(?<![\d:.])(?P<hour>\d{1,2})(?:[:.](?P<minute>\d{2}))?\s?(?P<half>[ap])\.?\s?m\b"
)
_MOST_WITHIN = 3
_SCHOOL_DAY = time(6), time(18)


def parse_bell(text: str) -> time:
    """Read a time as `parse_clock` does, and offer the one within a school day first where two can be meant."""
    try:
        return parse_clock(text)
    except UnreadableError as error:
        first, last = _SCHOOL_DAY
        ordered = sorted(error.suggestions, key=lambda one: not first <= parse_clock(one) <= last)
        raise UnreadableError(error.message, tuple(ordered), sure=error.sure) from None


def parse_clock(text: str) -> time:
    """Read `6:30 pm`, `6 pm`, `12:15 a.m.`, `18:30`, `08:05` or `noon`.

    A 24-hour time has two digits of hour, so that a bare `6:30` cannot be taken for
    the wrong half of the day. Raises UnreadableError for that and for any other text.
    """
    plain = " ".join(text.lower().split())
    if plain == "noon":
        return _NOON
    if plain == "midnight":
        raise UnreadableError("midnight may mean either end of the day", ("12:00 am", "11:59 pm"))
    with_half, by_day = (pattern.fullmatch(plain) for pattern in _HALF_DAY)
    if with_half:
        return _twelve_hour(
            plain, int(with_half["hour"]), int(with_half["minute"] or 0), with_half["half"]
        )
    if by_day:
        return _twenty_four_hour(plain, by_day["hour"], int(by_day["minute"]))
    meant = _meant(plain)
    raise UnreadableError(
        f"`{text.strip()}` is no clock time",
        meant or _within(plain) or _SPELLINGS,
        sure=len(meant) == 1,
    )


def format_clock(moment: time) -> str:
    """Write a time as families read it, `6:30 pm`; noon is a word, since `12:00 pm` misleads."""
    if (moment.hour, moment.minute) == (_NOON.hour, _NOON.minute):
        return "noon"
    half = "am" if moment.hour < _HOURS_OF_HALF else "pm"
    return f"{moment.hour % _HOURS_OF_HALF or _HOURS_OF_HALF}:{moment.minute:02} {half}"


def _meant(plain: str) -> tuple[str, ...]:
    """Guess the right spellings of a time whose numbers can be told, the likelier first."""
    found = _ALMOST.fullmatch(plain)
    if not found:
        return ()
    hour, minute = int(found["hour"]), int(found["minute"] or 0)
    if minute >= _MINUTES_OF_HOUR or hour >= _HOURS_OF_DAY:
        return ()
    if found["half"]:
        return (f"{hour}:{minute:02} {found['half']}m",) if 1 <= hour <= _HOURS_OF_HALF else ()
    return _both_halves(hour, minute) if hour <= _HOURS_OF_HALF else (f"{hour}:{minute:02}",)


def _within(plain: str) -> tuple[str, ...]:
    """Give the times that stand in a text with something else: `8pm sharp`, `7 pm to 9 pm`."""
    found = (
        f"{int(one['hour'])}:{one['minute'] or '00'} {one['half']}m"
        for one in _TIME_IN_TEXT.finditer(plain)
        if 1 <= int(one["hour"]) <= _HOURS_OF_HALF and int(one["minute"] or 0) < _MINUTES_OF_HOUR
    )
    return tuple(dict.fromkeys(found))[:_MOST_WITHIN]


def _twelve_hour(plain: str, hour: int, minute: int, half: str) -> time:
    if minute >= _MINUTES_OF_HOUR:
        raise UnreadableError(f"`{plain}` has no such minute: minutes run from 00 to 59")
    if hour >= _HOURS_OF_DAY:
        raise UnreadableError(f"`{plain}` has no such hour: with am or pm, hours run from 1 to 12")
    if not 1 <= hour <= _HOURS_OF_HALF:
        meant = time(hour, minute)
        raise UnreadableError(
            f"`{plain}` mixes the 24-hour clock with {half}m",
            (format_clock(meant), f"{meant:%H:%M}"),
            sure=half == "p" and hour > _HOURS_OF_HALF,
        )
    return time(hour % _HOURS_OF_HALF + (_HOURS_OF_HALF if half == "p" else 0), minute)


def _twenty_four_hour(plain: str, hour_text: str, minute: int) -> time:
    hour = int(hour_text)
    if minute >= _MINUTES_OF_HOUR:
        raise UnreadableError(f"`{plain}` has no such minute: minutes run from 00 to 59")
    if hour == _HOURS_OF_DAY:
        raise UnreadableError(
            f"`{plain}` is past the end of the day: write the start of the next day, or the last minute of this one",
            (f"00:{minute:02}", "23:59"),
        )
    if hour > _HOURS_OF_DAY:
        raise UnreadableError(f"`{plain}` has no such hour: hours run from 00 to 23")
    if len(hour_text) == 1:
        raise UnreadableError(f"`{plain}` may be morning or evening", _both_halves(hour, minute))
    return time(hour, minute)


def _both_halves(hour: int, minute: int) -> tuple[str, str]:
    """Give the evening spelling, likelier for a band, then the morning one."""
    if hour == 0:
        return f"12:{minute:02} am", f"00:{minute:02}"
    return f"{hour}:{minute:02} pm", f"{hour:02}:{minute:02}"

"""Dates, times, tempos and durations as families read them."""

from __future__ import annotations

from datetime import UTC, date, datetime
from fractions import Fraction

import pytest

from handbook.domain.values.tempo import parse_tempo
from handbook.domain.values.text import Text
from handbook.outputs.html import formatting

CONCERT = date(2026, 12, 17)


def at(hour: int, minute: int) -> datetime:
    return datetime(2026, 12, 17, hour, minute, tzinfo=UTC)


def test_days() -> None:
    assert formatting.short_day(CONCERT) == "Thu, Dec 17"
    assert formatting.long_day(CONCERT) == "Thursday, December 17, 2026"
    assert formatting.month(CONCERT) == "December 2026"
    assert formatting.short_day(date(2027, 1, 4)) == "Mon, Jan 4"


@pytest.mark.parametrize(
    ("hour", "minute", "shown"),
    [
        (0, 5, "12:05 am"),
        (9, 7, "9:07 am"),
        (12, 0, "noon"),
        (12, 30, "12:30 pm"),
        (19, 0, "7:00 pm"),
    ],
)
def test_clock_times(hour: int, minute: int, shown: str) -> None:
    assert formatting.clock(at(hour, minute)) == shown


@pytest.mark.parametrize(
    ("start", "end", "shown"),
    [
        ((9, 11), (9, 58), "9:11–9:58 am"),
        ((11, 30), (12, 10), "11:30 am–12:10 pm"),
        ((12, 10), (12, 50), "12:10–12:50 pm"),
        ((11, 30), (12, 0), "11:30 am–noon"),
        ((12, 0), (12, 45), "noon–12:45 pm"),
    ],
)
def test_spans_say_the_half_of_the_day_once(
    start: tuple[int, int], end: tuple[int, int], shown: str
) -> None:
    assert formatting.span(at(*start), at(*end)) == shown


def test_marks_have_a_sign_for_the_eye_and_a_word_for_the_ear() -> None:
    mark = formatting.mark(parse_tempo("dotted quarter = 84"))
    assert mark == (
        '<span class="mark" translate="no"><span class="note" aria-hidden="true">♩.</span>'
        '<span class="vh">dotted quarter note</span> = <b>84</b></span>'
    )


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (Fraction(1, 3), "0 %"),
        (Fraction(1, 2), "1 %"),
        (Fraction(299, 4), "75 %"),
        (Fraction(100), "100 %"),
    ],
)
def test_percents_are_rounded_half_up(value: Fraction, shown: str) -> None:
    assert formatting.percent(value) == shown


def test_texts_are_read_in_the_pages_language() -> None:
    both = Text((("en", "Band"), ("es", "Banda")))
    assert formatting.text(both, "es") == "Banda"
    assert formatting.text("Band", "es") == "Band"
    assert formatting.text(None) == ""


def test_joined_texts_are_escaped_and_the_dot_is_not_read_aloud() -> None:
    shown = formatting.joined(("<b>", "", "two"))
    assert shown == '&lt;b&gt; <span class="dot" aria-hidden="true">·</span> two'


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (200, "3 minutes 20 seconds"),
        (61, "1 minute"),
        (3665, "1 hour 1 minute 5 seconds"),
        (1, "1 second"),
    ],
)
def test_a_duration_is_said_in_full(seconds: float, said: str) -> None:
    assert formatting.full_duration(seconds) == said

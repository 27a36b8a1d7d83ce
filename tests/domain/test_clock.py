"""Clock times in and out; 12 am is midnight and 12 pm noon (common practice, no source)."""

from __future__ import annotations

from datetime import time

import pytest

from handbook.domain.values.clock import format_clock, parse_bell, parse_clock
from handbook.domain.values.unreadable import UnreadableError


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("6:30 pm", time(18, 30)),
        ("6:30pm", time(18, 30)),
        ("6 pm", time(18)),
        ("6:30 P.M.", time(18, 30)),
        ("12:15 a.m.", time(0, 15)),
        ("12:15 p. m.", time(12, 15)),
        ("12 am", time(0)),
        ("06:30 pm", time(18, 30)),
        ("6:30\u00a0pm", time(18, 30)),  # pasted with a no-break space
        ("18:30", time(18, 30)),
        ("08:05", time(8, 5)),
        ("00:00", time(0)),
        ("12:00", time(12)),
        (" noon ", time(12)),
    ],
)
def test_a_time_is_read(text: str, expected: time) -> None:
    assert parse_clock(text) == expected


@pytest.mark.parametrize(
    ("text", "says", "suggestions"),
    [
        ("6:30", "morning or evening", ("6:30 pm", "06:30")),
        ("0:30", "morning or evening", ("12:30 am", "00:30")),
        ("midnight", "either end", ("12:00 am", "11:59 pm")),
        ("24:00", "past the end of the day", ("00:00", "23:59")),
        ("25:10", "from 00 to 23", ()),
        ("18:60", "from 00 to 59", ()),
        ("6:75 pm", "from 00 to 59", ()),
        ("13:00 pm", "mixes", ("1:00 pm", "13:00")),
        ("18:30 pm", "mixes", ("6:30 pm", "18:30")),
        ("0:30 am", "mixes", ("12:30 am", "00:30")),
        ("44 pm", "from 1 to 12", ()),
        ("6.30 pm", "no clock time", ("6:30 pm",)),
        ("7.15", "no clock time", ("7:15 pm", "07:15")),
        ("1900", "no clock time", ("19:00",)),
        ("at 7 o'clock pm", "no clock time", ("7:00 pm",)),
        ("7:00 PM CST", "no clock time", ("7:00 pm",)),
        # What was written goes before any example of ours.
        ("8pm sharp", "no clock time", ("8:00 pm",)),
        ("around 7 pm", "no clock time", ("7:00 pm",)),
        ("7pm - 9:15pm", "no clock time", ("7:00 pm", "9:15 pm")),
        ("doors 6:30 p.m., music 7 p.m.", "no clock time", ("6:30 pm", "7:00 pm")),
        ("13pm sharp", "no clock time", ("6:30 pm", "18:30")),
        ("room 7 pmx", "no clock time", ("6:30 pm", "18:30")),
        ("7.75 pm", "no clock time", ("6:30 pm", "18:30")),
        ("6:3 pm", "no clock time", ("6:30 pm", "18:30")),
        ("390", "no clock time", ("6:30 pm", "18:30")),
        ("", "no clock time", ("6:30 pm", "18:30")),
    ],
)
def test_a_doubtful_time_is_refused_with_a_way_out(
    text: str, says: str, suggestions: tuple[str, ...]
) -> None:
    with pytest.raises(UnreadableError, match=says) as refused:
        parse_clock(text)
    assert refused.value.suggestions == suggestions


@pytest.mark.parametrize(
    ("text", "suggestions"),
    [  # bells ring in the morning and early afternoon: common practice, no source
        ("10.05", ("10:05", "10:05 pm")),
        ("8:05", ("08:05", "8:05 pm")),
        ("2:50", ("2:50 pm", "02:50")),
        ("8am sharp", ("8:00 am",)),
    ],
)
def test_of_two_halves_a_bell_is_in_the_school_day(text: str, suggestions: tuple[str, ...]) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_bell(text)
    assert refused.value.suggestions == suggestions
    assert parse_bell("10:05 am") == time(10, 5)


@pytest.mark.parametrize("text", ["6:30", "0:30", "midnight", "24:00", "13:00 pm", "0:30 am", "x"])
def test_every_suggestion_can_be_read(text: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_clock(text)
    for suggestion in refused.value.suggestions:
        parse_clock(suggestion)


@pytest.mark.parametrize(
    ("moment", "text"),
    [
        (time(18, 30), "6:30 pm"),
        (time(9, 5), "9:05 am"),
        (time(12), "noon"),
        (time(12, 1), "12:01 pm"),
        (time(0), "12:00 am"),
    ],
)
def test_a_time_is_written_for_families(moment: time, text: str) -> None:
    assert format_clock(moment) == text

"""Calendar files to days, by RFC 5545 and by the habits of files that are really published.

Sections are those of RFC 5545. Days were read off a calendar by hand where no source is named.
"""

from __future__ import annotations

import re
import time
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from handbook.school_calendar import blocks
from handbook.school_calendar.model import CalendarFile, NoCalendarError
from handbook.school_calendar.reading import read_calendar
from handbook.school_calendar.rules import may_never_come

ZONE = ZoneInfo("America/Chicago")
FIRST, LAST = date(1990, 1, 1), date(2030, 12, 31)


def calendar(*entries: str, end: str = "\r\n") -> bytes:
    """Wrap entries, each the lines of its fields, into a calendar file."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//example.org//EN"]
    for entry in entries:
        lines += ["BEGIN:VEVENT", *entry.strip("\n").split("\n"), "END:VEVENT"]
    return end.join((*lines, "END:VCALENDAR", "")).encode()


def read(raw: bytes, first: date = FIRST, last: date = LAST) -> CalendarFile:
    return read_calendar(raw, ZONE, first, last)


def spans(found: CalendarFile) -> list[tuple[str, str, str]]:
    return [(one.title, one.first.isoformat(), one.last.isoformat()) for one in found.entries]


def days(*fields: str, last: date = LAST) -> list[str]:
    """Give the days of one entry, which have a single day each."""
    found = read(calendar("\n".join(("SUMMARY:x", *fields))), last=last)
    assert all(one.first == one.last for one in found.entries), found
    return [one.first.isoformat() for one in found.entries]


# --- 3.6.1, 3.8.2.2: ends -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "first", "last"),
    [
        # The example of 3.6.1: an entry of eleven days.
        ("DTSTART;VALUE=DATE:20070628\nDTEND;VALUE=DATE:20070709", "2007-06-28", "2007-07-08"),
        ("DTSTART;VALUE=DATE:20261125", "2026-11-25", "2026-11-25"),  # no end: one day (3.6.1)
        ("DTSTART;VALUE=DATE:20261125\nDURATION:P3D", "2026-11-25", "2026-11-27"),
        # Habits: no VALUE; an end that is the start, or before it; a time with VALUE=DATE.
        ("DTSTART:20261125", "2026-11-25", "2026-11-25"),
        ("DTSTART;VALUE=DATE:20261125\nDTEND;VALUE=DATE:20261125", "2026-11-25", "2026-11-25"),
        ("DTSTART;VALUE=DATE:20261125\nDTEND;VALUE=DATE:20261120", "2026-11-25", "2026-11-25"),
        ("DTSTART;VALUE=DATE:20261125T000000", "2026-11-25", "2026-11-25"),
        # Habit: days alone as midnights, in local time, floating and in UTC (six hours behind it).
        (
            "DTSTART;TZID=America/Chicago:20261125T000000\nDTEND;TZID=America/Chicago:20261128T000000",
            "2026-11-25",
            "2026-11-27",
        ),
        ("DTSTART:20261125T000000\nDTEND:20261128T000000", "2026-11-25", "2026-11-27"),
        ("DTSTART:20261125T060000Z\nDTEND:20261128T060000Z", "2026-11-25", "2026-11-27"),
        (
            "DTSTART;TZID=Central Standard Time:20261125T000000\nDTEND;TZID=Central Standard Time:20261126T000000",
            "2026-11-25",
            "2026-11-25",
        ),
        ('DTSTART;TZID="Our own zone":20261125T073000', "2026-11-25", "2026-11-25"),
        # 17:30Z on September 18 is 12:30 pm in Chicago; 03:00Z on the 19th is 10 pm on the 18th.
        ("DTSTART:20260918T173000Z\nDTEND:20260919T030000Z", "2026-09-18", "2026-09-18"),
        # Daylight saving ends on November 1, 2026 (15 U.S.C. 260a): 05:30Z is 12:30 am before it,
        # and 11:30 pm of the day before after it.
        ("DTSTART:20261101T053000Z", "2026-11-01", "2026-11-01"),
        ("DTSTART:20261102T053000Z", "2026-11-01", "2026-11-01"),
    ],
)
def test_the_days_of_an_entry(fields: str, first: str, last: str) -> None:
    assert spans(read(calendar(f"SUMMARY:x\n{fields}"))) == [("x", first, last)]


# --- 3.1, 3.3.11: lines and texts ---------------------------------------------------------------


@pytest.mark.parametrize("end", ["\r\n", "\n", "\r"])
def test_folded_lines_are_joined(end: str) -> None:
    """The example of 3.1, as a title."""
    folded = (
        "DTSTART;VALUE=DATE:20261125\n"
        "SUMMARY:This is a lo\n ng description\n  that exists on a long line."
    )
    title = "This is a long description that exists on a long line."
    assert spans(read(calendar(folded, end=end))) == [(title, "2026-11-25", "2026-11-25")]


def test_texts_are_unescaped_and_made_one_line() -> None:
    """3.3.11, its example with the comma and semicolon that must be escaped."""
    title = r"Project XYZ Final Review\nConference Room - 3B\NCome Prepared\, all\; please\\"
    (found,) = read(calendar(f"SUMMARY;LANGUAGE=en-us:{title}\nDTSTART:20261125")).entries
    expected = "Project XYZ Final Review Conference Room - 3B Come Prepared, all; please\\"
    assert found.title == expected


def test_signs_that_cannot_be_seen_and_marks_of_web_pages_are_left_out() -> None:
    raw = calendar("SUMMARY:<b>Presidents&#39; Day</b> &amp;\u200b more\x07\nDTSTART:20270215")
    assert [one.title for one in read(raw).entries] == ["Presidents' Day & more"]


def test_fields_of_an_alarm_are_not_the_entrys() -> None:
    alarm = "BEGIN:VALARM\nSUMMARY:alarm\nDURATION:PT15M\nTRIGGER:-PT15M\nEND:VALARM"
    raw = calendar(f"{alarm}\nSUMMARY:x\nX-ODD;=:;;\nDTSTART;VALUE=DATE:20261125")
    assert spans(read(raw)) == [("x", "2026-11-25", "2026-11-25")]


@pytest.mark.parametrize(
    ("encoding", "told"),
    [
        ("utf-8", ""),
        ("utf-8-sig", ""),
        ("cp1252", "Windows-1252"),
        ("utf-16", "UTF-16"),
    ],
)
def test_however_it_was_saved(encoding: str, told: str) -> None:
    raw = calendar("SUMMARY:Día de fiesta – café\nDTSTART:20261125").decode().encode(encoding)
    found = read(raw)
    assert [one.title for one in found.entries] == ["Día de fiesta – café"]
    assert told in " ".join(found.remarks)
    assert bool(found.remarks) == bool(told)


# --- 3.8.5: repeats -----------------------------------------------------------------------------

START = "DTSTART;TZID=America/New_York:19970902T090000"


@pytest.mark.parametrize(
    ("fields", "expected"),
    [  # the examples of 3.8.5.3
        (
            (START, "RRULE:FREQ=DAILY;COUNT=10"),
            [f"1997-09-{day:02}" for day in range(2, 12)],
        ),
        (
            (START, "RRULE:FREQ=WEEKLY;COUNT=10"),
            ["1997-09-02", "1997-09-09", "1997-09-16", "1997-09-23", "1997-09-30", "1997-10-07", "1997-10-14", "1997-10-21", "1997-10-28", "1997-11-04"],
        ),
        (
            (START, "RRULE:FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH"),
            ["1997-09-02", "1997-09-04", "1997-09-09", "1997-09-11", "1997-09-16", "1997-09-18", "1997-09-23", "1997-09-25", "1997-09-30", "1997-10-02"],
        ),
        (
            (
                "DTSTART;TZID=America/New_York:19970922T090000",
                "RRULE:FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",
            ),
            ["1997-09-22", "1997-10-20", "1997-11-17", "1997-12-22", "1998-01-19", "1998-02-16"],
        ),
        (
            (
                "DTSTART;TZID=America/New_York:20070115T090000",
                "RRULE:FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
            ),
            ["2007-01-15", "2007-01-30", "2007-02-15", "2007-03-15", "2007-03-30"],
        ),
        # An exception goes before the rule, and a date as the end is meant with its whole day.
        (
            ("DTSTART;VALUE=DATE:20260902", "RRULE:FREQ=WEEKLY;UNTIL=20260930", "EXDATE;VALUE=DATE:20260916"),
            ["2026-09-02", "2026-09-09", "2026-09-23", "2026-09-30"],
        ),
        (
            ("DTSTART;TZID=America/Chicago:20260902T080000", "RRULE:FREQ=WEEKLY;UNTIL=20260909"),
            ["2026-09-02", "2026-09-09"],
        ),
        # Habits: an all-day repeat left out by a time; a timed one by its day; one by UTC
        # (13:00Z is 8 am in Chicago); both a count and an end.
        (
            ("DTSTART;VALUE=DATE:20260902", "RRULE:FREQ=WEEKLY;COUNT=3", "EXDATE:20260909T000000"),
            ["2026-09-02", "2026-09-16"],
        ),
        (
            ("DTSTART;TZID=America/Chicago:20260902T080000", "RRULE:FREQ=WEEKLY;COUNT=3", "EXDATE;VALUE=DATE:20260909"),
            ["2026-09-02", "2026-09-16"],
        ),
        (
            ("DTSTART;TZID=America/Chicago:20260902T080000", "RRULE:FREQ=WEEKLY;COUNT=3", "EXDATE:20260909T130000Z,20260916T140000Z"),
            ["2026-09-02", "2026-09-16"],
        ),
        (
            ("DTSTART;VALUE=DATE:20260902", "RRULE:FREQ=WEEKLY;COUNT=9;UNTIL=20260910"),
            ["2026-09-02", "2026-09-09"],
        ),
        (
            ("DTSTART;VALUE=DATE:20260902", "RDATE;VALUE=DATE:20260905,20261001"),
            ["2026-09-02", "2026-09-05", "2026-10-01"],
        ),
        # In UTC, 01:00Z of a Thursday is the Wednesday evening in Chicago, each week.
        (
            ("DTSTART:20261029T010000Z", "RRULE:FREQ=WEEKLY;COUNT=2"),
            ["2026-10-28", "2026-11-04"],
        ),
    ],
)  # fmt: skip
def test_repeats(fields: tuple[str, ...], expected: list[str]) -> None:
    assert days(*fields) == expected


def test_a_rule_until_a_time_in_utc_has_as_many_days_as_the_rfc_counts() -> None:
    """3.8.5.3: daily until December 24, 1997 is September 2 to December 23, 113 dates."""
    found = days(START, "RRULE:FREQ=DAILY;UNTIL=19971224T000000Z")
    assert (len(found), found[-1]) == (113, "1997-12-23")


def test_a_changed_time_of_a_repeated_entry_stands_in_its_place() -> None:
    """3.8.4.4: the week of September 9 is moved to the 10th, that of the 16th is cancelled."""
    raw = calendar(
        "UID:1\nSUMMARY:Late start\nDTSTART;VALUE=DATE:20260902\nRRULE:FREQ=WEEKLY;COUNT=4",
        "UID:1\nSUMMARY:Late start\nRECURRENCE-ID;VALUE=DATE:20260909\nDTSTART;VALUE=DATE:20260910",
        "UID:1\nSUMMARY:Late start\nRECURRENCE-ID;VALUE=DATE:20260916\nDTSTART;VALUE=DATE:20260916\nSTATUS:CANCELLED",
    )
    found = read(raw)
    assert [one.first.day for one in found.entries] == [2, 10, 23]
    assert [(one.line, one.why) for one in found.passed_over] == [(16, "it is cancelled")]


def test_of_two_versions_of_an_entry_the_later_counts() -> None:
    """3.8.7.4: the sequence number grows with each change."""
    raw = calendar(
        "UID:1\nSEQUENCE:2\nSUMMARY:No School\nDTSTART:20260911",
        "UID:1\nSEQUENCE:1\nSUMMARY:No School\nDTSTART:20260910",
        "UID:same-for-all\nSUMMARY:a\nDTSTART:20260912",  # a habit: one id for every entry
        "UID:same-for-all\nSUMMARY:b\nDTSTART:20260913",
    )
    found = read(raw)
    assert [one.first.day for one in found.entries] == [11, 12, 13]
    assert [one.why for one in found.passed_over] == ["a later version of it is in the file"]


# --- what is wrong in one entry ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("entry", "why"),
    [
        ("SUMMARY:bad\nDTSTART:2026-11-25", "its days are written in no known way"),
        ("SUMMARY:bad\nDTSTART:20260230", "its days are written in no known way"),
        ("SUMMARY:bad\nDTSTART:\nDTEND:20261125", "its days are written in no known way"),
        ("SUMMARY:bad", "it has no day"),
        ("SUMMARY:\nDTSTART:20261125", "it has no title"),
        ("SUMMARY:bad\nDTSTART:10000101", "it is of the year 1000"),
        ("SUMMARY:bad\nDTSTART:20261125\nRRULE:FREQ=SOMETIMES", "the rule by which it repeats cannot be read"),
        ("SUMMARY:bad\nDTSTART:20261125\nRRULE:BYDAY=MO", "the rule by which it repeats cannot be read"),
        ("SUMMARY:bad\nDTSTART:20261125T080000\nRRULE:FREQ=MINUTELY", "it repeats within a day"),
        ("SUMMARY:bad\nDTSTART:20261125\nRRULE:FREQ=DAILY", "it repeats more than 400 times"),
        ("SUMMARY:bad\nDTSTART:20261125\nDTEND:20281125", "it lasts for more than a year"),
        ("SUMMARY:bad\nDTSTART:20261125\nSTATUS:CANCELLED", "it is cancelled"),
        ("UID:2\nSUMMARY:bad\nDTSTART:20261125\nRECURRENCE-ID;RANGE=THISANDFUTURE:20261125", "it changes all later times of a repeated entry at once"),
    ],
)  # fmt: skip
def test_one_broken_entry_is_told_and_the_others_are_read(entry: str, why: str) -> None:
    found = read(
        calendar("SUMMARY:good\nDTSTART:20260911", entry, "SUMMARY:good\nDTSTART:20260912")
    )
    assert [one.first.day for one in found.entries] == [11, 12]
    (told,) = found.passed_over
    assert (told.line, told.title, told.why) == (8, "" if "SUMMARY:\n" in entry else "bad", why)


def test_an_entry_without_an_end_is_told() -> None:
    raw = calendar("SUMMARY:a\nDTSTART:20260911", "SUMMARY:b\nDTSTART:20260912")
    found = read(raw.replace(b"END:VEVENT\r\n", b"", 1))
    assert [one.title for one in found.entries] == ["b"]
    assert [(one.line, one.title) for one in found.passed_over] == [(4, "a")]
    cut = read(raw[: raw.rindex(b"END:VEVENT")])
    assert [one.title for one in cut.entries] == ["a"]
    assert [one.why for one in cut.passed_over] == ["the entry has no end in the file"]


def test_a_title_that_is_broken_off_is_told() -> None:
    found = read(calendar("SUMMARY:No\nSchool for grade 6\nDTSTART:20260911"))
    assert [one.title for one in found.entries] == ["No"]
    assert [one.why for one in found.passed_over] == ["its title is broken off, so it may say more"]


def test_an_entry_that_is_there_twice_is_given_once() -> None:
    found = read(calendar(*["SUMMARY:No School\nDTSTART:20260911"] * 3))
    assert (len(found.entries), found.repeated, found.number) == (1, 2, 3)


def test_what_lies_outside_the_days_that_are_asked_for_is_left_out() -> None:
    raw = calendar(
        "SUMMARY:a\nDTSTART:20260810",
        "SUMMARY:b\nDTSTART:20260811\nDTEND:20260821",
        "SUMMARY:c\nDTSTART;VALUE=DATE:20200805\nRRULE:FREQ=WEEKLY",
    )
    found = read(raw, date(2026, 8, 20), date(2026, 8, 27))
    assert spans(found) == [("b", "2026-08-11", "2026-08-20"), ("c", "2026-08-26", "2026-08-26")]
    assert (found.number, found.outside) == (3, 1)


def test_nothing_is_told_of_what_is_broken_in_another_year() -> None:
    raw = calendar(
        "SUMMARY:old\nDTSTART:20200810\nSTATUS:CANCELLED",
        "SUMMARY:new\nDTSTART:20260820\nSTATUS:CANCELLED",
    )
    found = read(raw, date(2026, 8, 20), date(2026, 8, 27))
    assert [one.title for one in found.passed_over] == ["new"]
    assert found.outside == 1


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "it is empty"),
        (b"\n  \n<!DOCTYPE html>\n<html>", "it begins with `<!DOCTYPE html>`"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "this is no calendar file"),
        (b"BEGIN:VCALENDAR\n" + b"x" * blocks.MOST_BYTES, "5.0 MB"),
        (b"BEGIN:VCALENDAR\n" + b"BEGIN:VEVENT\nEND:VEVENT\n" * 10_001, "more than 10,000 entries"),
    ],
)
def test_what_is_no_calendar_is_refused_in_a_sentence(raw: bytes, said: str) -> None:
    with pytest.raises(NoCalendarError, match=re.escape(said)):
        read(raw)


NEVER = (
    "FREQ=DAILY;INTERVAL=0",
    "FREQ=WEEKLY;INTERVAL=-1",
    "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=DAILY;INTERVAL=7;BYDAY=WE",  # counted from a Thursday
    "FREQ=MONTHLY;INTERVAL=12;BYMONTH=3",  # counted from a January
    "FREQ=MONTHLY;BYDAY=6MO",
    "FREQ=YEARLY;BYWEEKNO=53;BYMONTH=6",
    "FREQ=YEARLY;BYYEARDAY=366;BYMONTH=2",
    "FREQ=MONTHLY;BYDAY=MO;BYSETPOS=40",
    "FREQ=YEARLY;INTERVAL=2;BYMONTH=2;BYMONTHDAY=29",  # counted from an odd year
)


def test_rules_that_never_come_or_never_end_are_left_in_time() -> None:
    """Each would be followed for thousands of years, which dateutil takes half a minute for."""
    never = (f"SUMMARY:never\nDTSTART:19810101\nRRULE:{rule};COUNT=5" for rule in NEVER)
    always = "SUMMARY:always\nDTSTART:19700101\nRRULE:FREQ=DAILY;COUNT=999999999"
    begun = time.process_time()
    found = read(calendar(*never, always), date(2027, 8, 1), date(2027, 8, 3))
    assert [one.title for one in found.entries] == ["always"] * 3
    assert {one.why for one in found.passed_over} == {
        "the rule by which it repeats is of a rare kind"
    }
    assert time.process_time() - begun < 10


FREQUENCIES = st.sampled_from(["DAILY", "WEEKLY", "MONTHLY", "YEARLY"])
DAYS = st.lists(st.sampled_from(["MO", "WE", "FR", "1MO", "-1FR", "5TU"]), max_size=2, unique=True)


@given(
    FREQUENCIES,
    st.integers(1, 3),
    DAYS,
    st.lists(st.integers(1, 12), max_size=2, unique=True),
    st.lists(st.integers(-3, 31), max_size=2, unique=True),
)
@settings(max_examples=60, deadline=None, phases=[Phase.explicit, Phase.generate])
def test_what_is_followed_comes_within_a_lifetime(
    frequency: str, interval: int, on: list[str], months: list[int], month_days: list[int]
) -> None:
    """dateutil follows the rule; one that is not refused gives a day, and soon."""
    rule: dict[str, list[str]] = {"FREQ": [frequency], "INTERVAL": [str(interval)]}
    parts = {"BYDAY": on, "BYMONTH": map(str, months), "BYMONTHDAY": map(str, month_days)}
    rule |= {name: found for name, values in parts.items() if (found := list(values))}
    if may_never_come(rule):
        return
    text = ";".join(f"{name}={','.join(values)}" for name, values in rule.items())
    followed = rrulestr(text, dtstart=datetime(2026, 8, 24))  # noqa: DTZ001 - days alone
    assert next(iter(followed)).year < 2100

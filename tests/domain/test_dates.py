"""Dates as typed; weekdays from the Gregorian calendar, spellings from ISO 8601."""

from __future__ import annotations

from datetime import date

import pytest

from handbook.domain.values.dates import dated, parse_date, parse_weekday, short_day
from handbook.domain.values.unreadable import UnreadableError

CONCERT = date(2026, 12, 10)


@pytest.mark.parametrize(
    "text",
    [
        "2026-12-10",
        "Thu 2026-12-10",
        "Thursday 2026-12-10",
        "Thu, 2026-12-10",
        "thurs. 2026-12-10",
        " THU  2026-12-10 ",
    ],
)
def test_a_date_is_read(text: str) -> None:
    assert parse_date(text) == CONCERT


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "Wed 2026-12-10",
            "2026-12-10 is a Thursday, not a Wednesday; the nearest Wednesday is 2026-12-09",
        ),
        (
            "Sunday 2026-12-10",
            "2026-12-10 is a Thursday, not a Sunday; the nearest Sunday is 2026-12-13",
        ),
        (
            "Mon 2026-12-10",
            "2026-12-10 is a Thursday, not a Monday; the nearest Monday is 2026-12-07",
        ),
        # 5 U.S.C. 6103: Martin Luther King Jr. Day is the third Monday of January, 2027-01-18.
        (
            "Tue 2027-01-18",
            "2027-01-18 is a Monday, not a Tuesday; the nearest Tuesday is 2027-01-19",
        ),
    ],
)
def test_a_weekday_that_disagrees_is_refused(text: str, message: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_date(text)
    assert refused.value.message == message
    for suggestion in refused.value.suggestions:
        parse_date(suggestion)


@pytest.mark.parametrize(
    ("text", "says", "suggestions"),
    [
        ("2026-02-30", "February 2026 has 28 days", ("2026-02-28",)),
        ("2028-02-30", "February 2028 has 29 days", ("2028-02-29",)),
        ("2026-11-31", "November 2026 has 30 days", ("2026-11-30",)),
        ("2026-11-00", "no day 00", ("2026-11-01",)),
        ("2026-13-01", "no month 13", ()),
        ("0206-12-10", "the year 0206 is outside 1900 to 2199", ()),
        ("12/10/2026", "no date", ("2026-12-10", "2026-10-12")),
        ("25/12/2026", "no date", ("2026-12-25",)),
        ("10/10/2026", "no date", ("2026-10-10",)),
        ("2026/12/10", "no date", ("2026-12-10",)),
        ("2026-12-1", "no date", ("2026-12-01",)),
        ("December 10, 2026", "no date", ("2026-12-10",)),
        ("Dec. 10 2026", "no date", ("2026-12-10",)),
        ("10 Dec 2026", "no date", ("2026-12-10",)),
        ("Dec 10th, 2026", "no date", ("2026-12-10",)),
        ("12/10/26", "no date", ("2026-12-10", "2026-10-12")),
        ("25.12.26", "no date", ("2026-12-25",)),
        ("Nov 25-27", "two days and no year.* `-11-25` or `-11-27`", ()),
        ("Nov. 30 to Dec 2", "two days and no year.* `-11-30` or `-12-02`", ()),
        ("11/25-11/27", "two days and no year.* `-11-25` or `-11-27`", ()),
        ("November 25–27, 2026", "names two days", ("2026-11-25", "2026-11-27")),
        ("Nov 31-32", "no date", ("2026-12-10", "Thu 2026-12-10")),
        ("Smarch 10 2026", "no date", ("2026-12-10", "Thu 2026-12-10")),
        ("December 2026", "no date", ("2026-12-10", "Thu 2026-12-10")),
        ("soon", "no date", ("2026-12-10", "Thu 2026-12-10")),
        ("Thrusday 2026-12-10", "no weekday", ("Thursday", "Tuesday")),
    ],
)
def test_an_unreadable_date_is_refused_with_a_way_out(
    text: str, says: str, suggestions: tuple[str, ...]
) -> None:
    with pytest.raises(UnreadableError, match=says) as refused:
        parse_date(text)
    assert refused.value.suggestions == suggestions


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("Mon", 0),
        ("monday", 0),
        ("Tues", 1),
        ("Wed.", 2),
        ("thurs", 3),
        ("FRIDAY", 4),
        ("Sat", 5),
        ("sun", 6),
    ],
)
def test_a_weekday_is_read(text: str, number: int) -> None:
    assert parse_weekday(text) == number


def test_a_misspelt_weekday_names_the_nearest() -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_weekday("Wendesday")
    assert refused.value.suggestions[0] == "Wednesday"


def test_a_date_is_written_with_its_weekday_and_read_again() -> None:
    assert (dated(CONCERT), short_day(CONCERT)) == ("Thu 2026-12-10", "Thu, Dec 10")
    assert parse_date(dated(CONCERT)) == CONCERT
    assert short_day(date(2027, 3, 7)) == "Sun, Mar 7"

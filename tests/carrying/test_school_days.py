"""From titled days to a school year, where they touch each other; days reckoned by hand."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from handbook.carrying.bells import bells_for
from handbook.carrying.dates import first_meeting
from handbook.carrying.school_days import ProposedYear, from_calendar
from handbook.domain.school_day_titles import DayMeaning
from handbook.schema.year import Year
from handbook.school_calendar.model import CalendarDays, CalendarFile

PERIOD = [{"id": "p1", "start": "9:00 am", "end": "9:45 am"}]


def year(**fields: Any) -> Year:
    """Last year, from Monday, August 24, 2026 to Friday, June 4, 2027: 52 weeks on, August 23 to June 2."""
    bells = ("regular", "early-release", "late-start")
    usual: dict[str, Any] = {
        "first_day": "2026-08-24",
        "last_day": "2027-06-04",
        "bells": [{"id": name, "periods": PERIOD} for name in bells],
        "meetings": [{"ensemble": "lantern", "weekdays": ["Mon"], "period": "p1"}],
    }
    return Year.model_validate(usual | fields)


def proposed(old: Year, *entries: tuple[str, str] | tuple[str, str, str]) -> ProposedYear:
    """Read entries: a title, its first day and, if it has several, its last."""
    days = [
        CalendarDays(line, title, date.fromisoformat(first), date.fromisoformat((*last, first)[0]))
        for line, (title, first, *last) in enumerate(entries, 1)
    ]
    return from_calendar(old, CalendarFile(tuple(days), number=len(days)))


def closures(found: ProposedYear) -> list[tuple[str, str, str]]:
    return [(one.name, one.first.isoformat(), one.last.isoformat()) for one in found.closures]


def test_what_last_year_had_is_named_by_a_title_with_its_words_in_it() -> None:
    names = ("Veterans Day", "Thanksgiving break", "Spring break", "Martin Luther King Jr. Day")
    others = ("Veterans assembly", "Early release", "Last day, early release", "Fall assembly")
    old = year(
        closures=[{"name": name, "date": "2026-11-11"} for name in (*names, "Winter break")],
        altered=[{"name": name, "date": "2026-10-02", "bells": "late-start"} for name in others],
    )
    titles = (
        "Veterans Day Assembly - 2 hr delay",
        "Thanksgiving Break (Schools/Offices Closed)",
        "MLK Day - Holiday",
        "Spring Break begins",
        "Last Day of School / Early Release",
    )
    found = proposed(old, *((title, f"2027-11-0{on}") for on, title in enumerate(titles, 1)))
    # An early release on the last day is not those of other days.
    assert found.missing == ("Winter break", "Early release", "Fall assembly")


def test_an_event_has_the_bells_that_it_had_last_year() -> None:
    entry = {"name": "Veterans Day Assembly", "date": "2026-11-10", "bells": "late-start"}
    found = proposed(year(altered=[entry]), ("Veterans Day Assembly", "2027-11-10"))
    assert [(one.name, one.bells) for one in found.altered] == [
        ("Veterans Day Assembly", "late-start")
    ]
    assert found.decide == ()


def test_what_is_asked_about_stands_where_it_closes_no_school() -> None:
    found = proposed(
        year(),
        ("Half day - no school pm", "2027-09-08"),
        ("Spring Break Camp Registration", "2027-09-09"),
        ("Winter Break Begins", "2027-12-17"),
        ("Veterans Day Parade", "2027-11-13"),  # a Saturday
    )
    assert [one.kind for one in found.decide] == [
        DayMeaning.EARLY,
        DayMeaning.OTHERWISE,
        DayMeaning.CLOSED,
    ]
    assert [one.title for one in found.idle] == ["Veterans Day Parade"]


def test_the_first_and_last_day_are_those_of_the_year_to_come() -> None:
    found = proposed(
        year(),
        ("First Day of School", "2027-08-25"),
        ("First Day of School", "2028-08-23"),
        ("Last Day of School", "2027-06-10"),
        ("Last Day of School", "2028-05-31"),
    )
    assert (found.first_day, found.last_day) == (date(2027, 8, 25), date(2028, 5, 31))
    assert (found.first_said, found.last_said) == (True, True)
    assert found.decide == ()


def test_of_several_first_days_the_earliest_is_taken_and_the_others_asked_about() -> None:
    found = proposed(
        year(), ("First Student Day", "2027-08-26"), ("First Day of School", "2027-08-24")
    )
    assert found.first_day == date(2027, 8, 24)
    assert [(one.lines, one.why) for one in found.decide] == [
        ((1,), "the calendar has several first days; the year has 2027-08-24")
    ]


def test_a_closure_of_half_the_year_is_asked_about() -> None:
    found = proposed(year(), ("School Closed", "2027-09-01", "2027-10-16"))
    assert found.closures == ()
    assert [one.why for one in found.decide] == ["it would close school for 46 days"]
    assert closures(proposed(year(), ("School Closed", "2027-09-01", "2027-10-15"))) == [
        ("School Closed", "2027-09-01", "2027-10-15")
    ]


def test_a_day_within_a_longer_closure_is_left_to_it() -> None:
    found = proposed(
        year(),
        ("Thanksgiving Break", "2027-11-24", "2027-11-26"),
        ("Thanksgiving Day - No School", "2027-11-25"),
    )
    assert closures(found) == [("Thanksgiving Break", "2027-11-24", "2027-11-26")]
    assert [one.why for one in found.idle] == ["it lies within Thanksgiving Break"]


def test_days_of_one_name_are_joined_over_a_weekend_and_not_over_a_school_day() -> None:
    found = proposed(
        year(),
        *(("Winter Break", f"2027-12-{on}") for on in (22, 23, 24, 27, 29)),
        ("Fall Break", "2027-10-08"),
        ("Columbus Day - No School", "2027-10-11"),
    )
    assert closures(found) == [
        ("Fall Break", "2027-10-08", "2027-10-08"),
        ("Columbus Day", "2027-10-11", "2027-10-11"),
        ("Winter Break", "2027-12-22", "2027-12-27"),
        ("Winter Break", "2027-12-29", "2027-12-29"),
    ]


def test_a_school_of_four_days_a_week_has_no_closure_on_the_fifth() -> None:
    old = year(school_days=["Mon", "Tue", "Wed", "Thu"])
    found = proposed(old, ("No School", "2027-10-08"), ("Fall Break", "2027-10-07", "2027-10-11"))
    assert closures(found) == [("Fall Break", "2027-10-07", "2027-10-11")]
    assert [one.lines for one in found.idle] == [(1,)]


def test_days_that_are_not_nearly_every_week_stand_one_by_one() -> None:
    every_third = [f"2027-{on}" for on in ("09-01", "09-22", "10-13", "11-03", "11-24", "12-15")]
    found = proposed(year(), *(("Late Start", on) for on in every_third))
    assert [(one.first.isoformat(), one.every) for one in found.altered] == [
        (on, None) for on in every_third
    ]


def test_what_a_rule_says_each_week_is_not_said_again() -> None:
    rule = {"name": "Late Tuesdays", "every": ["Tue"], "bells": "late-start"}
    found = proposed(
        year(altered=[rule]), ("Late Start", "2027-09-07"), ("Late Start", "2027-09-08")
    )
    assert [one.first for one in found.altered] == [date(2027, 9, 8)]
    assert [one.why for one in found.idle] == ["a rule of last year's says it already"]


def test_two_bells_for_one_day_are_asked_about() -> None:
    found = proposed(
        year(), ("Early Release", "2027-09-08"), ("Late Start", "2027-09-08"),
        ("Early Dismissal", "2027-09-08"),
    )  # fmt: skip
    assert [one.bells for one in found.altered] == ["early-release"]
    assert [(one.title, one.why) for one in found.decide] == [
        ("Late Start", "another entry has other bells for that day")
    ]
    assert [one.title for one in found.idle] == ["Early Dismissal"]


def test_an_early_day_without_school_is_asked_about_and_a_weekly_one_is_not() -> None:
    found = proposed(
        year(),
        ("No School", "2027-09-08"),
        ("Early Release", "2027-09-08"),
        ("Early Release", "2027-09-11"),
    )
    assert found.altered == ()
    assert [one.why for one in found.decide] == ["there is no school that day"] * 2
    off = date(2027, 9, 8)
    weekly = [CalendarDays(7, "Late Start", on, on) for on in (date(2027, 9, 1), off)]
    closed = CalendarDays(1, "No School", off, off)
    found = from_calendar(year(), CalendarFile((closed, *weekly)))
    assert found.decide == ()


def test_a_make_up_day_is_one_without_school() -> None:
    found = proposed(
        year(),
        ("Snow Make-up Day", "2028-03-11"),  # a Saturday
        ("Snow Make-up Day", "2028-03-13"),
        ("Presidents' Day - No School", "2028-02-21"),
        ("Make-up Day", "2028-02-21"),
    )
    assert [one.first for one in found.make_up] == [date(2028, 3, 11)]
    assert {one.first: one.why for one in found.decide} == {
        date(2028, 3, 13): "that day has school anyway",
        date(2028, 2, 21): "school is closed that day, so it may be made up only if need be",
    }


def test_labels_that_follow_no_order_are_left_alone() -> None:
    days = [date(2027, 8, 23).toordinal() + 7 * week + on for week in range(18) for on in range(5)]
    labels = "AABBA" * 18
    entries = [
        (f"{label} Day", date.fromordinal(on).isoformat())
        for label, on in zip(labels, days, strict=True)
    ]
    found = proposed(year(day_labels=["A", "B"]), *entries)
    assert found.altered == ()
    assert [one.why for one in found.decide] == [
        "its labels do not follow each other as A, B, so none was written"
    ]
    # Weeks in turn, A on even days, are followed by beginning afresh at most once a week.
    turns = [(f"{'AB'[place % 2]} Day", on) for place, (_, on) in enumerate(entries)]
    assert proposed(year(day_labels=["A", "B"]), *turns).altered == ()


def test_two_labels_for_one_day_are_asked_about() -> None:
    found = proposed(year(day_labels=["A", "B"]), ("A Day", "2027-08-23"), ("B Day", "2027-08-23"))
    assert [(one.title, one.why) for one in found.decide] == [
        ("B Day", "another entry has the label A for that day")
    ]


@pytest.mark.parametrize(
    ("bells", "title", "kind", "expected"),
    [
        (("early-release", "late-start"), "Half Day", DayMeaning.EARLY, "early-release"),
        (("early-release", "early-dismissal"), "Early Dismissal", DayMeaning.EARLY, "early-dismissal"),
        (("early-release", "early-dismissal"), "Half Day", DayMeaning.EARLY, None),
        (("assembly",), "Half Day", DayMeaning.EARLY, None),
        (("assembly", "late"), "2-Hour Delay", DayMeaning.LATE, "late"),
        ((), "Late Start", DayMeaning.LATE, None),
    ],
)  # fmt: skip
def test_bells_are_found_by_name_or_by_kind(
    bells: tuple[str, ...], title: str, kind: DayMeaning, expected: str | None
) -> None:
    schedules = [{"id": name, "periods": PERIOD} for name in ("regular", *bells)]
    assert bells_for(year(bells=schedules), title, kind) == expected


def test_bells_of_a_name_that_last_year_had_go_before_all() -> None:
    old = year(altered=[{"name": "Half day", "date": "2026-10-02", "bells": "late-start"}])
    assert bells_for(old, "HALF DAY", DayMeaning.EARLY) == "late-start"


@pytest.mark.parametrize(
    ("meeting", "after", "expected"),
    [
        ({"weekdays": ["Mon"]}, date(2026, 8, 24), date(2026, 8, 31)),
        ({"weekdays": ["Mon"]}, date(2026, 9, 1), date(2026, 9, 14)),  # the 7th is closed
        ({"weekdays": ["Mon"], "from": "2026-10-05"}, date(2026, 8, 24), date(2026, 10, 5)),
        ({"weekdays": ["Mon"], "to": "2026-10-05"}, date(2026, 10, 5), None),
        # A on Monday, August 24, so B on the Tuesday.
        ({"labels": ["B"]}, date(2026, 8, 20), date(2026, 8, 25)),
        ({"ensemble": "harbor", "weekdays": ["Mon"]}, date(2026, 8, 24), None),
    ],
)
def test_the_first_meeting_after_a_day(
    meeting: dict[str, Any], after: date, expected: date | None
) -> None:
    one = {"ensemble": "lantern", "period": "p1"} | meeting
    closed = [{"name": "Labor Day", "date": "2026-09-07"}]
    old = year(meetings=[one], closures=closed, day_labels=["A", "B"])
    assert first_meeting(old, {"lantern"}, after) == expected

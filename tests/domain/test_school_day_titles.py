"""Titles as school calendars have them (common practice, no source), each with what it says and does not."""

from __future__ import annotations

import pytest

from handbook.domain.school_day_titles import DayMeaning, same_words, title_meaning

CLOSED, EARLY, LATE, LABEL = (
    DayMeaning.CLOSED, DayMeaning.EARLY, DayMeaning.LATE, DayMeaning.LABEL,
)  # fmt: skip
OTHERWISE = DayMeaning.OTHERWISE
FIRST, LAST, MAKE_UP = DayMeaning.FIRST, DayMeaning.LAST, DayMeaning.MAKE_UP


@pytest.mark.parametrize(
    ("title", "kinds", "name"),
    [
        ("No School", {CLOSED}, "No School"),
        ("NO SCHOOL - Teacher Inservice", {CLOSED}, "Teacher Inservice"),
        ("Labor Day (No School)", {CLOSED}, "Labor Day"),
        ("No School: Presidents’ Day", {CLOSED}, "Presidents' Day"),
        ("Parent/Teacher Conferences – No School", {CLOSED}, "Parent/Teacher Conferences"),
        ("No School for Students / Teacher Work Day", {CLOSED}, "Teacher Work Day"),
        ("Schools Closed", {CLOSED}, "Schools Closed"),
        ("Thanksgiving Break (Schools/Offices Closed)", {CLOSED}, "Thanksgiving Break"),
        ("Winter Break: District Offices & Schools Closed", {CLOSED}, "Winter Break"),
        ("Labor Day - No School, Offices Closed", {CLOSED}, "Labor Day"),
        ("Student Holiday", {CLOSED}, "Student Holiday"),
        ("Non-Student Day", {CLOSED}, "Non-Student Day"),
        ("B Day - No School", {CLOSED}, "B Day"),
        ("Winter Break", {CLOSED}, "Winter Break"),
        ("Thanksgiving Recess", {CLOSED}, "Thanksgiving Recess"),
        ("Winter Break Begins - No School", {CLOSED}, "Winter Break Begins"),
        ("Early Release", {EARLY}, ""),
        ("Early Dismissal 12:30 pm", {EARLY}, ""),
        ("12:30 p.m. Dismissal", {EARLY}, ""),
        ("Early Release - Parent Teacher Conferences", {EARLY}, ""),
        ("K-12 Early Release", {EARLY}, ""),
        ("Half Day", {EARLY}, ""),
        ("Minimum Day", {EARLY}, ""),
        ("Late Start Wednesday", {LATE}, ""),
        ("2-Hour Delay", {LATE}, ""),
        ("2 hr. delay", {LATE}, ""),
        ("A Day", {LABEL}, ""),
        ("Day B", {LABEL}, ""),
        ("A", {LABEL}, ""),
        ("A-Day / Early Release", {EARLY, LABEL}, ""),
        ("First Day of School", {FIRST}, ""),
        ("School Begins", {FIRST}, ""),
        ("First day of the 2027-28 school year", {FIRST}, ""),
        ("Last Day of School - Early Release", {LAST, EARLY}, ""),
        ("Last Student Day", {LAST}, ""),
        ("Snow Make-up Day", {MAKE_UP}, ""),
    ],
)
def test_what_a_title_says_by_itself(title: str, kinds: set[DayMeaning], name: str) -> None:
    found = title_meaning(title, ("A", "B"))
    assert (set(found.kinds), found.doubt, found.name) == (kinds, "", name or title)


@pytest.mark.parametrize(
    ("title", "doubt"),
    [
        ("Labor Day", "nothing says whether there is school"),
        ("Veterans Day", "nothing says whether there is school"),
        ("Staff Development Day", "nothing says whether there is school"),
        ("Parent-Teacher Conferences", "nothing says whether there is school"),
        ("Veterans’ Day – School in Session", "it says that something is not so"),
        ("No Early Release today", "it says that something is not so"),
        ("Veterans Day Assembly", "it may be about another matter"),
        ("Spring Break Camp Registration", "it may be about another matter"),
        ("Early Release Committee Meeting", "it may be about another matter"),
        ("Winter Break Begins", "it names where a break begins or ends"),
        ("No School - Kindergarten only", "it is said of some grades or schools"),
        ("First day of school (Grades 6-8)", "it is said of some grades or schools"),
        ("Elementary Half Day", "it is said of some grades or schools"),
        ("Snow make-up day (if needed)", "it is not settled"),
        ("Possible early release", "it is not settled"),
        ("Presidents' Day - No School (Make-Up Day)", "it says two things at once"),
        ("Half day - no school pm", "it says two things at once"),
        ("Late start and early release", "it says two things at once"),
        ("Last Day of School before Winter Break", "its other words may change what it means"),
        ("Summer School Begins", "its other words may change what it means"),
        ("Winter break begins at end of school day", "its other words may change what it means"),
    ],
)
def test_what_may_mean_something_else_is_doubted(title: str, doubt: str) -> None:
    found = title_meaning(title, ("A", "B"))
    assert found.kinds
    assert found.doubt.startswith(doubt)
    assert found.unsettled is (doubt == "nothing says whether there is school")


@pytest.mark.parametrize(
    ("title", "kinds"),
    [
        ("Veterans Day Assembly", {OTHERWISE}),
        ("Spring Break Camp Registration", {OTHERWISE}),
        ("Veterans Day Assembly - 2 hr delay", {LATE}),
        ("Veterans Day Assembly - No School", {CLOSED}),
    ],
)
def test_an_event_named_for_a_holiday_closes_no_school(title: str, kinds: set[DayMeaning]) -> None:
    found = title_meaning(title)
    assert found.kinds == kinds
    assert found.doubt == "it may be about another matter"


@pytest.mark.parametrize(
    "title",
    [
        "District Offices Closed",
        "No School Board Meeting",
        "No School Lunch Served",
        "School Board Meeting",
        "School Resumes",
        "First Day of Second Semester",
        "First Day for Teachers",
        "2nd Quarter",
        "Have a day",
        "Half a day",
        "A day of service",
        "C Day",
        "Picture Day",
        "Graduation",
        "",
        "???",
    ],
)
def test_what_is_not_understood_means_nothing(title: str) -> None:
    assert title_meaning(title, ("A", "B")).kinds == set()


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("LABOR DAY - No School", "Labor Day", True),
        ("Dr. Martin Luther King, Jr. Day", "MLK Day", True),
        ("Presidents’ Day (observed)", "Washington's Birthday", True),
        ("Christmas Vacation", "Winter break", True),
        ("Thanksgiving Day", "Thanksgiving break", False),
        ("Staff work day", "Staff learning day", False),
        ("", "", False),
    ],
)
def test_names_of_the_same(one: str, other: str, same: bool) -> None:
    assert same_words(one, other) is same

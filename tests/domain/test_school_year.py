"""Day labels, counted by hand on the Gregorian calendar: how they rotate is common practice, no source."""

from __future__ import annotations

from datetime import date, datetime

import pytest
from dateutil import rrule

from handbook.domain.school_year import (
    AlteredDays,
    Closure,
    Days,
    Exactness,
    MakeUpDay,
    Resume,
    SchoolYear,
    day_labels,
    one_day,
    year_days,
)
from handbook.domain.values.text import Text

MONDAY, FRIDAY = date(2026, 11, 16), date(2026, 12, 4)


def november(day: int) -> date:
    return date(2026, 11, day)


def labels(year: SchoolYear) -> str:
    """Write the labels of the year's school days in a row."""
    return " ".join(day_labels(year).values())


# Thanksgiving 2026 is Thursday, November 26 (5 U.S.C. 6103(a)); school is closed Wednesday to Friday.
def thanksgiving(resume: Resume | None = None) -> Closure:
    return Closure(Days(november(25), november(27)), Text.plain("Thanksgiving"), resume)


@pytest.mark.parametrize(
    ("rotation", "usual", "own", "expected"),
    [
        (("A", "B"), Resume.NEXT, None, "A B A B A  B A  B A B A B"),
        (("A", "B"), Resume.SKIP, None, "A B A B A  B A  A B A B A"),
        (("A", "B"), Resume.NEXT, Resume.SKIP, "A B A B A  B A  A B A B A"),
        (("A", "B"), Resume.SKIP, Resume.NEXT, "A B A B A  B A  B A B A B"),
        (tuple("123456"), Resume.NEXT, None, "1 2 3 4 5  6 1  2 3 4 5 6"),
        (tuple("123456"), Resume.SKIP, None, "1 2 3 4 5  6 1  5 6 1 2 3"),
        ((), Resume.NEXT, None, ""),
    ],
)
def test_labels_go_on_after_a_closure(
    rotation: tuple[str, ...], usual: Resume, own: Resume | None, expected: str
) -> None:
    year = SchoolYear(MONDAY, FRIDAY, rotation, usual, closures=(thanksgiving(own),))
    assert labels(year) == " ".join(expected.split())


@pytest.mark.parametrize(
    ("altered", "expected"),
    [
        (
            AlteredDays(one_day(november(18)), Text.plain("assembly"), label="B"),
            "A B B A B  A B A B A  B A B A B",
        ),  # re-anchors
        (
            AlteredDays(one_day(november(18)), Text.plain("assembly"), label="A"),
            "A B A B A  B A B A B  A B A B A",
        ),
        (
            AlteredDays(one_day(november(18)), Text.plain("exams"), label="X"),
            "A B X A B  A B A B A  B A B A B",
        ),  # the rotation waits
        (
            AlteredDays(one_day(november(18)), Text.plain("early release"), bells="early"),
            "A B A B A  B A B A B  A B A B A",
        ),
        (
            AlteredDays(one_day(november(21)), Text.plain("make-up"), bells="early"),
            "A B A B A B  A B A B A  B A B A B",
        ),  # a Saturday
    ],
)
def test_an_altered_day_re_anchors_the_rotation(altered: AlteredDays, expected: str) -> None:
    year = SchoolYear(MONDAY, FRIDAY, ("A", "B"), altered=(altered,))
    assert labels(year) == " ".join(expected.split())


def test_a_label_without_a_rotation_stands_alone() -> None:
    year = SchoolYear(
        MONDAY,
        FRIDAY,
        altered=(AlteredDays(one_day(november(18)), Text.plain("gold day"), label="gold"),),
    )
    assert day_labels(year) == {november(18): "gold"}


def test_no_school_day_is_on_a_weekend_or_a_closure() -> None:
    year = SchoolYear(MONDAY, FRIDAY, ("A", "B"), closures=(thanksgiving(),))
    assert [day.day.day for day in year_days(year) if day.is_school] == [
        16,
        17,
        18,
        19,
        20,
        23,
        24,
        30,
        1,
        2,
        3,
        4,
    ]


def test_an_alteration_on_a_closure_changes_nothing() -> None:
    plain = SchoolYear(MONDAY, FRIDAY, ("A", "B"), closures=(thanksgiving(),))
    altered = SchoolYear(
        MONDAY,
        FRIDAY,
        ("A", "B"),
        closures=(thanksgiving(),),
        altered=(AlteredDays(one_day(november(25)), Text.plain("exams"), label="B"),),
    )
    assert day_labels(plain) == day_labels(altered)


WED = 2
AUGUST, JUNE = date(2026, 8, 24), date(2027, 6, 4)


def test_every_weekday_of_a_span_is_that_of_a_recurrence_rule() -> None:
    """Against dateutil 2.9, RFC 5545 3.8.5.3 and 3.8.5.1 (dates left out)."""
    first, last, left = date(2026, 9, 2), date(2027, 5, 12), date(2026, 12, 16)
    days = Days(first, last, frozenset({WED, 4}), frozenset({left}))
    rule = rrule.rruleset()
    rule.rrule(
        rrule.rrule(
            rrule.WEEKLY,
            byweekday=(rrule.WE, rrule.FR),
            dtstart=datetime(2026, 9, 2),  # noqa: DTZ001 - dates alone are compared
            until=datetime(2027, 5, 12),  # noqa: DTZ001
        )
    )
    rule.exdate(datetime(2026, 12, 16))  # noqa: DTZ001
    assert list(days.within(AUGUST, JUNE)) == [one.date() for one in rule]
    assert left not in days


def altered_names(year: SchoolYear, first: int, last: int) -> list[str]:
    """Write the bells of November days, a hyphen for ordinary ones and a dot for days without school."""
    return [
        (one.bells.bells or "" if one.bells else "-") if one.is_school else "."
        for one in year_days(year)
        if november(first) <= one.day <= november(last)
    ]


def test_a_date_goes_before_a_span_and_a_span_before_every_such_weekday() -> None:
    """A hand-made calendar: late start on Wednesdays, testing Tue to Fri, an assembly on one Wednesday."""
    late = AlteredDays(
        Days(MONDAY, FRIDAY, frozenset({WED})),
        Text.plain("late"),
        "late",
        exactness=Exactness.EVERY,
    )
    testing = AlteredDays(
        Days(november(24), november(27)), Text.plain("testing"), "tests", exactness=Exactness.SPAN
    )
    assembly = AlteredDays(one_day(november(25)), Text.plain("assembly"), "hall")
    year = SchoolYear(MONDAY, FRIDAY, altered=(late, testing, assembly))
    week = ["-", "-", "late", "-", "-", ".", "."]
    assert altered_names(year, 16, 22) == week
    assert altered_names(year, 23, 29) == ["-", "tests", "hall", "tests", "tests", ".", "."]
    # An exact entry that says nothing of the bells leaves them to the next one.
    label_alone = AlteredDays(one_day(november(18)), Text.plain("A again"), label="A")
    both = SchoolYear(MONDAY, FRIDAY, ("A", "B"), altered=(late, label_alone))
    assert altered_names(both, 16, 22) == week
    assert day_labels(both)[november(18)] == "A"


@pytest.mark.parametrize(
    ("resume", "expected"),
    [
        (Resume.NEXT, "1 2 3 1 2  1 1 2 2 3  1 2 3 1 2"),  # Friday has what Monday would have had
        (Resume.SKIP, "1 2 3 1 2  1 1 2 2 1  2 3 1 2 3"),  # below the span ran 3 1 2 3
    ],
)
def test_labels_in_turn_leave_the_rotation_or_let_it_run_on(resume: Resume, expected: str) -> None:
    testing = AlteredDays(
        Days(november(23), november(26)),
        Text.plain("testing"),
        labels=("1", "1", "2", "2"),
        resume=resume,
        exactness=Exactness.SPAN,
    )
    year = SchoolYear(MONDAY, FRIDAY, ("1", "2", "3"), altered=(testing,))
    assert labels(year) == " ".join(expected.split())


@pytest.mark.parametrize(
    ("year_rule", "own", "expected"),
    [
        (Resume.NEXT, None, "A B A B A  B B A B A  B A B A B"),
        (Resume.SKIP, None, "A B A B A  B B A A B  A B A B A"),
        (Resume.SKIP, Resume.NEXT, "A B A B A  B B A B A  B A B A B"),
    ],
)
def test_after_an_odd_number_of_labels_in_turn_the_rules_differ(
    year_rule: Resume, own: Resume | None, expected: str
) -> None:
    """Mon to Wed bear B B A; next: Thu has what Mon would have had, B; skip: what Thu has anyway, A."""
    testing = AlteredDays(
        Days(november(23), november(25)),
        Text.plain("testing"),
        labels=("B", "B", "A"),
        resume=own,
        exactness=Exactness.SPAN,
    )
    year = SchoolYear(MONDAY, FRIDAY, ("A", "B"), year_rule, altered=(testing,))
    assert labels(year) == " ".join(expected.split())


def test_labels_in_turn_begin_again_in_a_longer_span_and_count_no_closed_day() -> None:
    closed = Closure(one_day(november(24)), Text.plain("fog"))
    testing = AlteredDays(
        Days(november(23), november(30)),
        Text.plain("testing"),
        labels=("X", "Y"),
        exactness=Exactness.SPAN,
    )
    year = SchoolYear(MONDAY, FRIDAY, ("A", "B"), closures=(closed,), altered=(testing,))
    assert labels(year) == "A B A B A X Y X Y X B A B A"


def test_a_four_day_week_has_labels_on_its_own_days_alone() -> None:
    year = SchoolYear(MONDAY, FRIDAY, ("A", "B"), school_days=frozenset({0, 1, 2, 3}))
    assert labels(year) == "A B A B A B A B A B A B"
    assert {day.weekday() for day in day_labels(year)} == {0, 1, 2, 3}


def test_a_make_up_day_goes_on_with_the_labels_even_within_a_closure() -> None:
    saturday = MakeUpDay(november(21), Text.plain("snow day"), like=0)
    in_break = MakeUpDay(november(27), Text.plain("snow day"), bells="early", label="B")
    year = SchoolYear(
        MONDAY, FRIDAY, ("A", "B"), closures=(thanksgiving(),), make_up=(saturday, in_break)
    )
    found = {one.day: one for one in year_days(year)}
    assert labels(year) == "A B A B A B A B B A B A B A"
    assert found[november(21)].is_school
    assert found[november(21)].weekday == 0
    assert found[november(27)].closure is None
    assert found[november(27)].bells == in_break
    assert found[november(26)].closure is not None

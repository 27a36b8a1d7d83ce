"""Day labels, counted by hand on the Gregorian calendar: how they rotate is common practice, no source."""

from __future__ import annotations

from datetime import date

import pytest

from handbook.domain.school_year import (
    AlteredDay,
    Closure,
    Resume,
    SchoolYear,
    day_labels,
    year_days,
)

MONDAY, FRIDAY = date(2026, 11, 16), date(2026, 12, 4)


def november(day: int) -> date:
    return date(2026, 11, day)


def labels(year: SchoolYear) -> str:
    """Write the labels of the year's school days in a row."""
    return " ".join(day_labels(year).values())


# Thanksgiving 2026 is Thursday, November 26 (5 U.S.C. 6103(a)); school is closed Wednesday to Friday.
def thanksgiving(resume: Resume | None = None) -> Closure:
    return Closure(november(25), november(27), "Thanksgiving", resume)


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
            AlteredDay(november(18), "assembly", label="B"),
            "A B B A B  A B A B A  B A B A B",
        ),  # re-anchors
        (AlteredDay(november(18), "assembly", label="A"), "A B A B A  B A B A B  A B A B A"),
        (
            AlteredDay(november(18), "exams", label="X"),
            "A B X A B  A B A B A  B A B A B",
        ),  # the rotation waits
        (
            AlteredDay(november(18), "early release", bells="early"),
            "A B A B A  B A B A B  A B A B A",
        ),
        (
            AlteredDay(november(21), "make-up", bells="early"),
            "A B A B A B  A B A B A  B A B A B",
        ),  # a Saturday
    ],
)
def test_an_altered_day_re_anchors_the_rotation(altered: AlteredDay, expected: str) -> None:
    year = SchoolYear(MONDAY, FRIDAY, ("A", "B"), altered=(altered,))
    assert labels(year) == " ".join(expected.split())


def test_a_label_without_a_rotation_stands_alone() -> None:
    year = SchoolYear(MONDAY, FRIDAY, altered=(AlteredDay(november(18), "gold day", label="gold"),))
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
        altered=(AlteredDay(november(25), "exams", label="B"),),
    )
    assert day_labels(plain) == day_labels(altered)

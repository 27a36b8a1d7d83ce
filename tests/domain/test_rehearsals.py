"""Rehearsal dates against dateutil 2.9 (RFC 5545 3.8.5.3) and the daylight saving law (15 U.S.C. 260a(a))."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil import rrule

from handbook.domain.meetings import CancelledRehearsal
from handbook.domain.rehearsals import (
    AlteredDays,
    CalendarFault,
    CalendarFinding,
    Closure,
    ExtraRehearsal,
    MeetingPattern,
    MissedDay,
    RehearsalKind,
    SchoolYear,
    rehearsal_calendar,
)
from handbook.domain.school_year import Days, MakeUpDay, one_day
from handbook.domain.values.text import Text

CHICAGO, NEW_YORK = ZoneInfo("America/Chicago"), ZoneInfo("America/New_York")
FIRST, LAST = date(2026, 10, 5), date(2026, 12, 9)
MON, WED, SAT = 0, 2, 5
BELLS = {
    "regular": {"p1": (time(8, 5), time(8, 55)), "p3": (time(10, 0), time(10, 50))},
    "early": {"p3": (time(9, 30), time(10, 5))},
    "exams": {"p1": (time(8, 5), time(10, 5))},
}
CLOSED = Closure(Days(date(2026, 11, 23), date(2026, 11, 27)), Text.plain("Thanksgiving week"))
YEAR = SchoolYear(
    date(2026, 8, 17),
    date(2027, 5, 28),
    ("A", "B"),
    bells=BELLS,
    usual_bells="regular",
    closures=(CLOSED,),
    altered=(
        AlteredDays(one_day(date(2026, 10, 14)), Text.plain("early release"), bells="early"),
        AlteredDays(one_day(date(2026, 10, 21)), Text.plain("exam morning"), bells="exams"),
    ),
)
PERIOD_3 = MeetingPattern(weekdays=frozenset({MON, WED}), period="p3")
EVENING = MeetingPattern(weekdays=frozenset({MON}), start=time(19), end=time(20, 30))


def test_a_pattern_gives_the_dates_of_its_recurrence_rule() -> None:
    calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO)
    rule = rrule.rrule(
        rrule.WEEKLY,
        byweekday=(rrule.MO, rrule.WE),
        dtstart=datetime(2026, 10, 5, tzinfo=CHICAGO),
        until=datetime(2026, 12, 9, 12, tzinfo=CHICAGO),
    )
    closed = {CLOSED.days.first + timedelta(days=day) for day in range(5)}
    expected = [
        each.date()
        for each in rule
        if each.date() not in closed and each.date() != date(2026, 10, 21)
    ]
    assert [one.day for one in calendar.rehearsals] == expected
    assert [(one.n, one.of) for one in calendar.rehearsals] == [
        (n, len(expected)) for n in range(1, len(expected) + 1)
    ]


def test_labels_choose_the_days() -> None:
    on_a = MeetingPattern(labels=frozenset({"A"}), period="p1")
    first, last = date(2026, 8, 17), date(2026, 8, 28)  # two weeks of A B A B A, B A B A B
    calendar = rehearsal_calendar(YEAR, [on_a], first, last, zone=CHICAGO)
    assert [(one.day.day, one.label) for one in calendar.rehearsals] == [
        (day, "A") for day in (17, 19, 21, 25, 27)
    ]


def test_times_follow_the_bells_of_the_day() -> None:
    calendar = rehearsal_calendar(
        YEAR, [PERIOD_3], date(2026, 10, 12), date(2026, 10, 21), zone=CHICAGO
    )
    rows = [
        (one.day.day, f"{one.start:%H:%M}", one.minutes, one.kind, one.bells)
        for one in calendar.rehearsals
    ]
    assert rows == [
        (12, "10:00", 50, RehearsalKind.REGULAR, "regular"),
        (14, "09:30", 35, RehearsalKind.ALTERED, "early"),
        (19, "10:00", 50, RehearsalKind.REGULAR, "regular"),
    ]
    assert calendar.rehearsals[1].name == Text.plain("early release")
    assert calendar.missed == (MissedDay(date(2026, 10, 21), Text.plain("exam morning"), "bells"),)


def test_clock_times_ignore_other_bells() -> None:
    wednesdays = MeetingPattern(weekdays=frozenset({WED}), start=time(15, 30), end=time(16, 30))
    calendar = rehearsal_calendar(
        YEAR, [wednesdays], date(2026, 10, 14), date(2026, 10, 21), zone=CHICAGO
    )
    assert [(one.kind, one.bells) for one in calendar.rehearsals] == [
        (RehearsalKind.REGULAR, None)
    ] * 2


def test_missed_days_say_why() -> None:
    calendar = rehearsal_calendar(
        YEAR,
        [PERIOD_3],
        date(2026, 11, 18),
        LAST,
        zone=CHICAGO,
        cancelled=[CancelledRehearsal(date(2026, 12, 2), Text.plain("assembly"))],
    )
    assert calendar.missed == (
        MissedDay(date(2026, 11, 23), Text.plain("Thanksgiving week"), "closure"),
        MissedDay(date(2026, 11, 25), Text.plain("Thanksgiving week"), "closure"),
        MissedDay(date(2026, 12, 2), Text.plain("assembly"), "cancelled"),
    )
    assert [one.day.isoformat() for one in calendar.rehearsals] == [
        "2026-11-18",
        "2026-11-30",
        "2026-12-07",
        "2026-12-09",
    ]


def test_extras_stand_in_order_of_time_and_are_numbered_with_the_rest() -> None:
    extras = [
        ExtraRehearsal(
            date(2026, 12, 10), time(16), time(17), Text.plain("dress rehearsal"), "hall"
        ),
        ExtraRehearsal(date(2026, 10, 5), time(7), time(7, 45), Text.plain("sectional")),
    ]
    calendar = rehearsal_calendar(
        YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=extras, extras_until=date(2026, 12, 10)
    )
    first, last = calendar.rehearsals[0], calendar.rehearsals[-1]
    assert (first.name, first.n, first.index, first.kind) == (
        Text.plain("sectional"),
        1,
        1,
        RehearsalKind.EXTRA,
    )
    assert (last.name, last.room, last.n, last.of) == (
        Text.plain("dress rehearsal"),
        "hall",
        last.of,
        len(calendar.rehearsals),
    )
    assert not calendar.findings


def test_a_cancelled_pattern_may_be_replaced_by_an_extra() -> None:
    day = date(2026, 10, 5)
    calendar = rehearsal_calendar(
        YEAR,
        [PERIOD_3],
        FIRST,
        LAST,
        zone=CHICAGO,
        extras=[ExtraRehearsal(day, time(10, 15), time(11))],
        cancelled=[CancelledRehearsal(day, Text.plain("assembly"))],
    )
    assert (calendar.rehearsals[0].day, calendar.rehearsals[0].kind) == (day, RehearsalKind.EXTRA)


EXTRA_FAULTS = [
    (ExtraRehearsal(date(2026, 11, 26), time(9), time(10)), CalendarFault.EXTRA_ON_CLOSURE, ""),
    (ExtraRehearsal(date(2026, 10, 4), time(9), time(10)), CalendarFault.EXTRA_OUTSIDE, ""),
    (ExtraRehearsal(date(2026, 12, 10), time(9), time(10)), CalendarFault.EXTRA_OUTSIDE, ""),
    (ExtraRehearsal(date(2026, 10, 5), time(10, 45), time(11)), CalendarFault.EXTRA_CLASHES, ""),
    (ExtraRehearsal(date(2026, 10, 5), time(10), time(10, 50)), CalendarFault.EXTRA_CLASHES, ""),
    (
        ExtraRehearsal(date(2026, 10, 6), time(10), time(9)),
        CalendarFault.ENDS_BEFORE_START,
        "09:00",
    ),
    (ExtraRehearsal(date(2026, 10, 6), time(9), time(9)), CalendarFault.ENDS_BEFORE_START, "09:00"),
]


@pytest.mark.parametrize(("extra", "fault", "detail"), EXTRA_FAULTS)
def test_a_faulty_extra_is_left_out_and_named(
    extra: ExtraRehearsal, fault: CalendarFault, detail: str
) -> None:
    calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=[extra])
    assert calendar.findings == (CalendarFinding(fault, extra.day, 0, detail),)
    assert all(one.kind is not RehearsalKind.EXTRA for one in calendar.rehearsals)


@pytest.mark.parametrize(("start", "end"), [(time(10, 50), time(11, 30)), (time(9), time(10))])
def test_one_rehearsal_may_begin_as_another_ends(start: time, end: time) -> None:
    """Class lasts from 10:00 to 10:50."""
    extra = ExtraRehearsal(date(2026, 10, 5), start, end)
    calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=[extra])
    assert not calendar.findings


def test_one_rehearsal_is_cancelled_by_its_start() -> None:
    """Of a class and an extra rehearsal on one day either alone, and the reason says which."""
    day = date(2026, 12, 2)
    extra = ExtraRehearsal(day, time(15, 30), time(16, 30), Text.plain("Dress rehearsal"))
    for start, left, why in (
        (time(15, 30), time(10), "Dress rehearsal: ice"),
        (time(10), time(15, 30), "10:00 am: ice"),
    ):
        calendar = rehearsal_calendar(
            YEAR,
            [PERIOD_3],
            day,
            day,
            zone=CHICAGO,
            extras=[extra],
            cancelled=[CancelledRehearsal(day, Text.plain("ice"), start)],
        )
        assert [one.start.time() for one in calendar.rehearsals] == [left]
        assert [(one.day, one.reason("en"), one.cause) for one in calendar.missed] == [
            (day, why, "cancelled")
        ]
        assert calendar.findings == ()


def test_the_last_rehearsal_of_a_day_needs_no_name_when_it_is_cancelled() -> None:
    day = date(2026, 12, 2)
    one = CancelledRehearsal(day, Text.plain("ice"), time(10))
    calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, cancelled=[one])
    assert MissedDay(day, Text.plain("ice"), "cancelled") in calendar.missed


def test_a_start_at_which_nothing_begins_is_named() -> None:
    one = CancelledRehearsal(date(2026, 12, 2), Text.plain("ice"), time(10, 50))
    calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, cancelled=[one])
    fault = CalendarFault.CANCELLED_NOTHING
    assert calendar.findings == (CalendarFinding(fault, one.day, 0, " at 10:50 am"),)


def test_a_late_closure_takes_extras_along() -> None:
    """One that was known all along makes the extra a fault instead."""
    monday, tuesday = date(2026, 12, 7), date(2026, 12, 8)
    extras = [ExtraRehearsal(day, time(15, 30), time(16, 30)) for day in (monday, tuesday)]
    for late, faults in ((True, []), (False, [CalendarFault.EXTRA_ON_CLOSURE] * 2)):
        snow = Closure(Days(monday, tuesday), Text.plain("Snow"), late=late)
        year = replace(YEAR, closures=(*YEAR.closures, snow))
        calendar = rehearsal_calendar(year, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=extras)
        assert not any(one.day in {monday, tuesday} for one in calendar.rehearsals)
        assert [finding.fault for finding in calendar.findings] == faults
        lost = [one.day for one in calendar.missed if one.why == snow.name]
        assert lost == ([monday, tuesday] if late else [monday])


@pytest.mark.parametrize("day", [date(2026, 10, 6), date(2026, 12, 14)])
def test_cancelling_nothing_is_named(day: date) -> None:
    calendar = rehearsal_calendar(
        YEAR,
        [PERIOD_3],
        FIRST,
        LAST,
        zone=CHICAGO,
        cancelled=[CancelledRehearsal(day, Text.plain("snow"))],
    )
    assert calendar.findings == (CalendarFinding(CalendarFault.CANCELLED_NOTHING, day, 0),)


@pytest.mark.parametrize("start", [None, time(10)])
@pytest.mark.parametrize("late", [True, False])
def test_a_day_that_is_lost_anyway_may_be_cancelled_too(late: bool, start: time | None) -> None:
    """Wed, Dec 2 is closed; on Wed, Oct 21 the bells have no period 3."""
    year = replace(
        YEAR,
        closures=(
            *YEAR.closures,
            Closure(one_day(date(2026, 12, 2)), Text.plain("Snow"), late=late),
        ),
    )
    cancelled = [
        CancelledRehearsal(day, Text.plain("Trip"), start)
        for day in (date(2026, 12, 2), date(2026, 10, 21))
    ]
    calendar = rehearsal_calendar(year, [PERIOD_3], FIRST, LAST, zone=CHICAGO, cancelled=cancelled)
    assert calendar.findings == ()
    causes = [one.cause for one in calendar.missed if one.day in {one.day for one in cancelled}]
    assert causes == ["bells", "closure"]


def test_a_class_that_was_moved_from_a_day_that_is_closed_later_stays_moved() -> None:
    wednesday, saturday = date(2026, 12, 2), date(2026, 12, 5)
    extras = [ExtraRehearsal(saturday, time(9), time(10), instead_of=wednesday)]
    for late in (True, False):
        snow = Closure(one_day(wednesday), Text.plain("Snow"), late=late)
        year = replace(YEAR, closures=(*YEAR.closures, snow))
        calendar = rehearsal_calendar(year, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=extras)
        assert saturday in [one.day for one in calendar.rehearsals]
        faults = [one.fault for one in calendar.findings]
        assert faults == ([] if late else [CalendarFault.INSTEAD_OF_NOTHING])
        (lost,) = (one for one in calendar.missed if one.day == wednesday)
        assert (lost.cause, lost.made_up) == ("closure", saturday)


def test_what_is_said_of_a_day_whose_label_moved_on_is_late() -> None:
    """By hand: from Mon, Aug 17 on A and B take turns, so Wed, Aug 19 is an A day.

    School is closed on Tue, Aug 18, so Wed is the B day and Thu the A day.
    """
    on_a = MeetingPattern(labels=frozenset({"A"}), period="p1")
    monday, wednesday, saturday = date(2026, 8, 17), date(2026, 8, 19), date(2026, 8, 22)
    extra = ExtraRehearsal(saturday, time(9), time(10))
    snow = Closure(one_day(date(2026, 8, 18)), Text.plain("Snow"), late=True)
    for late in (True, False):
        year = replace(YEAR, closures=(replace(snow, late=late),))
        calendar = rehearsal_calendar(
            year,
            [on_a],
            monday,
            saturday,
            zone=CHICAGO,
            cancelled=[CancelledRehearsal(wednesday, Text.plain("Trip"))],
            extras=[replace(extra, instead_of=date(2026, 8, 21))],
        )
        assert [one.day.day for one in calendar.rehearsals] == [17, 20, 22]
        assert calendar.findings == (
            CalendarFinding(CalendarFault.CANCELLED_NOTHING, wednesday, 0, late=late),
            CalendarFinding(CalendarFault.INSTEAD_OF_NOTHING, date(2026, 8, 21), 0, late=late),
        )


def test_a_period_that_no_bells_have_is_named() -> None:
    lost = MeetingPattern(weekdays=frozenset({MON}), period="p9")
    calendar = rehearsal_calendar(YEAR, [PERIOD_3, lost], FIRST, LAST, zone=CHICAGO)
    assert calendar.findings == (
        CalendarFinding(CalendarFault.NO_SUCH_PERIOD, index=1, detail="p9"),
    )


def test_no_rehearsal_at_all_is_named() -> None:
    calendar = rehearsal_calendar(
        YEAR, [PERIOD_3], CLOSED.days.first, CLOSED.days.last, zone=CHICAGO
    )
    assert calendar.findings == (CalendarFinding(CalendarFault.NO_REHEARSALS),)


def test_two_patterns_that_name_one_meeting_hold_it_once() -> None:
    calendar = rehearsal_calendar(YEAR, [PERIOD_3, PERIOD_3], FIRST, FIRST, zone=CHICAGO)
    assert (len(calendar.rehearsals), calendar.findings) == (1, ())


def test_two_patterns_that_overlap_are_named() -> None:
    late = MeetingPattern(weekdays=frozenset({MON}), start=time(10, 30), end=time(11, 30))
    calendar = rehearsal_calendar(YEAR, [PERIOD_3, late], FIRST, FIRST, zone=CHICAGO)
    assert calendar.findings == (CalendarFinding(CalendarFault.PATTERNS_CLASH, FIRST, 1),)


def test_a_fault_of_a_pattern_is_told_once_and_not_every_week() -> None:
    backward = MeetingPattern(weekdays=frozenset({MON}), start=time(19), end=time(8, 30))
    calendar = rehearsal_calendar(YEAR, [PERIOD_3, backward], FIRST, LAST, zone=CHICAGO)
    assert calendar.findings == (
        CalendarFinding(CalendarFault.ENDS_BEFORE_START, FIRST, None, "08:30"),
    )


def test_a_pattern_may_meet_on_saturdays_but_not_outside_the_school_year() -> None:
    saturdays = MeetingPattern(weekdays=frozenset({SAT}), start=time(9), end=time(11))
    calendar = rehearsal_calendar(
        YEAR, [saturdays], date(2027, 5, 15), date(2027, 6, 30), zone=CHICAGO
    )
    assert [one.day.isoformat() for one in calendar.rehearsals] == ["2027-05-15", "2027-05-22"]


def test_a_pattern_without_a_time_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="needs a period"):
        rehearsal_calendar(
            YEAR, [MeetingPattern(weekdays=frozenset({MON}))], FIRST, LAST, zone=CHICAGO
        )


# 15 U.S.C. 260a(a): second Sunday of March to first Sunday of November, at 2 a.m. local time.
DAYLIGHT_SAVING = [
    (2024, 10, 3),
    (2025, 9, 2),
    (2026, 8, 1),
    (2027, 14, 7),
    (2028, 12, 5),
    (2029, 11, 4),
    (2030, 10, 3),
]


@pytest.mark.parametrize(("year", "march", "november"), DAYLIGHT_SAVING)
def test_a_time_that_daylight_saving_skips_is_named(year: int, march: int, november: int) -> None:
    """Find the skipped hour on the law's day alone; the repeated hour is its first (RFC 5545 3.3.5)."""
    spring, autumn = date(year, 3, march), date(year, 11, november)
    early = [
        ExtraRehearsal(day, time(2, 30), time(4)) for day in (spring - timedelta(days=7), spring)
    ]
    repeated = ExtraRehearsal(autumn, time(1, 30), time(3))
    school = SchoolYear(date(year, 1, 1), date(year, 12, 31))
    calendar = rehearsal_calendar(
        school, [], school.first, school.last, zone=NEW_YORK, extras=[*early, repeated]
    )
    assert calendar.findings == (CalendarFinding(CalendarFault.TIME_IN_GAP, spring, 1, "02:30"),)
    assert calendar.rehearsals[-1].start.utcoffset() == timedelta(hours=-4)
    assert calendar.rehearsals[-1].minutes == 150  # half past one to three, with the hour twice


def test_an_evening_rehearsal_keeps_its_clock_time_when_daylight_saving_ends() -> None:
    """The change of 2026 is on November 1: 19:00 New York is 23:00Z before it and 00:00Z after."""
    calendar = rehearsal_calendar(
        YEAR, [EVENING], date(2026, 10, 26), date(2026, 11, 2), zone=NEW_YORK
    )
    assert [one.start.time() for one in calendar.rehearsals] == [time(19), time(19)]
    assert [one.start.astimezone(UTC).isoformat() for one in calendar.rehearsals] == [
        "2026-10-26T23:00:00+00:00",
        "2026-11-03T00:00:00+00:00",
    ]


def test_meetings_are_held_within_their_span_and_in_their_room() -> None:
    """Two trimesters: Mondays in p1 of the hall until Fri Nov 20, then Wednesdays in p3."""
    autumn = MeetingPattern(
        weekdays=frozenset({MON}), period="p1", last=date(2026, 11, 20), room="hall"
    )
    winter = MeetingPattern(weekdays=frozenset({WED}), period="p3", first=date(2026, 11, 21))
    calendar = rehearsal_calendar(
        YEAR, [autumn, winter], date(2026, 11, 9), date(2026, 12, 9), zone=CHICAGO
    )
    assert [
        (f"{one.day:%m-%d}", f"{one.start:%H:%M}", one.room) for one in calendar.rehearsals
    ] == [
        ("11-09", "08:05", "hall"),
        ("11-16", "08:05", "hall"),
        ("12-02", "10:00", None),
        ("12-09", "10:00", None),
    ]
    assert [one.day for one in calendar.missed] == [date(2026, 11, 25)]


def test_a_make_up_saturday_has_the_meetings_of_the_weekday_it_is_like() -> None:
    made_up = MakeUpDay(date(2026, 11, 21), Text.plain("fog day made up"), bells="early", like=MON)
    year = replace(YEAR, make_up=(made_up,))
    calendar = rehearsal_calendar(
        year, [PERIOD_3, EVENING], date(2026, 11, 17), date(2026, 11, 22), zone=CHICAGO
    )
    assert [
        (f"{one.day:%a}", f"{one.start:%H:%M}", one.kind, one.name) for one in calendar.rehearsals
    ] == [
        ("Wed", "10:00", RehearsalKind.REGULAR, None),
        ("Sat", "09:30", RehearsalKind.ALTERED, made_up.name),
        ("Sat", "19:00", RehearsalKind.ALTERED, made_up.name),
    ]
    unlike = replace(YEAR, make_up=(replace(made_up, like=None),))
    assert not rehearsal_calendar(
        unlike, [PERIOD_3], date(2026, 11, 21), date(2026, 11, 21), zone=CHICAGO
    ).rehearsals


def test_a_period_is_rung_on_school_days_alone_and_clock_times_hold_on_any() -> None:
    four_days = replace(YEAR, school_days=frozenset({0, 1, 2, 3}))
    friday = MeetingPattern(weekdays=frozenset({4}), period="p3")
    evening = MeetingPattern(weekdays=frozenset({4}), start=time(18), end=time(19))
    calendar = rehearsal_calendar(
        four_days, [friday, evening], date(2026, 10, 5), date(2026, 10, 9), zone=CHICAGO
    )
    assert [(one.day, f"{one.start:%H:%M}") for one in calendar.rehearsals] == [
        (date(2026, 10, 9), "18:00")
    ]


def test_an_extra_takes_the_place_of_a_class_rehearsal() -> None:
    """By hand: Mondays and Wednesdays from Oct 5 to Oct 14, that of Oct 7 moved to Sat, Oct 10."""
    moved = ExtraRehearsal(date(2026, 10, 10), time(9), time(10), instead_of=date(2026, 10, 7))
    calendar = rehearsal_calendar(
        YEAR, [PERIOD_3], date(2026, 10, 5), date(2026, 10, 14), zone=CHICAGO, extras=[moved]
    )
    assert calendar.findings == ()
    assert [one.day.day for one in calendar.rehearsals] == [5, 10, 12, 14]
    assert calendar.rehearsals[1].instead_of == date(2026, 10, 7)
    assert calendar.missed == (
        MissedDay(date(2026, 10, 7), None, "moved", moved_to=date(2026, 10, 10)),
    )


def test_extras_take_the_rehearsals_of_a_day_one_by_one() -> None:
    """By hand: Monday, Oct 5 has period 3 at 10:00 and an evening at 7 pm; class goes first."""
    day = date(2026, 10, 5)
    one = ExtraRehearsal(date(2026, 10, 6), time(9), time(10), instead_of=day)
    for extras, left in (
        ((one,), [time(19), time(9)]),
        ((one, replace(one, day=date(2026, 10, 7))), [time(9), time(9)]),
    ):
        calendar = rehearsal_calendar(
            YEAR,
            [EVENING, PERIOD_3],
            day,
            date(2026, 10, 7),
            zone=CHICAGO,
            extras=extras,
            cancelled=[CancelledRehearsal(date(2026, 10, 7), Text.plain("Trip"))],
        )
        assert calendar.findings == ()
        assert [rehearsal.start.time() for rehearsal in calendar.rehearsals] == left
    third = (one, one, replace(one, day=date(2026, 10, 7)))
    calendar = rehearsal_calendar(
        YEAR, [EVENING, PERIOD_3], day, date(2026, 10, 7), zone=CHICAGO, extras=third
    )
    assert CalendarFinding(CalendarFault.INSTEAD_OF_NOTHING, day, 2) in calendar.findings


def test_an_extra_makes_up_for_what_is_lost_and_for_nothing_else() -> None:
    """By hand: Mon, Nov 23 lies in the closed week, Nov 30 does not."""
    lost, held = date(2026, 11, 23), date(2026, 11, 30)
    extras = [
        ExtraRehearsal(date(2026, 11, 28), time(9), time(10), make_up_for=day)
        for day in (lost, held)
    ]
    for extra, findings in zip(
        extras, ((), (CalendarFinding(CalendarFault.MAKES_UP_FOR_NOTHING, held, 0),)), strict=True
    ):
        calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=[extra])
        assert calendar.findings == findings
        made_up = [one.made_up for one in calendar.missed if one.day == lost]
        assert made_up == [None if findings else date(2026, 11, 28)]
    both = replace(extras[0], make_up_for=None, instead_of=lost)
    calendar = rehearsal_calendar(YEAR, [PERIOD_3], FIRST, LAST, zone=CHICAGO, extras=[both])
    assert calendar.findings == (CalendarFinding(CalendarFault.INSTEAD_OF_NOTHING, lost, 0),)

"""Bell schedules that leave a band without its period."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import day, first_few, unknown
from handbook.domain.school_year import YearDay, year_days
from handbook.plan.bells import whole_bells
from handbook.plan.school_days import school_year
from handbook.problems import Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.year import Meeting
from handbook.source.names import listed


@check
def bells_without_periods(handbook: Handbook) -> Iterator[Problem]:
    """A bell schedule has no periods: neither its own nor those of a schedule that it is like.

    Bad:

        bells:
          - {id: half-day, school_ends: 12:15 pm}

    Good:

        bells:
          - {id: half-day, like: regular, without: [p4], school_ends: 12:15 pm}
    """
    for file, year in traversal.years(handbook):
        for place, bells in enumerate(year.bells):
            if not bells.periods and bells.like is None:
                above = [one.id for one in year.bells[:place]]
                yield finding(
                    f"`{bells.id}` has no periods",
                    (file, "bells", place),
                    f"list them under `periods`, or write `like: {above[0]}` for those of that schedule"
                    if above
                    else "list them under `periods`",
                )


@check
def unknown_bells_above(handbook: Handbook) -> Iterator[Problem]:
    """A bell schedule is to be like one that does not stand above it.

    Bad:

        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}]}
          - {id: late-start, like: ordinary}

    Good:

        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}]}
          - {id: late-start, like: regular}
    """
    for file, year in traversal.years(handbook):
        for place, bells in enumerate(year.bells):
            above = [one.id for one in year.bells[:place]]
            below = [one.id for one in year.bells[place:]]
            at = (file, "bells", place, "like")
            if bells.like in below:
                yield finding(
                    f"`{bells.like}` does not stand above this schedule",
                    at,
                    "put the schedule that others are like first",
                )
            elif bells.like is not None and bells.like not in above:
                yield unknown("bell schedule above this one", bells.like, at, above, "above it")


@check
def unknown_period_left_out(handbook: Handbook) -> Iterator[Problem]:
    """A bell schedule leaves out a period that no schedule has, or that it has itself.

    Bad:

        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}]}
          - {id: assembly, like: regular, without: [p9]}

    Good:

        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}]}
          - {id: assembly, like: regular, without: [p3]}
    """
    for file, year in traversal.years(handbook):
        known = {period.id for bells in year.bells for period in bells.periods}
        for place, bells in enumerate(year.bells):
            own = {period.id: number for number, period in enumerate(bells.periods)}
            for number, name in enumerate(bells.without):
                at = (file, "bells", place, "without", number)
                if name not in known:
                    yield unknown("period", name, at, known, "under periods")
                elif name in own:
                    yield finding(
                        f"`{name}` is left out here, and has its times in the same schedule",
                        at,
                        "keep one of the two",
                        notes=(
                            Note(
                                "its times are here", (file, "bells", place, "periods", own[name])
                            ),
                        ),
                    )


@check
def period_missing_from_bells(handbook: Handbook) -> Iterator[Problem]:
    """A band does not meet on altered days, since their bell schedule lacks its period.

    A schedule that says only what differs is `like` another one, and has the other periods
    from it. If nobody is to meet in a period on such days, say so under `without`.

    Bad:

        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}, {id: p4, start: 10:55, end: 11:40}]}
          - {id: late-start, periods: [{id: p4, start: 11:05, end: 11:40}]}
        altered:
          - {date: Wed 2026-11-04, name: Late start, bells: late-start}

    Good:

        bells:
          - {id: regular, periods: [{id: p3, start: 10:05, end: 10:50}, {id: p4, start: 10:55, end: 11:40}]}
          - {id: late-start, like: regular, periods: [{id: p4, start: 11:05, end: 11:40}]}
        altered:
          - {date: Wed 2026-11-04, name: Late start, bells: late-start}
    """
    for file, year in traversal.years(handbook):
        whole = whole_bells(year)
        usual = whole[year.bells[0].id].periods if year.bells else {}
        altered = year.altered or year.make_up
        days = [one for one in year_days(school_year(year)) if one.bells] if altered else []
        for place, bells in enumerate(year.bells[1:], 1):
            there = {*whole[bells.id].periods, *bells.without}
            for name in (one for one in usual if one not in there):
                lost = [
                    (meeting.ensemble, date)
                    for meeting in year.meetings
                    if meeting.period == name
                    for date in _days(days, meeting, bells.id)
                ]
                if lost:
                    yield finding(
                        f"`{bells.id}` has no period `{name}`, so {listed(dict(lost))} {_do_not_meet(lost)}",
                        (file, "bells", place, "id"),
                        f"write `like: {year.bells[0].id}` if it is as on an ordinary day, `without: [{name}]` if nobody meets in it, or give its times",
                        Severity.WARNING,
                    )


def _days(days: Sequence[YearDay], meeting: Meeting, bells: str) -> Iterator[str]:
    """List the days with these bells on which the ensemble may meet; labels are not looked at."""
    for one in days:
        on_its_day = not meeting.weekdays or one.weekday in meeting.weekdays
        begun = meeting.from_ is None or meeting.from_ <= one.day
        over = meeting.to is not None and meeting.to < one.day
        entry = one.bells if one.is_school and begun and not over else None
        if entry and entry.bells == bells and (on_its_day or meeting.labels):
            yield day(one.day)


def _do_not_meet(lost: list[tuple[str, str]]) -> str:
    bands, days = dict(lost), list(dict.fromkeys(date for _, date in lost))
    return f"{'does' if len(bands) == 1 else 'do'} not meet on {first_few(days)}"

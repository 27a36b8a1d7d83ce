"""From a school year's entries to the days that they are about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, time

from handbook.domain.school_year import (
    AlteredDays,
    Closure,
    Days,
    Exactness,
    MakeUpDay,
    SchoolYear,
    YearDay,
    one_day,
    year_days,
)
from handbook.plan.bells import whole_bells
from handbook.records import dataclass
from handbook.schema.year import AlteredSchoolDay, MakeUp, SchoolClosure, Year

YearEntry = SchoolClosure | AlteredSchoolDay | MakeUp


def school_year(year: Year) -> SchoolYear:
    """Give the calendar's own record of a year."""
    return SchoolYear(
        first=year.first_day,
        last=year.last_day,
        labels=year.day_labels,
        resume=year.resume,
        bells=_bells(year),
        usual_bells=year.bells[0].id if year.bells else "",
        closures=tuple(
            Closure(
                days_of(closure, year),
                closure.name,
                closure.resume,
                late=closure.told is not None,
            )
            for closure in year.closures
        ),
        altered=tuple(altered_days(altered, year) for altered in year.altered),
        make_up=tuple(
            MakeUpDay(one.date, one.name, one.bells, one.label, one.like) for one in year.make_up
        ),
        school_days=frozenset(year.school_days),
    )


def _bells(year: Year) -> Mapping[str, Mapping[str, tuple[time, time]]]:
    return {
        name: {period.id: (period.start, period.end) for period in bells.periods.values()}
        for name, bells in whole_bells(year).items()
    }


def altered_days(altered: AlteredSchoolDay, year: Year) -> AlteredDays:
    """Give the calendar's own record of an altered day, or of several."""
    return AlteredDays(
        days_of(altered, year),
        altered.name,
        altered.bells,
        altered.label,
        altered.labels,
        altered.resume,
        exactness(altered),
    )


def exactness(entry: YearEntry) -> Exactness:
    """Say whether an entry is of a date, a span of days or every such weekday."""
    if entry.date is not None or isinstance(entry, MakeUp):
        return Exactness.DATE
    return Exactness.EVERY if entry.every else Exactness.SPAN


def days_of(entry: YearEntry, year: Year) -> Days:
    """Give the days that an entry is about; what lacks its dates is about none."""
    if entry.date is not None or isinstance(entry, MakeUp):
        return one_day(entry.date or date.max)
    first, last, on = entry.from_, entry.to, entry.every
    if on:
        first, last = first or year.first_day, last or year.last_day
    elif isinstance(entry, AlteredSchoolDay):
        on = entry.weekdays
    first = first or date.max
    return Days(first, last or first, frozenset(on), frozenset(entry.except_))


def first_day(entry: YearEntry, year: Year) -> date:
    """Give the first day that an entry is about; the last of all days if it is about none."""
    days = days_of(entry, year)
    return next(days.within(days.first, days.last), date.max)


@dataclass(frozen=True, slots=True)
class SchoolDates:
    """Days that one entry is about: all from `first` to `last`, or the single ones of a month."""

    entry: YearEntry
    first: date
    last: date
    single: tuple[date, ...] = ()


def school_dates(year: Year) -> Iterator[SchoolDates]:
    """Give what is not as on ordinary days, as a reader sees it, entry by entry.

    A span of days stands whole. Of days that are chosen by the weekday those are given on
    which the entry holds, month by month: without what is closed, made up, or altered by a
    more exact entry.
    """
    if not (year.closures or year.altered or year.make_up):
        return
    days = tuple(year_days(school_year(year)))
    made_up = {one.date for one in year.make_up}
    for closure, of in zip(year.closures, school_year(year).closures, strict=True):
        if not _is_chosen(closure):
            if closure.date not in made_up:
                yield SchoolDates(closure, of.days.first, of.days.last)
            continue
        yield from _by_month(closure, [day.day for day in days if day.closure == of])
    for altered in year.altered:
        of_altered = altered_days(altered, year)
        holds = [day.day for day in days if _holds(of_altered, day)]
        if holds and not _is_chosen(altered):
            yield SchoolDates(altered, of_altered.days.first, of_altered.days.last)
        elif holds:
            yield from _by_month(altered, holds)
    for made in year.make_up:
        if year.first_day <= made.date <= year.last_day:
            yield SchoolDates(made, made.date, made.date)


def _is_chosen(entry: SchoolClosure | AlteredSchoolDay) -> bool:
    weekdays = isinstance(entry, AlteredSchoolDay) and entry.weekdays
    return bool(entry.every or entry.except_ or weekdays)


def _holds(entry: AlteredDays, day: YearDay) -> bool:
    """Whether an entry changes a day, or says something that no more exact one says otherwise."""
    if not day.is_school or entry not in day.altered:
        return False
    if entry.bells and day.bells == entry:
        return True
    says_label = entry.label is not None or bool(entry.labels)
    above = (day.make_up, *day.altered[: day.altered.index(entry)])
    label_holds = not any(one and (one.label or getattr(one, "labels", ())) for one in above)
    return (says_label and label_holds) or not (entry.bells or says_label)


def _by_month(entry: YearEntry, days: Sequence[date]) -> Iterator[SchoolDates]:
    months: dict[tuple[int, int], list[date]] = {}
    for day in days:
        months.setdefault((day.year, day.month), []).append(day)
    for those in months.values():
        yield SchoolDates(entry, those[0], those[-1], tuple(those))

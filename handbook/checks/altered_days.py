"""Altered days and make-up days that cannot be meant as they are written."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from itertools import combinations

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import day, first_few
from handbook.domain.school_year import Exactness, YearDay, year_days
from handbook.domain.values.dates import WEEKDAYS
from handbook.plan.school_days import days_of, exactness, school_year
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.year import AlteredSchoolDay, Year


@check
def altered_without_dates(handbook: Handbook) -> Iterator[Problem]:
    """An altered day does not say when it is.

    It has one `date`, or `from` and `to`, both included, or `every` such day of the week.

    Bad:

        altered:
          - {name: Late start, bells: early-release}

    Good:

        altered:
          - {name: Late start, every: Wed, bells: early-release}
    """
    for file, year in traversal.years(handbook):
        for address, altered in traversal.altered_days(file, year):
            if altered.date is not None or altered.every or (altered.from_ and altered.to):
                continue
            given = "from" if altered.from_ else "to" if altered.to else ""
            lacks = {"from": "its last day, `to`", "to": "its first day, `from`"}
            yield finding(
                f"this altered day lacks {lacks.get(given, 'its days')}",
                (*address, given or "name"),
                "give it one `date:`, or `from:` and `to:` for several days, or `every: Wed`",
            )


@check
def altered_dates_mixed(handbook: Handbook) -> Iterator[Problem]:
    """An altered day says in two ways when it is.

    It has one `date`, or `from` and `to` with `weekdays` if not all are meant, or `every` such
    day of the week.

    Bad:

        altered:
          - {name: Late start, date: 2026-11-04, every: Wed, bells: early-release}

    Good:

        altered:
          - {name: Late start, every: Wed, bells: early-release}
    """
    for file, year in traversal.years(handbook):
        for address, altered in traversal.altered_days(file, year):
            fields = {
                "from": altered.from_,
                "to": altered.to,
                "weekdays": altered.weekdays,
                "every": altered.every,
                "except": altered.except_,
            }
            given = [name for name, value in fields.items() if value]
            if altered.date is not None and given:
                yield finding(
                    f"this altered day has both a `date` and `{given[0]}`",
                    (*address, given[0]),
                    "keep `date:` for a single day, or take it out",
                )
            elif altered.every and altered.weekdays:
                yield finding(
                    "this altered day has both `every` and `weekdays`",
                    (*address, "weekdays"),
                    "keep `every:` alone; it may have `from:` and `to:` too",
                )


@check
def labels_without_span(handbook: Handbook) -> Iterator[Problem]:
    """Labels in turn stand where they cannot be borne in turn.

    `labels` are for the school days between `from` and `to`; a single day, or every such day of
    the week, has one `label`. `resume` says how labels go on after labels in turn.

    Bad:

        day_labels: [A, B]
        altered:
          - {name: Testing, date: 2027-04-12, labels: [A, A, B, B]}

    Good:

        day_labels: [A, B]
        altered:
          - {name: Testing, from: 2027-04-12, to: 2027-04-15, labels: [A, A, B, B]}
    """
    for file, year in traversal.years(handbook):
        for address, altered in traversal.altered_days(file, year):
            if altered.labels and altered.label is not None:
                yield finding(
                    "these days have both `labels` in turn and one `label`",
                    (*address, "label"),
                    "keep one of the two",
                )
            elif altered.labels and exactness(altered) is not Exactness.SPAN:
                yield finding(
                    "labels in turn need the days between `from` and `to`",
                    (*address, "labels"),
                    "write `label:` for one label, or `from:` and `to:` in place of the days here",
                )
            elif altered.resume is not None and not altered.labels:
                yield finding(
                    "`resume` changes nothing here: it says how labels go on after `labels` in turn",
                    (*address, "resume"),
                    "take it out, or list the `labels` of these days",
                    Severity.WARNING,
                )


@check
def altered_day_without_school(handbook: Handbook) -> Iterator[Problem]:
    """A day is altered on which there is no school.

    Bad:

        closures:
          - {name: Labor Day, date: 2026-09-07}
        altered:
          - {date: 2026-09-07, name: Early release, bells: short}

    Good:

        altered:
          - {date: 2026-09-08, name: Early release, bells: short}
    """
    for file, year in traversal.years(handbook):
        days = _by_date(year)
        for address, altered in traversal.altered_days(file, year):
            if off := _off_days(altered, year):
                yield finding(
                    f"there is no school on {first_few(off)}, and so none is altered then",
                    (*address, "every" if altered.every else "weekdays"),
                    "take the day out, or say under `school_days` that there is school",
                    Severity.WARNING,
                )
                continue
            there = [days[one] for one in _days(altered, year)]
            if _told_elsewhere(altered, year) or any(map(_with_school(year), there)):
                continue
            closed = next((one.day for one in there if one.closure), None)
            over = (
                next((place for place, days in traversal.closed_days(year) if closed in days), None)
                if closed
                else None
            )
            yield finding(
                _without_school(altered, there, closed=over is not None),
                (*address, _said_by(altered)),
                "check the date, or remove the altered day"
                if altered.date
                else "check the days, or remove the entry",
                Severity.WARNING,
                (Note("the closure is here", (file, "closures", over)),)
                if over is not None
                else (),
            )  # fmt: skip


def _off_days(altered: AlteredSchoolDay, year: Year) -> list[str]:
    """Name the days of the week of a rule on which there is no school."""
    named = dict.fromkeys((*altered.every, *altered.weekdays))
    return [f"{WEEKDAYS[one]}s" for one in named if one not in year.school_days]


def _told_elsewhere(altered: AlteredSchoolDay, year: Year) -> bool:
    """Whether an entry's dates are told as lacking, backward or outside the year."""
    days = days_of(altered, year)
    backward = days.last < days.first or days.first == date.max
    return backward or days.last < year.first_day or days.first > year.last_day


def _with_school(year: Year) -> Callable[[YearDay], bool]:
    """Give what says whether there is school on a day even if it were not altered."""
    return lambda one: (
        one.is_school and (one.day.weekday() in year.school_days or one.make_up is not None)
    )


def _by_date(year: Year) -> Mapping[date, YearDay]:
    if not year.altered and not year.make_up:
        return {}
    return {one.day: one for one in year_days(school_year(year))}


def _days(altered: AlteredSchoolDay, year: Year) -> list[date]:
    return list(days_of(altered, year).within(year.first_day, year.last_day))


def _said_by(altered: AlteredSchoolDay) -> str:
    return "date" if altered.date else "every" if altered.every else "from"


def _without_school(altered: AlteredSchoolDay, there: Sequence[YearDay], *, closed: bool) -> str:
    if altered.date is None:
        return "no school day is altered by this entry"
    if closed:
        return f"{day(altered.date)} is altered, but school is closed then"
    named = WEEKDAYS[altered.date.weekday()]
    weekend = altered.date.weekday() >= _SATURDAY
    why = "that is a weekend" if weekend else f"there is no school on a {named}"
    return f"{day(there[0].day)} is altered, but {why}"


_SATURDAY = 5


@check
def labels_left_over(handbook: Handbook) -> Iterator[Problem]:
    """Labels in turn do not come out even with the school days that bear them.

    They begin again from the first one where there are more days, and the last ones are borne
    by nobody where there are fewer.

    Bad:

        day_labels: [A, B]
        altered:
          - {name: Testing, from: 2027-04-12, to: 2027-04-15, labels: [A, A, B]}

    Good:

        day_labels: [A, B]
        altered:
          - {name: Testing, from: 2027-04-12, to: 2027-04-15, labels: [A, A, B, B]}
    """
    for file, year in traversal.years(handbook):
        days = _by_date(year)
        for address, altered in traversal.altered_days(file, year):
            if not altered.labels or exactness(altered) is not Exactness.SPAN:
                continue
            count = sum(days[one].is_school for one in _days(altered, year))
            labels = len(altered.labels)
            if count % labels:
                yield finding(
                    f"{count} school {'day bears' if count == 1 else 'days bear'} {labels} labels in turn, which does not come out even",
                    (*address, "labels"),
                    "list a label for each of these days, if that is not meant",
                    Severity.WARNING,
                )


@check
def exception_without_effect(handbook: Handbook) -> Iterator[Problem]:
    """A day under `except` is none of the days that it is left out of.

    Bad:

        altered:
          - {name: Late start, every: Wed, except: [2026-11-05], bells: early-release}

    Good:

        altered:
          - {name: Late start, every: Wed, except: [2026-11-04], bells: early-release}
    """
    for address, entry, year in traversal.year_entries(handbook):
        if entry.date is not None:
            continue  # told as dates that are mixed
        whole = days_of(entry.model_copy(update={"except_": ()}), year)
        for place, one in enumerate(entry.except_):
            if one not in whole:
                yield finding(
                    f"{day(one)} is none of these days, and need not be left out",
                    (*address, "except", place),
                    "check the date, or take it out",
                    Severity.WARNING,
                )


@check
def altered_days_disagree(handbook: Handbook) -> Iterator[Problem]:
    """Two entries say different things of one day, and neither is more exact.

    A `date` goes before `from` and `to`, and these before `every` such day of the week.

    Bad:

        altered:
          - {name: Late start, every: Wed, bells: regular}
          - {name: Short Wednesday, every: Wed, from: 2026-11-04, to: 2026-11-18, bells: early-release}

    Good:

        altered:
          - {name: Late start, every: Wed, bells: regular}
          - {name: Short Wednesday, from: 2026-11-04, to: 2026-11-18, weekdays: [Wed], bells: early-release}
    """
    for file, year in traversal.years(handbook):
        days = _by_date(year)
        by_day: dict[tuple[date, Exactness], list[tuple[Address, AlteredSchoolDay]]] = {}
        for address, entry in traversal.altered_days(file, year):
            for one in _days(entry, year):
                if days[one].is_school:
                    by_day.setdefault((one, exactness(entry)), []).append((address, entry))
        found: dict[tuple[Address, Address, str], list[date]] = {}
        for (one, _), entries in by_day.items():
            for (first_at, first), (then_at, then) in combinations(entries, 2):
                if field := _differ(first, then):
                    at = (*first_at, _said_by(first)), (*then_at, _said_by(then)), field
                    found.setdefault(at, []).append(one)
        for (first_at, then_at, field), both in found.items():
            yield finding(
                f"this and an entry above say different {field} of {first_few([*map(day, sorted(both))])}",
                then_at,
                _WAYS_OUT[str(then_at[-1])],
                notes=(Note("the other one is here", first_at),),
            )


_WAYS_OUT = {
    "date": "keep one of the two",
    "every": "leave the days out of one of them by `except:`, or write `from:`, `to:` and `weekdays:` for the one that goes before the other",
    "from": "leave the days out of one of them by `except:`, or write a single `date:` for the one that goes before the other",
}


def _differ(first: AlteredSchoolDay, then: AlteredSchoolDay) -> str | None:
    if first.bells and then.bells and first.bells != then.bells:
        return "bells"
    own, other = first.labels or first.label, then.labels or then.label
    return "labels" if own and other and own != other else None


@check
def make_up_day_with_school(handbook: Handbook) -> Iterator[Problem]:
    """A make-up day has school anyway, or stands twice.

    Bad:

        make_up:
          - {date: Tue 2026-11-17, name: Make-up day}

    Good:

        make_up:
          - {date: Sat 2026-11-21, name: Make-up day, like: Wed}
    """
    for file, year in traversal.years(handbook):
        closed = list(traversal.closed_days(year))
        seen: dict[date, Address] = {}
        for address, made_up in traversal.make_up_days(file, year):
            at = (*address, "date")
            if made_up.date in seen:
                yield finding(
                    f"{day(made_up.date)} is made a school day twice",
                    at,
                    "keep one of the two",
                    notes=(Note("the other one is here", seen[made_up.date]),),
                )
            elif made_up.date.weekday() in year.school_days and not any(
                made_up.date in days for _, days in closed
            ):
                yield finding(
                    f"there is school on {day(made_up.date)} anyway",
                    at,
                    "check the date; bells and label of a school day are altered under `altered`",
                    Severity.WARNING,
                )
            seen.setdefault(made_up.date, at)


@check
def make_up_day_without_meetings(handbook: Handbook) -> Iterator[Problem]:
    """Nobody meets on a make-up day.

    Meetings by day of the week are held on it if its own weekday has any; `like` says whose
    meetings are held in their place.

    Bad:

        make_up:
          - {date: Sat 2026-11-21, name: Make-up day}

    Good:

        make_up:
          - {date: Sat 2026-11-21, name: Make-up day, like: Wed}
    """
    for file, year in traversal.years(handbook):
        days = _by_date(year)
        met = {one for meeting in year.meetings for one in meeting.weekdays}
        labels = {label for meeting in year.meetings for label in meeting.labels}
        for address, made_up in traversal.make_up_days(file, year):
            one = days.get(made_up.date)
            if one is None or one.weekday in met or one.label in labels:
                continue
            likely = [WEEKDAYS[weekday][:3] for weekday in sorted(met & set(year.school_days))]
            yield finding(
                f"nobody meets on {day(made_up.date)}: no ensemble has a meeting on a {WEEKDAYS[one.weekday]}",
                (*address, "like" if made_up.like is not None else "date"),
                f"add `like: {likely[0]}`, or another day of the week, if its meetings are held"
                if likely
                else "check the date",
                Severity.WARNING,
            )


@check
def period_without_school(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble meets in a period on a day of the week without school, and so does not meet.

    `school_days` of the year are the days with school, Monday to Friday if it does not say.

    Bad:

        school_days: [Mon, Tue, Wed, Thu]
        meetings:
          - {ensemble: lantern, weekdays: [Mon, Fri], period: p3}

    Good:

        school_days: [Mon, Tue, Wed, Thu]
        meetings:
          - {ensemble: lantern, weekdays: [Mon, Thu], period: p3}
    """
    for address, meeting, year in traversal.meetings(handbook):
        off = [
            WEEKDAYS[one]
            for one in dict.fromkeys(meeting.weekdays)
            if one not in year.school_days and meeting.period is not None
        ]
        if off:
            yield finding(
                f"there is no school on {first_few([f'{one}s' for one in off])}, so nobody meets in `{meeting.period}` then",
                (*address, "weekdays"),
                "take the day out, give the meeting clock times, or say under `school_days` that there is school",
                Severity.WARNING,
            )

"""Days without school, days that run otherwise, and days that are made up, as lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from handbook.domain.values.text import Text
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, speech
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.formats import clock_time, days, formats, in_a_row, names, with_commas
from handbook.outputs.page import Context
from handbook.plan.bells import whole_bells
from handbook.plan.model import CyclePlan
from handbook.plan.school_days import SchoolDates, school_dates
from handbook.records import dataclass
from handbook.schema.year import AlteredSchoolDay, MakeUp, SchoolClosure, Year

_ONE_DAY, _WEEK = timedelta(days=1), timedelta(days=7)


@dataclass(frozen=True, slots=True)
class SchoolDateView:
    """One line; `kind` is closed, altered or made-up. `days` are single ones, if not all.

    `name` is what the school calls it, which the title tells too.
    """

    first: date
    last: date
    when: str
    title: str
    detail: str
    kind: str
    days: tuple[date, ...]
    name: str = ""


def school_weeks(context: Context, cycle: CyclePlan) -> Mapping[date, Sequence[SchoolDateView]]:
    """Show what touches each week of the year, by its Monday; each line has only that week's days."""
    return context.once("school weeks", cycle.year, lambda: _by_week(context, cycle.year))


def year_date_views(context: Context, year: Year) -> Sequence[SchoolDateView]:
    """Show all of a school year, lines whole."""
    return context.once(
        "school dates", year, lambda: [_view(context, year, one) for one in school_dates(year)]
    )


def _by_week(context: Context, year: Year) -> dict[date, list[SchoolDateView]]:
    weeks: dict[date, list[SchoolDateView]] = {}
    for line in year_date_views(context, year):
        monday = line.first - line.first.weekday() * _ONE_DAY
        while monday <= line.last:
            clipped = _clipped(line, monday, monday + _WEEK - _ONE_DAY)
            if clipped is not None:
                weeks.setdefault(monday, []).append(clipped)
            monday += _WEEK
    for lines in weeks.values():
        lines.sort(key=lambda line: line.first)
    return weeks


def _clipped(line: SchoolDateView, monday: date, sunday: date) -> SchoolDateView | None:
    """Leave what a line says of a week; None for a weekend of a longer span."""
    days = tuple(day for day in line.days if monday <= day <= sunday)
    first, last = max(line.first, monday), min(line.last, sunday)
    if line.days and not days:
        return None
    if days:
        first, last = days[0], days[-1]
    return SchoolDateView(
        first, last, _when(first, last, days), line.title, line.detail, line.kind, days, line.name
    )


def _view(context: Context, year: Year, dates: SchoolDates) -> SchoolDateView:
    entry, name = dates.entry, context.say(dates.entry.name)
    title, detail, kind = name, "", "altered"
    if isinstance(entry, SchoolClosure):
        title, kind = gettext("No school: %(name)s", name=name), "closed"
    elif isinstance(entry, MakeUp):
        title, kind = gettext("School: %(name)s", name=name), "made-up"
        like = "" if entry.like is None else _meetings_as_on(entry.like)
        detail = " · ".join(filter(None, (like, _of_bells(context, year, entry))))
    else:
        detail = _of_bells(context, year, entry)
    when = _when(dates.first, dates.last, dates.single)
    return SchoolDateView(dates.first, dates.last, when, title, detail, kind, dates.single, name)


def _of_bells(context: Context, year: Year, entry: AlteredSchoolDay | MakeUp) -> str:
    """Say which label and bells such days have, and when school is out if not as usual."""
    labels = entry.labels if isinstance(entry, AlteredSchoolDay) else ()
    parts = [gettext("%(label)s day", label=entry.label)] if entry.label else []
    parts += (
        [gettext("Day labels in turn: %(labels)s", labels=with_commas(labels))] if labels else []
    )
    whole = whole_bells(year)
    if entry.bells and year.bells and entry.bells in whole:
        schedule = next(one for one in year.bells if one.id == entry.bells)
        if schedule.name and not _is_said(schedule.name, entry.name, context.language):
            parts.append(context.say(schedule.name))
        out, usual = whole[entry.bells].school_ends, whole[year.bells[0].id].school_ends
        parts += (
            [gettext("School is out at %(time)s", time=clock_time(out))]
            if out and out != usual
            else []
        )
    return " · ".join(parts)


def _meetings_as_on(weekday: int) -> str:
    known = names(speech().code).days
    # Translators: classes meet as they do on that day of the week, `Meetings as on a Monday`.
    return gettext("Meetings as on a %(weekday)s", weekday=known[weekday])


def _is_said(name: Text, by: Text, language: str) -> bool:
    return name.read(language).casefold() in by.read(language).casefold()


def _when(first: date, last: date, single: Sequence[date]) -> str:
    """Write `Wed, Nov 11`, `Wed, Nov 25 – Fri, Nov 27` or `Wed, Nov 4, 11, 18`."""
    if first == last or not single:
        return days(first, last)
    if formats(speech().code).locale != SOURCE:  # elsewhere the month stands behind the day
        return in_a_row([formatting.short_day(day) for day in single])
    known = names(SOURCE).short_days
    weekdays = in_a_row([known[one] for one in sorted({day.weekday() for day in single})])
    others = [str(day.day) for day in single[1:]]
    return f"{weekdays}, {', '.join([formatting.month_day(single[0]), *others])}"

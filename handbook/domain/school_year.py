"""A school year: which days are school days, and which label each carries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from datetime import date, time
from enum import StrEnum

from handbook.records import dataclass

_SATURDAY = 5


class Resume(StrEnum):
    """How rotating day labels go on after a closure."""

    NEXT = "next"  # with the label after the last one used
    SKIP = "skip"  # as if no day had been lost


@dataclass(frozen=True, slots=True)
class Closure:
    """Days without school, both ends included; `resume` overrides the year's rule."""

    first: date
    last: date
    name: str
    resume: Resume | None = None


@dataclass(frozen=True, slots=True)
class AlteredDay:
    """A school day with other bells, another label, or both."""

    day: date
    name: str
    bells: str | None = None
    label: str | None = None


@dataclass(frozen=True, slots=True)
class SchoolYear:
    """First and last day (both included), labels in rotation, bell schedules.

    `bells` maps schedule id to period id to (start, end); `usual_bells` is the id
    of the schedule of an ordinary day. No labels: an empty tuple.
    """

    first: date
    last: date
    labels: tuple[str, ...] = ()
    resume: Resume = Resume.NEXT
    bells: Mapping[str, Mapping[str, tuple[time, time]]] = field(default_factory=dict)
    usual_bells: str = ""
    closures: tuple[Closure, ...] = ()
    altered: tuple[AlteredDay, ...] = ()


@dataclass(frozen=True, slots=True)
class YearDay:
    """One calendar day of the year; a closed day has a label only if labels run on through it."""

    day: date
    is_school: bool
    label: str | None = None
    closure: Closure | None = None
    altered: AlteredDay | None = None


def day_labels(year: SchoolYear) -> dict[date, str]:
    """Give each school day its label: Monday to Friday, not closed.

    Labels advance on school days only. After a closure they go on with the label after
    the last one used (`next`) or as if its weekdays had been school days (`skip`); a
    closure's own rule goes before the year's, and of two closures on a day the first
    listed rules. A day altered to another label of the rotation re-anchors it: the next
    school day carries the label after that one. A label outside the rotation stands for
    its day alone and the rotation waits. Common practice, no source.
    """
    return labels_of(year_days(year))


def labels_of(days: Iterable[YearDay]) -> dict[date, str]:
    """Give those of a year's days that are school days their labels; see `day_labels`."""
    return {day.day: day.label for day in days if day.is_school and day.label is not None}


def year_days(year: SchoolYear) -> Iterator[YearDay]:
    """Walk the year's days, first to last, weekends included.

    An altered day on a weekend is a school day: a make-up Saturday.
    """
    altered_by_day = {altered.day: altered for altered in reversed(year.altered)}
    closure_by_day = {
        day: closure
        for closure in reversed(year.closures)
        for day in _days(max(closure.first, year.first), min(closure.last, year.last))
    }
    place = 0
    for day in _days(year.first, year.last):
        closure = closure_by_day.get(day)
        altered = None if closure else altered_by_day.get(day)
        teaching = day.weekday() < _SATURDAY or altered is not None
        runs_on = closure is not None and (closure.resume or year.resume) is Resume.SKIP
        label = None
        if teaching and (closure is None or runs_on):
            label, place = _next_label(year.labels, place, altered)
        yield YearDay(day, teaching and closure is None, label, closure, altered)


def _days(first: date, last: date) -> Iterator[date]:
    return map(date.fromordinal, range(first.toordinal(), last.toordinal() + 1))


def _next_label(
    labels: tuple[str, ...], place: int, altered: AlteredDay | None
) -> tuple[str | None, int]:
    """Give a day's label and the place in the rotation of the day after it."""
    if altered is not None and altered.label is not None and altered.label not in labels:
        return altered.label, place
    if not labels:
        return None, place
    if altered is not None and altered.label is not None:
        while labels[place % len(labels)] != altered.label:
            place += 1
    return labels[place % len(labels)], place + 1

"""A school year: which days are school days, and which label each carries."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from datetime import date, time
from enum import IntEnum, StrEnum

from handbook.domain.values.text import Text
from handbook.records import dataclass

MONDAY_TO_FRIDAY = frozenset(range(5))
_PARTS = ((8, 11, "fall"), (12, 14, "winter"), (3, 7, "spring"))  # 13, 14: January, February


class Resume(StrEnum):
    """How rotating day labels go on after a closure."""

    NEXT = "next"  # with the label after the last one used
    SKIP = "skip"  # as if no day had been lost


class Exactness(IntEnum):
    """How exactly an entry says its days; of several on a day the lowest holds."""

    DATE = 0
    SPAN = 1
    EVERY = 2


@dataclass(frozen=True, slots=True)
class Days:
    """Those from `first` to `last`, both included, that are on `weekdays` (on any if empty), less those `without`."""

    first: date
    last: date
    weekdays: frozenset[int] = frozenset()
    without: frozenset[date] = frozenset()

    def __contains__(self, day: date) -> bool:
        """Whether a day is among them."""
        return (
            self.first <= day <= self.last
            and (not self.weekdays or day.weekday() in self.weekdays)
            and day not in self.without
        )

    def within(self, first: date, last: date) -> Iterator[date]:
        """Give those from `first` to `last`, both included, in order."""
        return filter(self.__contains__, _days(max(first, self.first), min(last, self.last)))


def one_day(day: date) -> Days:
    """Give the days that are a single one."""
    return Days(day, day)


@dataclass(frozen=True, slots=True)
class Closure:
    """Days without school; `resume` overrides the year's rule.

    One that became known `late` takes away what was planned for its days.
    """

    days: Days
    name: Text
    resume: Resume | None = None
    late: bool = False


@dataclass(frozen=True, slots=True)
class AlteredDays:
    """School days with other bells, another label, or both.

    `labels` are borne in turn by the days, in place of a label for all of them; `resume`
    then says how the rotation goes on after them.
    """

    days: Days
    name: Text
    bells: str | None = None
    label: str | None = None
    labels: tuple[str, ...] = ()
    resume: Resume | None = None
    exactness: Exactness = Exactness.DATE


@dataclass(frozen=True, slots=True)
class MakeUpDay:
    """A day that would have none and has school; meetings are those of the weekday that it is `like`."""

    day: date
    name: Text
    bells: str | None = None
    label: str | None = None
    like: int | None = None


@dataclass(frozen=True, slots=True)
class SchoolYear:
    """First and last day (both included), labels in rotation, bell schedules.

    `bells` maps schedule id to period id to (start, end); `usual_bells` is the id
    of the schedule of an ordinary day. No labels: an empty tuple. `school_days` are the
    weekdays with school.
    """

    first: date
    last: date
    labels: tuple[str, ...] = ()
    resume: Resume = Resume.NEXT
    bells: Mapping[str, Mapping[str, tuple[time, time]]] = field(default_factory=dict)
    usual_bells: str = ""
    closures: tuple[Closure, ...] = ()
    altered: tuple[AlteredDays, ...] = ()
    make_up: tuple[MakeUpDay, ...] = ()
    school_days: frozenset[int] = MONDAY_TO_FRIDAY


@dataclass(frozen=True, slots=True)
class YearDay:
    """One calendar day of the year; a closed day has a label only if labels run on through it.

    `altered` are the entries about it, the most exact first.
    """

    day: date
    is_school: bool
    label: str | None = None
    closure: Closure | None = None
    altered: tuple[AlteredDays, ...] = ()
    make_up: MakeUpDay | None = None

    @property
    def weekday(self) -> int:
        """The weekday whose meetings are held, Monday being 0."""
        like = self.make_up.like if self.make_up else None
        return self.day.weekday() if like is None else like

    @property
    def bells(self) -> AlteredDays | MakeUpDay | None:
        """The entry whose bells hold, None on a day with the ordinary ones."""
        return next((one for one in _entries(self.make_up, self.altered) if one.bells), None)


def part_of_year(day: date) -> str:
    """Say in which part of a school year a day is: fall, winter or spring (common practice, no source)."""
    month = day.month + 12 if day.month < 3 else day.month  # noqa: PLR2004 - January and February go with December
    return next(name for first, last, name in _PARTS if first <= month <= last)


def day_labels(year: SchoolYear) -> dict[date, str]:
    """Give each school day its label.

    Labels advance on school days only. After a closure they go on with the label after
    the last one used (`next`) or as if its weekdays had been school days (`skip`); a
    closure's own rule goes before the year's, and of two closures on a day the first
    listed rules. A day altered to another label of the rotation re-anchors it: the next
    school day carries the label after that one. A label outside the rotation stands for
    its day alone and the rotation waits. Labels in turn leave the rotation where it was
    before them (`next`) or let it run on below them (`skip`). Common practice, no source.
    """
    return labels_of(year_days(year))


def labels_of(days: Iterable[YearDay]) -> dict[date, str]:
    """Give those of a year's days that are school days their labels; see `day_labels`."""
    return {day.day: day.label for day in days if day.is_school and day.label is not None}


def year_days(year: SchoolYear) -> Iterator[YearDay]:
    """Walk the year's days, first to last, weekends included.

    A day altered by its date is a school day on any weekday, and so is a make-up day, even
    within a closure. Of entries about a day one by its date goes before one about a span,
    and that before one about every such weekday; of equal ones the first listed.
    """
    altered_by_day = _altered_by_day(year)
    make_up_by_day = {one.day: one for one in reversed(year.make_up)}
    closure_by_day = {
        day: closure
        for closure in reversed(year.closures)
        for day in closure.days.within(year.first, year.last)
        if day not in make_up_by_day
    }
    rotation = _Rotation(year)
    for day in _days(year.first, year.last):
        closure, make_up = closure_by_day.get(day), make_up_by_day.get(day)
        entries, teaching = altered_by_day.get(day), day.weekday() in year.school_days
        if closure is None and make_up is None and entries is None:  # as most days are
            label = rotation.step() if teaching else None
            yield YearDay(day, teaching, label)
        else:
            yield _special_day(day, closure, entries or (), make_up, rotation, teaching=teaching)


def _special_day(
    day: date,
    closure: Closure | None,
    entries: Sequence[AlteredDays],
    make_up: MakeUpDay | None,
    rotation: _Rotation,
    *,
    teaching: bool,
) -> YearDay:
    """Give a day that some entry is about; `teaching` if its weekday has school."""
    dated = closure is None and any(one.exactness is Exactness.DATE for one in entries)
    teaching = teaching or make_up is not None or dated
    runs_on = closure is not None and (closure.resume or rotation.resume) is Resume.SKIP
    altered = tuple(entries) if teaching and closure is None else ()
    label = None
    if teaching and (closure is None or runs_on):
        in_turn = altered if closure is None else [one for one in entries if one.labels]
        label = rotation.next(_entries(make_up, in_turn))
    return YearDay(day, teaching and closure is None, label, closure, altered, make_up)


def _days(first: date, last: date) -> Iterator[date]:
    return map(date.fromordinal, range(first.toordinal(), last.toordinal() + 1))


def _altered_by_day(year: SchoolYear) -> Mapping[date, Sequence[AlteredDays]]:
    """List the entries about each day, the most exact first, of equal ones the first listed."""
    found: dict[date, list[AlteredDays]] = {}
    for entry in sorted(year.altered, key=lambda one: one.exactness):
        for day in entry.days.within(year.first, year.last):
            found.setdefault(day, []).append(entry)
    return found


def _entries(
    make_up: MakeUpDay | None, altered: Sequence[AlteredDays]
) -> tuple[AlteredDays | MakeUpDay, ...]:
    return (make_up, *altered) if make_up else tuple(altered)


class _Rotation:
    """Gives the days of a year their labels, one after another."""

    def __init__(self, year: SchoolYear) -> None:
        self.labels, self.resume = year.labels, year.resume
        self.place = 0
        self.turns: Counter[int] = Counter()

    def step(self) -> str | None:
        """Give the label of the next day in the rotation."""
        if not self.labels:
            return None
        self.place += 1
        return self.labels[(self.place - 1) % len(self.labels)]

    def next(self, entries: Sequence[AlteredDays | MakeUpDay]) -> str | None:
        """Give the label of the next day, which `entries` are about, the most exact first."""
        said = [found for entry in entries if (found := self._said(entry))]
        if not said:
            return self.step()
        label, entry = said[0]
        if isinstance(entry, AlteredDays) and entry.labels:
            if (entry.resume or self.resume) is Resume.SKIP:
                self.place += 1
            return label
        if label in self.labels:
            while self.labels[self.place % len(self.labels)] != label:
                self.place += 1
            self.place += 1
        return label

    def _said(self, entry: AlteredDays | MakeUpDay) -> tuple[str, AlteredDays | MakeUpDay] | None:
        """Give what an entry says of the label; labels in turn count every day, said or not."""
        if isinstance(entry, AlteredDays) and entry.labels:
            turn = self.turns[id(entry)]
            self.turns[id(entry)] += 1
            return entry.labels[turn % len(entry.labels)], entry
        return (entry.label, entry) if entry.label is not None else None

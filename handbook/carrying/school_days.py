"""A district's calendar to a proposal for a school year: what is sure, what to decide, what was not read."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from datetime import date, timedelta

from handbook.carrying.bells import bells_for
from handbook.carrying.labels import labels_in_turn
from handbook.domain.school_day_titles import (
    DayMeaning,
    TitleMeaning,
    same_words,
    title_meaning,
    words_of,
)
from handbook.domain.school_year import Closure, Days, MakeUpDay, Resume, SchoolYear
from handbook.domain.values.text import Text
from handbook.records import dataclass
from handbook.schema.year import AlteredSchoolDay, SchoolClosure, Year
from handbook.school_calendar.model import CalendarDays, CalendarFile

ONE_DAY, YEAR = timedelta(days=1), timedelta(weeks=52)
_NEAR = timedelta(days=60)  # of last year's first or last day, 52 weeks on
_LONGEST = 45  # days of a closure within the year
_FEWEST_IN_WEEKS = 6  # days that are written as every such weekday


@dataclass(frozen=True, slots=True)
class Told:
    """Something about the calendar to be told; `lines` are where it stands in the file."""

    lines: tuple[int, ...]
    title: str
    first: date | None
    last: date | None
    why: str
    kind: DayMeaning | None = None


@dataclass(frozen=True, slots=True)
class ProposedDays:
    """Days of one name, both included; those but `without` on `every` such weekday, if that is said.

    `like` is the place of last year's entry whose name it has.
    """

    name: str
    first: date
    last: date
    like: int | None = None
    bells: str | None = None
    label: str | None = None
    every: int | None = None
    without: tuple[date, ...] = ()
    lacks_bells: bool = False


@dataclass(frozen=True, slots=True)
class ProposedYear:
    """A school year as a calendar has it; without a calendar, as last year's with later dates.

    `first_said` and `last_said` if the calendar names that day. `decide` are entries that
    may mean something, `inferred` those that other knowledge than their title was needed for,
    `unread` those that nothing was made of, `idle` those that change nothing, `missing`
    names of last year that the calendar has not. `of_another_year` if most entries are on
    days `outside` the year, and none is on a day after its beginning.
    """

    first_day: date
    last_day: date
    first_said: bool = False
    last_said: bool = False
    resume: Resume | None = None
    closures: tuple[ProposedDays, ...] = ()
    altered: tuple[ProposedDays, ...] = ()
    make_up: tuple[ProposedDays, ...] = ()
    decide: tuple[Told, ...] = ()
    inferred: tuple[Told, ...] = ()
    unread: tuple[Told, ...] = ()
    idle: tuple[Told, ...] = ()
    missing: tuple[str, ...] = ()
    outside: int = 0
    of_another_year: bool = False


def without_calendar(old: Year) -> ProposedYear:
    """Propose the same days of the week, 52 weeks on."""
    return ProposedYear(old.first_day + YEAR, old.last_day + YEAR)


def from_calendar(old: Year, calendar: CalendarFile) -> ProposedYear:
    """Propose a school year by a calendar, in the light of last year's."""
    return _SortedOut(old, calendar).proposal()


@dataclass(frozen=True, slots=True)
class _Meant:
    entry: CalendarDays
    meaning: TitleMeaning


@dataclass(frozen=True, slots=True)
class _ByMeaning:
    """What was sorted out so far."""

    closed: list[tuple[_Meant, int | None]] = field(default_factory=list)
    altered: list[tuple[_Meant, int | None]] = field(default_factory=list)
    labels: list[_Meant] = field(default_factory=list)
    make_up: list[_Meant] = field(default_factory=list)


class _SortedOut:
    """One calendar as it is sorted out."""

    def __init__(self, old: Year, calendar: CalendarFile) -> None:
        self._old = old
        self._meant = [
            _Meant(entry, title_meaning(entry.title, old.day_labels)) for entry in calendar.entries
        ]
        self._calendar = calendar
        self._found = _ByMeaning()
        self._decide: list[Told] = []
        self._unread: list[_Meant] = []
        self._idle: list[Told] = []
        self._inferred: dict[tuple[str, str], list[CalendarDays]] = {}

    def proposal(self) -> ProposedYear:
        first, first_said = self._edge(DayMeaning.FIRST, self._old.first_day + YEAR)
        last, last_said = self._edge(DayMeaning.LAST, self._old.last_day + YEAR)
        if last <= first:
            last, last_said = max(first, self._old.last_day + YEAR), False
        self._first, self._last = first, last
        inside = [one for one in self._meant if one.entry.last >= first and one.entry.first <= last]
        for one in inside:
            self._sort(one)
        closures = self._closures()
        closed = {day for one in closures for day in _days(one.first, one.last)}
        make_up = tuple(self._make_up(closed))
        altered = self._altered(closed)
        resume, labelled = self._labels(closures, make_up, closed)
        self._settle(closed)
        outside = self._calendar.outside + len(self._lines(self._meant) - self._lines(inside))
        return ProposedYear(
            first,
            last,
            first_said,
            last_said,
            resume,
            closures,
            (*altered, *labelled),
            make_up,
            decide=tuple(sorted(self._decide, key=lambda one: one.first or first)),
            inferred=tuple(self._all_inferred()),
            unread=(*self._passed_over(), *_by_title(self._unread)),
            idle=tuple(self._idle),
            missing=tuple(self._missing()),
            outside=outside,
            of_another_year=2 * outside > self._calendar.number
            and all(one.entry.first <= first + _NEAR for one in inside),
        )

    def _lines(self, entries: Iterable[_Meant]) -> set[int]:
        return {one.entry.line for one in entries}

    def _edge(self, kind: DayMeaning, guess: date) -> tuple[date, bool]:
        """Give the first or last day, and whether the calendar says it."""
        found = [
            one
            for one in self._meant
            if kind in one.meaning.kinds
            and not one.meaning.doubt
            and abs(one.entry.first - guess) <= _NEAR
        ]
        days = sorted({one.entry.first for one in found})
        if not days:
            return guess, False
        taken = days[0] if kind is DayMeaning.FIRST else days[-1]
        for one in found:
            if one.entry.first != taken:
                self._ask(one, f"the calendar has several {kind} days; the year has {taken}")
        return taken, True

    def _sort(self, one: _Meant) -> None:
        kinds, doubt = one.meaning.kinds, one.meaning.doubt
        closure = _place(one.entry.title, self._old.closures)
        altered = _place(one.entry.title, self._old.altered)
        if closure is not None and (not kinds or one.meaning.unsettled):
            self._found.closed.append((one, closure))
            self._infer(one, "no school, as last year")
        elif one.meaning.unsettled and self._said_elsewhere(one):
            self._found.closed.append((one, None))
            self._infer(one, "no school, by its description")
        elif (
            altered is not None
            and kinds <= {DayMeaning.OTHERWISE}
            and self._old.altered[altered].bells
        ):
            self._found.altered.append((one, altered))
        elif not kinds:
            self._unread.append(one)
        elif doubt:
            self._ask(one, doubt)
        elif DayMeaning.CLOSED in kinds:
            self._close(one, _place(one.meaning.name, self._old.closures))
        else:
            if DayMeaning.MAKE_UP in kinds:
                self._found.make_up.append(one)
            if kinds & {DayMeaning.EARLY, DayMeaning.LATE}:
                self._found.altered.append((one, altered))
            if DayMeaning.LABEL in kinds:
                self._found.labels.append(one)

    def _close(self, one: _Meant, like: int | None) -> None:
        within = min(one.entry.last, self._last) - max(one.entry.first, self._first)
        if within >= timedelta(days=_LONGEST):
            self._ask(one, f"it would close school for {within.days + 1} days")
        else:
            self._found.closed.append((one, like))

    def _said_elsewhere(self, one: _Meant) -> bool:
        """Whether an entry's categories or description say that there is no school."""
        about = title_meaning(one.entry.about)
        return about.kinds == {DayMeaning.CLOSED} and not about.doubt

    def _closures(self) -> tuple[ProposedDays, ...]:
        """Give the closures, each day in one: the longest that names it."""
        owner: dict[date, tuple[str, int | None]] = {}
        longest = sorted(
            self._found.closed, key=lambda pair: pair[0].entry.first - pair[0].entry.last
        )
        for one, like in longest:
            days = list(self._school_days(one.entry))
            free = [day for day in days if day not in owner]
            if not days:
                self._leave(one, "it is on days without school anyway")
            elif not free:
                self._leave(one, f"it lies within {owner[days[0]][0]}")
            name = self._named(one, like)
            owner |= dict.fromkeys(free, (name, like))
        return tuple(
            ProposedDays(name, days[0], days[-1], like) for (name, like), days in self._runs(owner)
        )

    def _named(self, one: _Meant, like: int | None) -> str:
        return one.entry.title if like is not None and not one.meaning.kinds else one.meaning.name

    def _runs(
        self, owner: Mapping[date, tuple[str, int | None]]
    ) -> Iterator[tuple[tuple[str, int | None], list[date]]]:
        """Give days of one name that follow each other, weekends left aside."""
        run: list[date] = []
        for day in sorted(owner):
            if run and (
                owner[day][0].casefold() != owner[run[0]][0].casefold()
                or any(
                    self._has_school(between) for between in _days(run[-1] + ONE_DAY, day - ONE_DAY)
                )
            ):
                yield owner[run[0]], run
                run = []
            run.append(day)
        if run:
            yield owner[run[0]], run

    def _make_up(self, closed: set[date]) -> Iterator[ProposedDays]:
        taken: set[date] = set()
        for one in self._found.make_up:
            for day in _days(max(one.entry.first, self._first), min(one.entry.last, self._last)):
                if day in closed:
                    self._ask(
                        one, "school is closed that day, so it may be made up only if need be"
                    )
                elif self._has_school(day):
                    self._ask(one, "that day has school anyway")
                elif day not in taken:
                    taken.add(day)
                    yield ProposedDays(one.entry.title, day, day)

    def _altered(self, closed: set[date]) -> tuple[ProposedDays, ...]:
        named: dict[tuple[str, str | None, int | None], list[date]] = defaultdict(list)
        taken: dict[date, str | None] = {}
        times = Counter(one.entry.line for one in self._meant)
        rules = [one for one in self._old.altered if one.every and not one.from_ and not one.to]
        for one, like in self._found.altered:
            kind = DayMeaning.LATE if DayMeaning.LATE in one.meaning.kinds else DayMeaning.EARLY
            bells = self._old.altered[like].bells if like is not None else None
            bells = bells or bells_for(self._old, one.entry.title, kind)
            for day in _days(max(one.entry.first, self._first), min(one.entry.last, self._last)):
                if day in closed or not self._has_school(day):
                    repeats = times[one.entry.line] > 1
                    tell = self._leave if repeats else self._ask  # as each week, breaks and all
                    tell(one, "there is no school that day")
                elif any(day.weekday() in rule.every and rule.bells == bells for rule in rules):
                    self._leave(one, "a rule of last year's says it already")
                elif taken.get(day, bells) != bells:
                    self._ask(one, "another entry has other bells for that day")
                elif day in taken:
                    self._leave(one, "another entry says so already")
                else:
                    if bells is not None:
                        self._infer(one, f"the bells {bells}")
                    taken[day] = bells
                    named[one.entry.title, bells, like].append(day)
        found = [
            days
            for (name, bells, like), on in named.items()
            for days in self._grouped(name, bells, like, sorted(on), closed)
        ]
        return tuple(sorted(found, key=lambda one: one.first))

    def _grouped(
        self, name: str, bells: str | None, like: int | None, on: Sequence[date], closed: set[date]
    ) -> Iterator[ProposedDays]:
        """Write days as every such weekday where they nearly are, else as spans and single days."""
        lacks = bells is None
        weekdays = {day.weekday() for day in on}
        if len(on) >= _FEWEST_IN_WEEKS and len(weekdays) == 1:
            (weekday,) = weekdays
            without = tuple(
                day
                for day in _days(on[0], on[-1])
                if day.weekday() == weekday and day not in on and day not in closed
            )
            if 2 * len(without) <= len(on):
                yield ProposedDays(
                    name,
                    on[0],
                    on[-1],
                    like,
                    bells,
                    every=weekday,
                    without=without,
                    lacks_bells=lacks,
                )
                return
        owner = dict.fromkeys(on, (name, like))
        for _, run in self._runs(owner):
            yield ProposedDays(name, run[0], run[-1], like, bells, lacks_bells=lacks)

    def _labels(
        self, closures: Sequence[ProposedDays], make_up: Sequence[ProposedDays], closed: set[date]
    ) -> tuple[Resume | None, tuple[ProposedDays, ...]]:
        """Say how labels go on after closures, and on which days the turns begin afresh."""
        wanted: dict[date, str] = {}
        for one in self._found.labels:
            label = one.meaning.label or ""
            for day in _days(max(one.entry.first, self._first), min(one.entry.last, self._last)):
                if day in closed or not self._has_school(day):
                    self._leave(one, "it is on days without school anyway")
                elif wanted.setdefault(day, label) != label:
                    self._ask(one, f"another entry has the label {wanted[day]} for that day")
        if not wanted:
            return None, ()
        year = SchoolYear(
            self._first,
            self._last,
            tuple(self._old.day_labels),
            self._old.resume,
            closures=tuple(
                Closure(Days(one.first, one.last), Text.plain(one.name)) for one in closures
            ),
            make_up=tuple(MakeUpDay(one.first, Text.plain(one.name)) for one in make_up),
            school_days=frozenset(self._old.school_days),
        )
        found = labels_in_turn(year, wanted)
        if found is None:
            order = ", ".join(self._old.day_labels)
            why = f"its labels do not follow each other as {order}, so none was written"
            first = self._found.labels[0]
            self._decide.append(
                Told((first.entry.line,), first.entry.title, min(wanted), max(wanted), why)
            )
            return None, ()
        resume, days = found
        return resume if resume is not self._old.resume else None, tuple(
            ProposedDays(f"{wanted[day]} day", day, day, label=wanted[day]) for day in days
        )

    def _settle(self, closed: set[date]) -> None:
        """Ask nothing about a closure on days that are without school in any case."""
        for told in list(self._decide):
            if (
                told.kind in {DayMeaning.CLOSED, DayMeaning.OTHERWISE}
                and told.first is not None
                and told.last is not None
            ):
                first, last = max(told.first, self._first), min(told.last, self._last)
                if not any(
                    self._has_school(day) and day not in closed for day in _days(first, last)
                ):
                    self._decide.remove(told)
                    self._idle.append(replace(told, why="there is no school then anyway"))

    def _missing(self) -> Iterator[str]:
        """Give last year's dated names that no title of the calendar has in it.

        A title is taken to name the entry with the most words: one that has `last day, early
        release` in it says nothing of the other early releases.
        """
        every: list[SchoolClosure | AlteredSchoolDay] = [*self._old.closures, *self._old.altered]
        dated = [one for one in every if not one.every and one.told is None]
        names = {frozenset(words_of(name)) for one in dated for name in _versions(one.name)}
        named: set[frozenset[str]] = set()
        for title in {frozenset(words_of(one.entry.title)) for one in self._meant}:
            within = [name for name in names if name and name <= title]
            named |= {name for name in within if not any(name < other for other in within)}
        told: set[str] = set()
        for entry in dated:
            versions = list(_versions(entry.name))
            known = any(frozenset(words_of(name)) in named for name in versions)
            if not known and versions[0] not in told:
                told.add(versions[0])
                yield versions[0]

    def _passed_over(self) -> Iterator[Told]:
        for one in self._calendar.passed_over:
            yield Told((one.line,), one.title, None, None, one.why)

    def _school_days(self, entry: CalendarDays) -> Iterator[date]:
        first, last = max(entry.first, self._first), min(entry.last, self._last)
        return (day for day in _days(first, last) if self._has_school(day))

    def _has_school(self, day: date) -> bool:
        return day.weekday() in self._old.school_days

    def _infer(self, one: _Meant, what: str) -> None:
        self._inferred.setdefault((one.entry.title.casefold(), what), []).append(one.entry)

    def _all_inferred(self) -> Iterator[Told]:
        for (_, what), entries in self._inferred.items():
            lines = tuple(dict.fromkeys(one.line for one in entries))
            first, last = min(one.first for one in entries), max(one.last for one in entries)
            yield Told(lines, entries[0].title, first, last, what)

    def _ask(self, one: _Meant, why: str) -> None:
        # What says two things stands where its remark, taken for an entry, closes no school.
        kinds = [kind for kind in DayMeaning if kind in one.meaning.kinds]
        kinds.sort(key=lambda kind: kind not in {DayMeaning.EARLY, DayMeaning.LATE})
        told = Told(
            (one.entry.line,), one.entry.title, one.entry.first, one.entry.last, why,
            kinds[0] if kinds else None,
        )  # fmt: skip
        if told not in self._decide:
            self._decide.append(told)

    def _leave(self, one: _Meant, why: str) -> None:
        told = Told((one.entry.line,), one.entry.title, one.entry.first, one.entry.last, why)
        if told not in self._idle:
            self._idle.append(told)


def _days(first: date, last: date) -> Iterator[date]:
    return map(date.fromordinal, range(first.toordinal(), last.toordinal() + 1))


def _versions(name: Text) -> Iterable[str]:
    return [text for _, text in name.versions]


def _place(title: str, entries: Sequence[SchoolClosure | AlteredSchoolDay]) -> int | None:
    """Find which of last year's entries a title names, in any language; not one that came as news."""
    for place, entry in enumerate(entries):
        if entry.told is None and any(same_words(title, one) for one in _versions(entry.name)):
            return place
    return None


def _by_title(entries: Iterable[_Meant]) -> Iterator[Told]:
    """Tell what is not understood once for each title."""
    titles: dict[str, list[CalendarDays]] = defaultdict(list)
    for one in entries:
        titles[one.entry.title.casefold()].append(one.entry)
    for group in titles.values():
        lines = tuple(dict.fromkeys(one.line for one in group))
        number = len(group)
        why = f"{number} times" if number > 1 else ""
        yield Told(lines, group[0].title, group[0].first, group[-1].last, why)

"""Days and times of the school year that cannot be meant."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time
from itertools import pairwise

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding
from handbook.checks.wording import day, evening_meant
from handbook.domain.values.clock import format_clock
from handbook.plan.bells import whole_bells
from handbook.plan.dates import END_BEFORE_START
from handbook.plan.news import Entry, first_day_of
from handbook.plan.school_days import days_of
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.year import Year

_NIGHT_ENDS = time(4)
_LONGEST = 6  # hours of a rehearsal or booking, for guessing what was meant

_MOST_DAYS = 400


@check
def closure_without_dates(handbook: Handbook) -> Iterator[Problem]:
    """A closure does not say when it is.

    A closure has either one `date`, or `from` and `to`, both included, or `every` such day of
    the week.

    Bad:

        - {name: Fall break, from: 2026-11-23}

    Good:

        - {name: Fall break, from: 2026-11-23, to: 2026-11-27}
    """
    for file, year in traversal.years(handbook):
        for place, closure in enumerate(year.closures):
            if closure.date is not None or closure.every or (closure.from_ and closure.to):
                continue
            given = "from" if closure.from_ else "to" if closure.to else None
            lacking = {"from": "its last day, `to`", "to": "its first day, `from`"}
            yield finding(
                f"this closure lacks {lacking.get(given or '', 'its days')}",
                (file, "closures", place, given or "name"),
                "give it one `date:`, or `from:` and `to:` for several days",
            )


@check
def told_after_day(handbook: Handbook) -> Iterator[Problem]:
    """A change of the calendar is told after the day that it changes.

    `told` is the day on which a lost or altered day, or a move, became known; the rehearsals
    before it stay as they were. What is known too late to be planned for is told on its own day.

    Bad:

        - {name: Snow day, date: 2026-11-16, told: 2026-11-18}

    Good:

        - {name: Snow day, date: 2026-11-16, told: 2026-11-16}
    """
    rules = {
        address
        for address, entry, _ in traversal.year_entries(handbook)
        if entry.every and entry.from_ is None
    }
    for address, told, first in _with_told(handbook):
        if told is not None and told > first:
            latest = f"the latest day it can be told is its own: `told: {first:%a %Y-%m-%d}`"
            yield finding(
                f"this is told on {day(told)}, after its own day, {day(first)}",
                (*address, "told"),
                f"say from when it holds, such as `from: {told:%a %Y-%m-%d}`"
                if address in rules
                else latest,
            )


def _with_told(handbook: Handbook) -> Iterator[tuple[Address, date | None, date]]:
    """Give all that may be told later, with the day it is told and its own first day."""
    for address, entry, year in _entries(handbook):
        yield address, entry.told, first_day_of(entry, year)
    for address, event in traversal.events(handbook):
        days = (event.date, event.from_, *(entry.date for entry in event.on), *event.moved_from)
        if known := [one for one in days if one is not None]:
            yield address, event.told, min(known)
        for place, one in enumerate(event.on):
            yield (*address, "on", place), one.told, min((one.date, *one.moved_from))
    for _, concert in traversal.concerts(handbook):
        item = concert.item
        yield (concert.file,), item.told, min((item.date, *item.moved_from[-1:]))


def _entries(handbook: Handbook) -> Iterator[tuple[Address, Entry, Year]]:
    yield from traversal.year_entries(handbook)
    for file, year in traversal.years(handbook):
        for address, made_up in traversal.make_up_days(file, year):
            yield address, made_up, year
    for content in handbook.cycles:
        sourced = handbook.years.get(content.cycle.item.year)
        if sourced is None:
            continue  # told as unknown-year
        for place, cancelled in enumerate(content.cycle.item.cancelled):
            yield (content.cycle.file, "cancelled", place), cancelled, sourced.item
        for place, extra in enumerate(content.cycle.item.extra):
            yield (content.cycle.file, "extra", place), extra, sourced.item


@check
def closure_dates_mixed(handbook: Handbook) -> Iterator[Problem]:
    """A closure has one date and a span of dates.

    Bad:

        - {name: Fall break, date: 2026-11-23, to: 2026-11-27}

    Good:

        - {name: Fall break, from: 2026-11-23, to: 2026-11-27}
    """
    for file, year in traversal.years(handbook):
        for place, closure in enumerate(year.closures):
            if closure.date is None:
                continue
            if closure.from_ or closure.to:
                yield finding(
                    "this closure has both a `date` and a first or last day",
                    (file, "closures", place, "date"),
                    "keep `date:` for a single day, or `from:` and `to:` for several",
                )
            elif closure.every or closure.except_:
                field = "every" if closure.every else "except"
                yield finding(
                    f"this closure has both a `date` and `{field}`",
                    (file, "closures", place, field),
                    "keep `date:` for a single day, or take it out",
                )


@check
def dates_backward(handbook: Handbook) -> Iterator[Problem]:
    """A last day comes before its first day.

    Bad:

        - {name: Fall break, from: 2026-11-27, to: 2026-11-23}

    Good:

        - {name: Fall break, from: 2026-11-23, to: 2026-11-27}
    """
    for first, last, first_at, last_at in _spans(handbook):
        if last < first:
            yield finding(
                f"the last day, {day(last)}, comes before the first, {day(first)}",
                last_at,
                "change the two about, or check the year",
                notes=(Note("the first day is here", first_at),),
            )


def _spans(handbook: Handbook) -> Iterator[tuple[date, date, Address, Address]]:
    for file, year in traversal.years(handbook):
        yield year.first_day, year.last_day, (file, "first_day"), (file, "last_day")
    for at, entry, _ in traversal.year_entries(handbook):
        if entry.from_ and entry.to:
            yield entry.from_, entry.to, (*at, "from"), (*at, "to")
    for at, meeting, _ in traversal.meetings(handbook):
        if meeting.from_ and meeting.to:
            yield meeting.from_, meeting.to, (*at, "from"), (*at, "to")
    for at, event in traversal.events(handbook):
        if event.from_ and event.to:
            yield event.from_, event.to, (*at, "from"), (*at, "to")
    for content in handbook.cycles:
        cycle, file = content.cycle.item, content.cycle.file
        if cycle.ends is not None and content.concert is None:
            yield cycle.starts, cycle.ends, (file, "starts"), (file, "ends")


@check
def longer_than_a_year(handbook: Handbook) -> Iterator[Problem]:
    """A school year, a closure, an event or a cycle lasts more than 400 days.

    Most often the year of a date is a slip. A school without long vacations still begins
    a new year every 365 days.

    Bad:

        first_day: 2026-08-24
        last_day: 2072-06-04

    Good:

        first_day: 2026-08-24
        last_day: 2027-06-04
    """
    spans = [*_spans(handbook)]
    for content, concert in traversal.concerts(handbook):
        starts = (content.cycle.file, "starts")
        spans.append((content.cycle.item.starts, concert.item.date, starts, (concert.file, "date")))
    for first, last, first_at, last_at in spans:
        days = (last - first).days + 1
        if days > _MOST_DAYS:
            yield finding(
                f"from {day(first)} to {day(last)} are {days:,} days, and {_MOST_DAYS} are the most",
                last_at,
                "check the year of both dates",
                notes=(Note("the first day is here", first_at),),
            )


@check
def day_outside_year(handbook: Handbook) -> Iterator[Problem]:
    """A closure, an altered or make-up day, or a meeting's span lies outside its school year.

    It has no effect there; most often the year of the date is a slip.

    Bad:

        first_day: 2026-08-24
        last_day: 2027-06-04
        closures:
          - {name: Winter break, date: 2026-01-04}

    Good:

        closures:
          - {name: Winter break, date: 2027-01-04}
    """
    for file, year in traversal.years(handbook):
        if year.last_day < year.first_day:
            continue  # told as dates-backward
        for address, first, last in _placed_days(file, year):
            if last < year.first_day or first > year.last_day:
                yield finding(
                    f"this is outside the school year, which runs from {year.first_day} to {year.last_day}",
                    address,
                    "check the date, above all its year",
                    Severity.WARNING,
                )


def _placed_days(file: str, year: Year) -> Iterator[tuple[Address, date, date]]:
    """Give first and last day of what has dates of its own in a year."""
    for place, days in traversal.closed_days(year):
        closure = year.closures[place]
        field = "date" if closure.date else "from" if closure.from_ else "to"
        if closure.date or closure.from_ or closure.to:
            yield (file, "closures", place, field), days.first, days.last
    for at, altered in traversal.altered_days(file, year):
        days = days_of(altered, year)
        field = "date" if altered.date else "from" if altered.from_ else "to"
        if (altered.date or altered.from_ or altered.to) and days.first < date.max:
            yield (*at, field), days.first, days.last
    for at, made_up in traversal.make_up_days(file, year):
        yield (*at, "date"), made_up.date, made_up.date
    for place, meeting in enumerate(year.meetings):
        if meeting.from_ or meeting.to:
            field = "from" if meeting.from_ else "to"
            first, last = meeting.from_ or year.first_day, meeting.to or year.last_day
            yield (file, "meetings", place, field), first, last


@check
def closure_without_school(handbook: Handbook) -> Iterator[Problem]:
    """School is closed on days that have none anyway.

    They are weekends, days of another closure, or days of the week that are not among
    `school_days`.

    Bad:

        closures:
          - {name: Fall break, from: 2026-11-23, to: 2026-11-27}
          - {name: Snow day, date: 2026-11-24}

    Good:

        closures:
          - {name: Fall break, from: 2026-11-23, to: 2026-11-27}
          - {name: Snow day, date: 2026-11-30}
    """
    for file, year in traversal.years(handbook):
        found = {
            place: frozenset(days.within(year.first_day, year.last_day))
            for place, days in traversal.closed_days(year)
        }
        for place, own in found.items():
            without = [one for one in own if one.weekday() in year.school_days]
            over = next(
                (
                    other
                    for other, theirs in found.items()
                    if own <= theirs and (own < theirs or other < place)
                ),
                None,
            )
            if own and (over is not None or not without):
                closure = year.closures[place]
                field = "date" if closure.date else "every" if closure.every else "from"
                yield finding(
                    "another closure has these days already"
                    if over is not None
                    else "there is no school then anyway",
                    (file, "closures", place, field),
                    "check the date, or take it out",
                    Severity.WARNING,
                    (Note("the other closure is here", (file, "closures", over)),)
                    if over is not None
                    else (),
                )


@check_of(END_BEFORE_START)
def end_before_start(handbook: Handbook) -> Iterator[Problem]:
    """Compare both ends of all that has two clock times."""
    for address, start, end in _times(handbook):
        if end <= start:
            yield finding(
                f"this ends at {format_clock(end)}, but starts at {format_clock(start)}",
                (*address, "end"),
                evening_meant(
                    end,
                    lambda evening: start < evening and evening.hour - start.hour <= _LONGEST,  # noqa: B023 - called at once
                    "change the two about, or check am and pm",
                ),
                notes=(Note("the start is here", (*address, "start")),),
            )


def _times(handbook: Handbook) -> Iterator[tuple[Address, time, time]]:
    for file, year in traversal.years(handbook):
        for place, bells in enumerate(year.bells):
            for number, period in enumerate(bells.periods):
                yield (file, "bells", place, "periods", number), period.start, period.end
    for address, meeting, _ in traversal.meetings(handbook):
        if meeting.start and meeting.end:
            yield address, meeting.start, meeting.end
    yield from _times_outside_bells(handbook)


def _times_outside_bells(handbook: Handbook) -> Iterator[tuple[Address, time, time]]:
    for content in handbook.cycles:
        for place, extra in enumerate(content.cycle.item.extra):
            yield (content.cycle.file, "extra", place), extra.start, extra.end
    for _, concert in traversal.concerts(handbook):
        for place, booking in enumerate(concert.item.bookings):
            if booking.end >= _NIGHT_ENDS:  # an end in the night is on the day after
                yield (concert.file, "bookings", place), booking.start, booking.end


@check
def periods_overlap(handbook: Handbook) -> Iterator[Problem]:
    """A period begins before the one before it has ended.

    Bad:

        - {id: p3, start: 10:05, end: 10:50}
        - {id: p4, start: 10:45, end: 11:30}

    Good:

        - {id: p3, start: 10:05, end: 10:50}
        - {id: p4, start: 10:55, end: 11:40}
    """
    for file, year in traversal.years(handbook):
        at: dict[int, Address] = {
            id(period): (file, "bells", place, "periods", number)
            for place, bells in enumerate(year.bells)
            for number, period in enumerate(bells.periods)
        }
        whole = whole_bells(year)
        for bells in year.bells:
            own = set(map(id, bells.periods))
            in_order = sorted(whole[bells.id].periods.values(), key=lambda period: period.start)
            for earlier, later in pairwise(in_order):
                overlap = later.start < earlier.end and earlier.start < earlier.end
                if overlap and own & {id(earlier), id(later)}:
                    way = "" if own >= {id(earlier), id(later)} else f" on a day like `{bells.id}`"
                    first = later if id(later) in own else earlier
                    other, field = (earlier, "end") if first is later else (later, "start")
                    yield finding(
                        f"`{later.id}` starts at {format_clock(later.start)}, before `{earlier.id}` ends at {format_clock(earlier.end)}{way}",
                        (*at[id(first)], "start" if first is later else "end"),
                        "check both times; lunches side by side may overlap, other periods should not",
                        Severity.WARNING,
                        (Note(f"`{other.id}` {field}s here", (*at[id(other)], field)),),
                    )


@check
def meeting_without_days(handbook: Handbook) -> Iterator[Problem]:
    """A meeting does not say on which days it is.

    Bad:

        - {ensemble: lantern, period: p3}

    Good:

        - {ensemble: lantern, weekdays: [Mon, Wed], period: p3}
    """
    for address, meeting, _ in traversal.meetings(handbook):
        if not meeting.weekdays and not meeting.labels:
            yield finding(
                "this meeting does not say on which days it is",
                address,
                "add `weekdays: [Mon, Wed]`, or `labels: [A]` where days rotate",
            )


@check
def meeting_without_times(handbook: Handbook) -> Iterator[Problem]:
    """A meeting does not say when it begins and ends.

    Bad:

        - {ensemble: lantern, weekdays: [Mon], start: 7:30 am}

    Good:

        - {ensemble: lantern, weekdays: [Mon], start: 7:30 am, end: 8:15 am}
    """
    for address, meeting, _ in traversal.meetings(handbook):
        if meeting.period is None and not (meeting.start and meeting.end):
            lacks = "when it ends" if meeting.start else "when it is"
            lacks = "when it begins" if meeting.end else lacks
            yield finding(
                f"this meeting does not say {lacks}",
                address,
                "add `period: p3`, or both `start: 7:30 am` and `end: 8:15 am`",
            )


@check
def meeting_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """A meeting has days or times of both kinds, so that it is unclear which ones hold.

    It is on `weekdays` or on `labels`, and in a `period` or from `start` to `end`.

    Bad:

        - {ensemble: lantern, weekdays: [Mon], period: p3, start: 10:05, end: 10:50}

    Good:

        - {ensemble: lantern, weekdays: [Mon], period: p3}
    """
    for address, meeting, _ in traversal.meetings(handbook):
        if meeting.weekdays and meeting.labels:
            yield finding(
                "this meeting is on weekdays and on day labels, and only one can hold",
                (*address, "labels"),
                "keep `weekdays` or `labels`; write two meetings if it is on both",
            )
        if meeting.period is not None and (meeting.start or meeting.end):
            yield finding(
                "this meeting is in a period and at clock times, and only one can hold",
                (*address, "period"),
                "keep `period`, or `start` and `end`",
            )

"""Which dates an ensemble rehearses on, and when each rehearsal starts and ends."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time
from enum import StrEnum
from itertools import chain
from zoneinfo import ZoneInfo

from handbook.domain.meetings import (
    Absence,
    CancelledRehearsal,
    ExtraRehearsal,
    MeetingPattern,
    Rehearsal,
    RehearsalKind,
)
from handbook.domain.school_year import (
    AlteredDays,
    Closure,
    Resume,
    SchoolYear,
    YearDay,
    day_labels,
    labels_of,
    year_days,
)
from handbook.domain.values.clock import format_clock
from handbook.domain.values.text import Text
from handbook.records import dataclass

__all__ = [
    "AlteredDays",
    "CalendarFault",
    "CalendarFinding",
    "Closure",
    "ExtraRehearsal",
    "MeetingPattern",
    "MissedDay",
    "Rehearsal",
    "RehearsalCalendar",
    "RehearsalKind",
    "Resume",
    "SchoolYear",
    "day_labels",
    "rehearsal_calendar",
]


class CalendarFault(StrEnum):
    """What the calendar's data may get wrong."""

    EXTRA_ON_CLOSURE = "extra_on_closure"
    EXTRA_OUTSIDE = "extra_outside"  # outside the cycle's first and last day
    EXTRA_CLASHES = "extra_clashes"  # overlaps another rehearsal of the ensemble
    CANCELLED_NOTHING = "cancelled_nothing"  # no rehearsal that day
    INSTEAD_OF_NOTHING = "instead_of_nothing"  # none by a pattern is held that day
    MAKES_UP_FOR_NOTHING = "makes_up_for_nothing"  # none was lost that day
    TIME_IN_GAP = "time_in_gap"  # the local time is skipped by daylight saving
    NO_SUCH_PERIOD = "no_such_period"  # usual bells lack the pattern's period
    ENDS_BEFORE_START = "ends_before_start"  # no later end than start, as clock times
    PATTERNS_CLASH = "patterns_clash"  # two patterns overlap on a day
    NO_REHEARSALS = "no_rehearsals"


@dataclass(frozen=True, slots=True)
class CalendarFinding:
    """One fault; `index` is the place in the extras, cancellations or patterns it is about.

    It is about patterns for NO_SUCH_PERIOD and PATTERNS_CLASH, and else about an extra or
    a cancellation by the fault's name; ENDS_BEFORE_START and TIME_IN_GAP have an index
    for an extra only. `detail` is the period or the clock time in question. It is `late` if
    there would be no fault without the closures that became known late.
    """

    fault: CalendarFault
    day: date | None = None
    index: int | None = None
    detail: str = ""
    late: bool = False


# What an entry gets wrong about the day of another rehearsal.
_OF_ANOTHER_DAY = frozenset(
    {
        CalendarFault.CANCELLED_NOTHING,
        CalendarFault.INSTEAD_OF_NOTHING,
        CalendarFault.MAKES_UP_FOR_NOTHING,
    }
)


@dataclass(frozen=True, slots=True)
class MissedDay:
    """A day the pattern would have met on, and why it does not (closure, cancelled, no period, event, moved).

    `moved_to` is when a rehearsal is held in place of it, `made_up` when one makes up for it;
    one that is moved has no other reason. Where others are held that day, `which` is the
    name of this one, or its start.
    """

    day: date
    why: Text | None
    cause: str  # "closure", "cancelled", "bells", "event" or "moved"
    moved_to: date | None = None
    made_up: date | None = None
    which: Text | time | None = None

    def reason(self, language: str) -> str:
        """Say why in a language, `Dress rehearsal: ice`; the cause where there is no other reason."""
        if self.why is None:
            return self.cause
        if self.which is None:
            return self.why.read(language)
        which = self.which
        said = format_clock(which) if isinstance(which, time) else which.read(language)
        return f"{said}: {self.why.read(language)}"


@dataclass(frozen=True, slots=True)
class RehearsalCalendar:
    """All that is known of one ensemble's dates in one cycle, in order of time."""

    rehearsals: tuple[Rehearsal, ...]
    missed: tuple[MissedDay, ...]
    findings: tuple[CalendarFinding, ...]


@dataclass(frozen=True, slots=True)
class _Slot:
    """A rehearsal before it has its zone and number; `index` is that of its pattern or extra."""

    day: date
    start: time
    end: time
    kind: RehearsalKind
    index: int
    bells: str | None = None
    name: Text | None = None
    room: str | None = None
    led_by: tuple[str, ...] = ()
    instead_of: date | None = None
    make_up_for: date | None = None


def rehearsal_calendar(
    year: SchoolYear,
    patterns: Sequence[MeetingPattern],
    first: date,
    last: date,
    *,
    zone: ZoneInfo,
    extras: Sequence[ExtraRehearsal] = (),
    cancelled: Sequence[CancelledRehearsal] = (),
    away: Sequence[Absence] = (),
    extras_until: date | None = None,
) -> RehearsalCalendar:
    """Reckon all rehearsals from `first` to `last`, both included, in order and numbered.

    Patterns meet within the school year only, never on a closure, and in a period only on
    school days; an altered day whose bells lack the period is missed. A cancellation takes
    away that day's pattern rehearsals, not its extras, or the one that begins at its start; an
    absence takes away the pattern rehearsals that overlap it, a late closure the extras of its days. An extra `instead_of` a day takes away the first of that day's pattern rehearsals
    that is left. Extras may stand as late as
    `extras_until` (by default `last`). What gives rise to a finding is left out, save that
    of two clashing rehearsals the first one listed stays and a pattern goes before an extra.
    What is cancelled on a closure, or in a period that the day's bells lack, is no finding, nor
    is an extra instead of a day that is closed late: the day is lost anyway.
    A local time that daylight saving repeats is its first occurrence (RFC 5545 3.3.5); one
    that it skips is a finding.
    """
    findings = _missing_periods(year, patterns)
    missed: list[MissedDay] = []
    all_days = tuple(year_days(year))
    days = [day for day in all_days if first <= day.day <= last]
    slots = _pattern_slots(year, patterns, days, missed)
    idle = {day.day for day in days if day.closure} | {one.day for one in missed}
    slots = _without_cancelled(slots, cancelled, missed, findings, idle)
    closed = {day.day: day.closure for day in all_days if day.closure}
    added = _extra_slots(extras, first, max(last, extras_until or last), closed, findings)
    slots = _without_moved(slots, added, missed, findings)
    planned = _without_closed([*slots, *added], closed, missed)
    planned = _without_single(planned, cancelled, missed, findings, idle)
    dated = _dated(planned, zone, labels_of(all_days), findings)
    dated = _without_absent(dated, away, missed)
    if not dated:
        findings.append(CalendarFinding(CalendarFault.NO_REHEARSALS))
    numbered = tuple(replace(rehearsal, n=n, of=len(dated)) for n, rehearsal in enumerate(dated, 1))
    lost = tuple(_made_up(missed, numbered, added, findings))
    before = replace(year, closures=tuple(one for one in year.closures if not one.late))
    if before != year and any(one.fault in _OF_ANOTHER_DAY for one in findings):
        known = rehearsal_calendar(
            before, patterns, first, last,
            zone=zone, extras=extras, cancelled=cancelled, away=away, extras_until=extras_until,
        )  # fmt: skip
        findings = list(_told_of_late(findings, known.findings, closed))
    return RehearsalCalendar(numbered, lost, tuple(findings))


def _told_of_late(
    findings: Iterable[CalendarFinding],
    known: Sequence[CalendarFinding],
    closed: Mapping[date, Closure],
) -> Iterator[CalendarFinding]:
    """Mark what only late closures make a fault; leave it out if its day is closed itself."""
    for one in findings:
        if one.fault not in _OF_ANOTHER_DAY or one in known:
            yield one
        elif one.day not in closed:  # its label has moved to another day
            yield replace(one, late=True)


def _missing_periods(year: SchoolYear, patterns: Sequence[MeetingPattern]) -> list[CalendarFinding]:
    usual = year.bells.get(year.usual_bells, {})
    return [
        CalendarFinding(CalendarFault.NO_SUCH_PERIOD, index=index, detail=pattern.period)
        for index, pattern in enumerate(patterns)
        if pattern.period is not None and pattern.period not in usual
    ]


def _pattern_slots(
    year: SchoolYear,
    patterns: Sequence[MeetingPattern],
    days: Iterable[YearDay],
    missed: list[MissedDay],
) -> list[_Slot]:
    """Lay the patterns over the days; note in `missed` the days they would have met on."""
    slots: list[_Slot] = []
    for day in days:
        meeting = [
            (index, pattern) for index, pattern in enumerate(patterns) if _meets(pattern, day)
        ]
        if day.closure and meeting:
            missed.append(MissedDay(day.day, day.closure.name, "closure"))
        if day.closure:
            continue
        here = [slot for index, pattern in meeting if (slot := _slot(year, pattern, index, day))]
        if meeting and not here and day.bells:
            missed.append(MissedDay(day.day, day.bells.name, "bells"))
        slots += here
    return slots


def _meets(pattern: MeetingPattern, day: YearDay) -> bool:
    begun = pattern.first is None or pattern.first <= day.day
    over = pattern.last is not None and pattern.last < day.day
    return begun and not over and (day.weekday in pattern.weekdays or day.label in pattern.labels)


def _slot(year: SchoolYear, pattern: MeetingPattern, index: int, day: YearDay) -> _Slot | None:
    """Place one pattern on one day; None where the day's bells lack its period, or it has none."""
    other = day.bells if day.bells and day.bells.bells != year.usual_bells else None
    bells: str | None = None
    if pattern.period is None:
        if pattern.start is None or pattern.end is None:
            raise ValueError("a meeting pattern needs a period, or a start and an end")
        times, other = (pattern.start, pattern.end), None
    else:
        bells = other.bells if other else year.usual_bells
        rung = year.bells.get(bells or "", {}) if day.is_school else {}
        if pattern.period not in rung:
            return None
        times = rung[pattern.period]
    reason = other or day.make_up
    return _Slot(
        day.day,
        *times,
        RehearsalKind.ALTERED if reason else RehearsalKind.REGULAR,
        index,
        bells,
        reason.name if reason else None,
        pattern.room,
        pattern.led_by,
    )


def _without_cancelled(
    slots: Sequence[_Slot],
    cancelled: Sequence[CancelledRehearsal],
    missed: list[MissedDay],
    findings: list[CalendarFinding],
    idle: Container[date],
) -> list[_Slot]:
    """Take away the rehearsals of whole days; on an `idle` day there need be none."""
    left = list(slots)
    for index, one in enumerate(cancelled):
        if one.start is not None:
            continue
        if not any(slot.day == one.day for slot in left):
            if one.day not in idle:
                findings.append(CalendarFinding(CalendarFault.CANCELLED_NOTHING, one.day, index))
            continue
        left = [slot for slot in left if slot.day != one.day]
        missed.append(MissedDay(one.day, one.why, "cancelled"))
    return left


def _without_closed(
    slots: Sequence[_Slot], closed: Mapping[date, Closure], missed: list[MissedDay]
) -> list[_Slot]:
    """Take away the extras of days that were closed later."""
    left = [slot for slot in slots if slot.day not in closed]
    lost = {slot.day for slot in slots if slot.day in closed}
    known = {one.day for one in missed if one.cause == "closure"}
    missed += [MissedDay(day, closed[day].name, "closure") for day in sorted(lost - known)]
    return left


def _without_single(
    slots: Sequence[_Slot],
    cancelled: Sequence[CancelledRehearsal],
    missed: list[MissedDay],
    findings: list[CalendarFinding],
    idle: Container[date],
) -> list[_Slot]:
    """Take away the rehearsals that are cancelled by their start; where others are left that day, say which."""
    left = list(slots)
    for index, one in enumerate(cancelled):
        if one.start is None:
            continue
        meant = [slot for slot in left if (slot.day, slot.start) == (one.day, one.start)]
        if not meant:
            if one.day not in idle:
                fault = CalendarFault.CANCELLED_NOTHING
                clock = format_clock(one.start)
                findings.append(CalendarFinding(fault, one.day, index, f" at {clock}"))
            continue
        left = [slot for slot in left if slot not in meant]
        others = any(slot.day == one.day for slot in left)
        which = (meant[0].name or one.start) if others else None
        missed.append(MissedDay(one.day, one.why, "cancelled", which=which))
    return left


def _without_moved(
    slots: Sequence[_Slot],
    added: Iterable[_Slot],
    missed: list[MissedDay],
    findings: list[CalendarFinding],
) -> list[_Slot]:
    """Take away what extras stand instead of."""
    left = list(slots)
    for extra in added:
        day = extra.instead_of
        if day is None:
            continue
        there = [slot for slot in left if slot.day == day]
        if there:
            left.remove(min(there, key=lambda slot: slot.start))
            missed.append(MissedDay(day, None, "moved", moved_to=extra.day))
        else:
            findings.append(CalendarFinding(CalendarFault.INSTEAD_OF_NOTHING, day, extra.index))
    return left


def _made_up(
    missed: Iterable[MissedDay],
    held: Iterable[Rehearsal],
    added: Iterable[_Slot],
    findings: list[CalendarFinding],
) -> Iterator[MissedDay]:
    """Give the lost days in order, each with the day that makes up for it."""
    lost = {one.day for one in missed if one.cause != "moved"}
    findings += (
        CalendarFinding(CalendarFault.MAKES_UP_FOR_NOTHING, extra.make_up_for, extra.index)
        for extra in added
        if extra.make_up_for and extra.make_up_for not in lost
    )
    made_up = {one.make_up_for: one.day for one in held if one.make_up_for}
    moved = {one.instead_of: one.day for one in held if one.instead_of}
    for one in sorted(missed, key=lambda one: one.day):
        day = made_up.get(one.day) if one.cause != "moved" else None
        if one.cause == "closure":  # it was moved before the day was closed
            day = day or moved.get(one.day)
        yield replace(one, made_up=day) if day else one


def _extra_slots(
    extras: Sequence[ExtraRehearsal],
    first: date,
    until: date,
    closed: Mapping[date, Closure],
    findings: list[CalendarFinding],
) -> list[_Slot]:
    slots: list[_Slot] = []
    for index, extra in enumerate(extras):
        if not first <= extra.day <= until:
            findings.append(CalendarFinding(CalendarFault.EXTRA_OUTSIDE, extra.day, index))
        elif extra.day in closed and not closed[extra.day].late:
            findings.append(CalendarFinding(CalendarFault.EXTRA_ON_CLOSURE, extra.day, index))
        else:
            kind = RehearsalKind.EXTRA
            slots.append(
                _Slot(
                    extra.day,
                    extra.start,
                    extra.end,
                    kind,
                    index,
                    name=extra.name,
                    room=extra.room,
                    led_by=extra.led_by,
                    instead_of=extra.instead_of,
                    make_up_for=extra.make_up_for,
                )
            )
    return slots


def _dated(
    slots: Iterable[_Slot],
    zone: ZoneInfo,
    labels: Mapping[date, str],
    findings: list[CalendarFinding],
) -> list[Rehearsal]:
    """Give the slots their zone, leaving out those that cannot be held; in order of time.

    A pattern's fault is told once, on the first day it shows.
    """
    kept: dict[date, list[Rehearsal]] = {}
    told: dict[tuple[RehearsalKind, int, CalendarFault], CalendarFinding] = {}
    for slot in slots:
        rehearsal = _rehearsal(slot, zone, labels.get(slot.day))
        that_day = kept.setdefault(slot.day, [])
        finding = _time_fault(slot, zone) or _clash(rehearsal, that_day, slot)
        if finding:
            origin = (
                RehearsalKind.EXTRA if slot.kind is RehearsalKind.EXTRA else RehearsalKind.REGULAR
            )
            told.setdefault((origin, slot.index, finding.fault), finding)
        elif not any((one.start, one.end) == (rehearsal.start, rehearsal.end) for one in that_day):
            that_day.append(rehearsal)  # two patterns that name one meeting hold it once
    findings += told.values()
    return sorted(chain.from_iterable(kept.values()), key=lambda one: one.start.timestamp())


def _without_absent(
    rehearsals: Sequence[Rehearsal], away: Sequence[Absence], missed: list[MissedDay]
) -> list[Rehearsal]:
    left = []
    for one in rehearsals:
        absence = next((absence for absence in away if _overlap(one, absence)), None)
        if absence is None or one.kind is RehearsalKind.EXTRA:
            left.append(one)
        elif (day := MissedDay(one.day, absence.why, "event")) not in missed:
            missed.append(day)
    return left


def _rehearsal(slot: _Slot, zone: ZoneInfo, label: str | None) -> Rehearsal:
    return Rehearsal(
        start=datetime.combine(slot.day, slot.start, zone),
        end=datetime.combine(slot.day, slot.end, zone),
        n=0,
        of=0,
        kind=slot.kind,
        label=label,
        bells=slot.bells,
        name=slot.name,
        room=slot.room,
        led_by=slot.led_by,
        index=slot.index if slot.kind is RehearsalKind.EXTRA else None,
        instead_of=slot.instead_of,
        make_up_for=slot.make_up_for,
    )


def _time_fault(slot: _Slot, zone: ZoneInfo) -> CalendarFinding | None:
    index = slot.index if slot.kind is RehearsalKind.EXTRA else None
    if slot.end <= slot.start:
        return CalendarFinding(
            CalendarFault.ENDS_BEFORE_START, slot.day, index, f"{slot.end:%H:%M}"
        )
    for moment in (slot.start, slot.end):
        local = datetime.combine(slot.day, moment, zone)
        if local.astimezone(UTC).astimezone(zone).time() != moment:
            return CalendarFinding(CalendarFault.TIME_IN_GAP, slot.day, index, f"{moment:%H:%M}")
    return None


def _clash(new: Rehearsal, that_day: Iterable[Rehearsal], slot: _Slot) -> CalendarFinding | None:
    """Find an overlap; ends are open, so that one may begin as another ends."""
    is_extra = slot.kind is RehearsalKind.EXTRA
    for old in that_day:
        same = (old.start, old.end) == (new.start, new.end)
        if _overlap(old, new) and (is_extra or not same):
            fault = CalendarFault.EXTRA_CLASHES if is_extra else CalendarFault.PATTERNS_CLASH
            return CalendarFinding(fault, slot.day, slot.index)
    return None


def _overlap(one: Rehearsal | Absence, other: Rehearsal | Absence) -> bool:
    """Tell whether two times overlap, by what really passes: ends are open."""
    return (
        one.start.timestamp() < other.end.timestamp()
        and other.start.timestamp() < one.end.timestamp()
    )

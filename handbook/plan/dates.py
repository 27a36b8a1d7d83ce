"""From the school year's and the cycle's entries to an ensemble's dated rehearsals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from zoneinfo import ZoneInfo

from handbook.domain.meetings import CancelledRehearsal, ExtraRehearsal, MeetingPattern
from handbook.domain.rehearsals import (
    CalendarFault,
    CalendarFinding,
    RehearsalCalendar,
    rehearsal_calendar,
)
from handbook.plan.events_model import AwayRow
from handbook.plan.players import OfBand, Players
from handbook.plan.school_days import school_year
from handbook.problems import Address, Code, Problem, Severity
from handbook.records import dataclass
from handbook.schema.cycle import Cycle
from handbook.schema.handbook import Sourced
from handbook.schema.year import Year

END_BEFORE_START = Code(
    "end-before-start",
    "Something ends before it starts, or at the same time.",
    bad="- {id: p3, start: 10:50, end: 10:05}",
    good="- {id: p3, start: 10:05, end: 10:50}",
)
UNKNOWN_PERIOD = Code(
    "unknown-period",
    "An ensemble meets in a period that the ordinary bell schedule does not have.",
    "Times of an ordinary day come from the first schedule under `bells`.",
    bad="- {ensemble: lantern, weekdays: [Mon], period: third}",
    good="- {ensemble: lantern, weekdays: [Mon], period: p3}",
)
EXTRA_OUTSIDE_CYCLE = Code(
    "extra-outside-cycle",
    "An extra rehearsal lies outside its cycle.",
    bad="extra:\n  - {ensemble: lantern, date: 2026-12-15, start: 3:30 pm, end: 5 pm}",
    good="extra:\n  - {ensemble: lantern, date: 2026-12-08, start: 3:30 pm, end: 5 pm}",
)
EXTRA_ON_CLOSURE = Code(
    "extra-on-closure",
    "An extra rehearsal is on a day when school is closed.",
    "A closure that became known later, with a date under `told`, takes the extra rehearsals of its days away.",
    bad="closures:\n  - {name: Fall break, from: 2026-11-23, to: 2026-11-27}\nextra:\n  - {ensemble: lantern, date: 2026-11-24, start: 3:30 pm, end: 5 pm}",
    good="extra:\n  - {ensemble: lantern, date: 2026-12-01, start: 3:30 pm, end: 5 pm}",
)
REHEARSALS_OVERLAP = Code(
    "rehearsals-overlap",
    "Two rehearsals of one ensemble overlap.",
    bad="extra:\n  - {ensemble: lantern, date: 2026-11-04, start: 10:30, end: 11:30}   # it meets 10:05 to 10:50",
    good="extra:\n  - {ensemble: lantern, date: 2026-11-04, start: 3:30 pm, end: 5 pm}",
)
CANCELLED_NOTHING = Code(
    "cancelled-nothing",
    "A rehearsal is cancelled that there is not.",
    "On a day that is closed anyway the entry may stay. It is only a warning if the day's label moved to another day, since a closure became known later.",
    bad="cancelled:\n  - {ensemble: lantern, date: 2026-11-05, why: Field trip}   # it meets on Wednesdays",
    good="cancelled:\n  - {ensemble: lantern, date: 2026-11-04, why: Field trip}",
)
INSTEAD_OF_NOTHING = Code(
    "instead-of-nothing",
    "A rehearsal is moved that there is not.",
    "`instead_of` names the day of a class rehearsal, which then is not held; it keeps its place in what families are told of changes. For a day that is lost already, write `make_up_for`. If the day is closed later, by a closure with a date under `told`, the entry may stay; if the day's label moved to another day, it is only a warning.",
    bad="extra:\n  - {ensemble: lantern, date: 2026-11-07, start: 9 am, end: 10 am, instead_of: 2026-11-05}   # it meets on Wednesdays",
    good="extra:\n  - {ensemble: lantern, date: 2026-11-07, start: 9 am, end: 10 am, instead_of: 2026-11-04}",
)
MAKES_UP_FOR_NOTHING = Code(
    "makes-up-for-nothing",
    "A rehearsal makes up for one that is not lost.",
    "`make_up_for` names a day on which a rehearsal of the same ensemble is lost: by a closure, an event, other bells or under `cancelled`. It is only a warning if the day's label moved to another day, since a closure became known later.",
    bad="extra:\n  - {ensemble: lantern, date: 2026-11-07, start: 9 am, end: 10 am, make_up_for: 2026-11-04}   # class is held",
    good="cancelled:\n  - {ensemble: lantern, date: 2026-11-04, why: Fire drill}\nextra:\n  - {ensemble: lantern, date: 2026-11-07, start: 9 am, end: 10 am, make_up_for: 2026-11-04}",
)
TIME_SKIPPED_BY_CLOCK_CHANGE = Code(
    "time-skipped-by-clock-change",
    "A rehearsal is at a time that the clock skips.",
    "When daylight saving time begins, clocks are set forward in the night, and an hour does not exist.",
    bad="extra:\n  - {ensemble: lantern, date: 2027-03-14, start: 2:30 am, end: 4 am}",
    good="extra:\n  - {ensemble: lantern, date: 2027-03-14, start: 4 am, end: 5:30 am}",
)
NO_REHEARSALS = Code(
    "no-rehearsals",
    "An ensemble has no rehearsal in its cycle.",
    "Its meetings fall on no day of the cycle, or all of them on closures.",
    bad="starts: 2026-12-09\nends: 2026-12-10   # the ensemble meets on Mondays",
    good="starts: 2026-10-19\nends: 2026-12-10",
)


# What may hold for one group of a band, and is told only where it holds for all.
_OF_A_GROUP = frozenset({CANCELLED_NOTHING, INSTEAD_OF_NOTHING, MAKES_UP_FOR_NOTHING})
_MOST_NAMED = 6  # dates in a hint


@dataclass(frozen=True, slots=True)
class DatedCycle:
    """What is needed to date a cycle: `first` and `last` day, both included.

    `away` are the times at which the players it is dated for are at events.
    """

    cycle: Sourced[Cycle]
    year: Sourced[Year]
    first: date
    last: date
    zone: ZoneInfo
    language: str
    away: tuple[AwayRow, ...] = ()


def ensemble_calendar(
    dated: DatedCycle, players: Players
) -> tuple[RehearsalCalendar, tuple[Problem, ...]]:
    """Reckon the rehearsals of one ensemble or group, and say what its entries get wrong."""
    year, cycle = dated.year.item, dated.cycle.item
    meetings = _places(year.meetings, players)
    extras = _places(cycle.extra, players)
    cancelled = _places(cycle.cancelled, players)
    calendar = rehearsal_calendar(
        school_year(dated.year.item),
        meeting_patterns(year, players),
        dated.first,
        dated.last,
        zone=dated.zone,
        extras=[_extra(dated, place) for place in extras],
        cancelled=[
            CancelledRehearsal(one.date, one.why, one.start)
            for one in (cycle.cancelled[place] for place in cancelled)
        ],
        away=[one.absence for one in dated.away if one.whole],
    )
    places = {"meetings": meetings, "extra": extras, "cancelled": cancelled}
    problems = tuple(
        _problem(dated, players, finding, places, calendar) for finding in calendar.findings
    )
    return calendar, problems


def meeting_patterns(year: Year, players: Players) -> list[MeetingPattern]:
    """Give the patterns by which a band or group meets in a year, in the order they are written."""
    return [_pattern(year, place) for place in _places(year.meetings, players)]


def _places(entries: Sequence[OfBand], players: Players) -> list[int]:
    return [place for place, entry in enumerate(entries) if players.named_by(entry)]


def told_once(cycle: Cycle, found: Sequence[tuple[Problem, ...]]) -> tuple[Problem, ...]:
    """Tell once what is wrong alike for several groups of a band.

    That a rehearsal of the whole band is cancelled, moved or made up for which there is not, is
    told only if no group has one that day.
    """
    places = [{(one.code, one.address) for one in problems} for problems in found]
    told = {
        (one.code, one.address): one
        for problems in found
        for one in problems
        if one.code not in _OF_A_GROUP
        or _names_group(cycle, one.address)
        or all((one.code, one.address) in here for here in places)
    }
    return tuple(told.values())


def _names_group(cycle: Cycle, address: Address) -> bool:
    """Whether an entry under `cancelled` or `extra` is for one group alone."""
    entries: Sequence[OfBand] = cycle.cancelled if address[1] == "cancelled" else cycle.extra
    return entries[int(address[2])].group is not None


def _pattern(year: Year, place: int) -> MeetingPattern:
    meeting = year.meetings[place]
    return MeetingPattern(
        weekdays=frozenset(meeting.weekdays),
        labels=frozenset(meeting.labels),
        period=meeting.period,
        start=meeting.start,
        end=meeting.end,
        first=meeting.from_,
        last=meeting.to,
        room=meeting.room,
        led_by=meeting.led_by,
    )


def _extra(dated: DatedCycle, place: int) -> ExtraRehearsal:
    extra = dated.cycle.item.extra[place]
    return ExtraRehearsal(
        extra.date,
        extra.start,
        extra.end,
        extra.name,
        extra.room,
        extra.led_by,
        extra.instead_of,
        extra.make_up_for,
    )


# For each fault: the problem's code, its sentence, what to do, and where the entry stands.
_TELL: dict[CalendarFault, tuple[str, str, str, str]] = {
    CalendarFault.EXTRA_ON_CLOSURE: (
        EXTRA_ON_CLOSURE,
        "this extra rehearsal falls on {day}, when school is closed",
        "choose a school day, or say under told of the closure when it became known",
        "extra",
    ),
    CalendarFault.EXTRA_OUTSIDE: (
        EXTRA_OUTSIDE_CYCLE,
        "this extra rehearsal falls on {day}, outside the cycle ({first} to {last})",
        "choose a date within the cycle, which ends for a band with the last concert it plays at",
        "extra",
    ),
    CalendarFault.EXTRA_CLASHES: (
        REHEARSALS_OVERLAP,
        "this extra rehearsal overlaps another rehearsal of the ensemble on {day}",
        "change its times, or cancel the other one",
        "extra",
    ),
    CalendarFault.CANCELLED_NOTHING: (
        CANCELLED_NOTHING,
        "there is no rehearsal of this ensemble on {day}{detail} to cancel",
        "check the date; the dates that are held are listed by handbook plan",
        "cancelled",
    ),
    CalendarFault.INSTEAD_OF_NOTHING: (
        INSTEAD_OF_NOTHING,
        "there is no class rehearsal of `{ensemble}` on {day} to be moved",
        "",
        "extra",
    ),
    CalendarFault.MAKES_UP_FOR_NOTHING: (
        MAKES_UP_FOR_NOTHING,
        "no rehearsal of `{ensemble}` is lost on {day}",
        "",
        "extra",
    ),
    CalendarFault.NO_SUCH_PERIOD: (
        UNKNOWN_PERIOD,
        "the ordinary bell schedule has no period `{detail}`",
        "use a period of the first schedule under bells",
        "meetings",
    ),
    CalendarFault.PATTERNS_CLASH: (
        REHEARSALS_OVERLAP,
        "two meetings of this ensemble overlap on {day}",
        "change the times or days of one of them",
        "meetings",
    ),
    CalendarFault.ENDS_BEFORE_START: (
        END_BEFORE_START,
        "the rehearsal on {day} ends at {detail}, no later than it starts",
        "check am and pm",
        "extra",
    ),
    CalendarFault.TIME_IN_GAP: (
        TIME_SKIPPED_BY_CLOCK_CHANGE,
        "{detail} on {day} does not exist: clocks are set forward over it that night",
        "choose a time before or after the change",
        "extra",
    ),
    CalendarFault.NO_REHEARSALS: (
        NO_REHEARSALS,
        "`{ensemble}` has no rehearsal from {first} to {last}",
        "give it meetings in the year's file, or take it out of the cycle's ensembles",
        "",
    ),
}


# What to do where only a late closure makes it a fault.
_LATE = {
    CalendarFault.CANCELLED_NOTHING: "take it out, or cancel the day that the class moved to",
    CalendarFault.INSTEAD_OF_NOTHING: "this one is held all the same: take it out, or name the day that the class moved to",
    CalendarFault.MAKES_UP_FOR_NOTHING: "this one is held all the same: take it out if it is not needed",
}
_FIELD_AT_FAULT = {
    CalendarFault.NO_SUCH_PERIOD: "period",
    CalendarFault.INSTEAD_OF_NOTHING: "instead_of",
    CalendarFault.MAKES_UP_FOR_NOTHING: "make_up_for",
}


def _problem(
    dated: DatedCycle,
    players: Players,
    finding: CalendarFinding,
    places: dict[str, list[int]],
    calendar: RehearsalCalendar,
) -> Problem:
    code, sentence, hint, where = _TELL[finding.fault]
    if finding.late:
        sentence += ", since the day labels moved on after a closure"
        hint = _LATE[finding.fault]
    return Problem(
        code=code,
        message=sentence.format(
            day=f"{finding.day:%a %Y-%m-%d}" if finding.day else "",
            detail=finding.detail,
            ensemble=players.id,
            first=dated.first.isoformat(),
            last=dated.last.isoformat(),
        ),
        address=_address(dated, players, finding, where, places),
        hint=hint or _of_held_and_lost(dated, finding, calendar),
        severity=Severity.WARNING if finding.late else Severity.ERROR,
    )


def _of_held_and_lost(
    dated: DatedCycle, finding: CalendarFinding, calendar: RehearsalCalendar
) -> str:
    """Name the dates that may have been meant by `instead_of` or `make_up_for`."""
    day, lost = finding.day, [one for one in calendar.missed if one.cause != "moved"]
    held = [one.day for one in calendar.rehearsals if one.index is None]
    if finding.fault is CalendarFault.INSTEAD_OF_NOTHING:
        if why := next((one.reason(dated.language) for one in lost if one.day == day), ""):
            return f"it is lost already ({why}): write `make_up_for` in place of `instead_of`"
        near = sorted(held, key=lambda one: abs((one - (day or one)).days))[:_MOST_NAMED]
        return f"class rehearsals near it are on {_dates(near)}" if near else ""
    if day in held:
        return "class is held that day: to move it here, write `instead_of`"
    named = [f"{_dates([one.day])} ({one.reason(dated.language)})" for one in lost[:_MOST_NAMED]]
    more = f" and {len(lost) - _MOST_NAMED} more" if len(lost) > _MOST_NAMED else ""
    lost_days = ", ".join(named) + more
    return f"lost are {lost_days}" if named else "none of this cycle is lost: leave it out"


def _dates(days: Iterable[date]) -> str:
    return ", ".join(f"{day:%a %Y-%m-%d}" for day in sorted(days))


def _address(
    dated: DatedCycle,
    players: Players,
    finding: CalendarFinding,
    where: str,
    places: dict[str, list[int]],
) -> Address:
    if not where:
        return (dated.cycle.file, "ensembles", dated.cycle.item.ensembles.index(players.band.id))
    if finding.index is None:  # a fault that a pattern has too, found in the year's meetings
        return (dated.year.file, "meetings", *places["meetings"][:1])
    file = dated.year.file if where == "meetings" else dated.cycle.file
    last = _FIELD_AT_FAULT.get(finding.fault, "date" if where != "meetings" else "")
    return (file, where, places[where][finding.index], *([last] if last else []))

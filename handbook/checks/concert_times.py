"""Times of concert day that leave too few minutes, or are somebody else's."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime, time, timedelta

from handbook.checks.check import check, finding
from handbook.checks.concert_traversal import concerts, group_name, groups
from handbook.domain.call_times import StatedTime, mark_after, mark_before
from handbook.domain.run_of_show import shown
from handbook.domain.values.clock import format_clock
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, Plan
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.loads import CrewRole, CrewTask
from handbook.source.names import listed

_NIGHT_ENDS = time(4)
_CLOCK_IN_TEXT = re.compile(r"\b(1[0-2]|0?[1-9])(?::([0-5]\d))?\s?([ap])\.?m\b", re.IGNORECASE)


@check
def call_too_late(plan: Plan) -> Iterator[Problem]:
    """The time at which a group must be ready leaves too few minutes for the steps after it.

    That time stands under `call`. The steps before the first note are the ones under
    `allowances` and `calls`: setting up, unpacking, warm-up, the walk to the stage, sitting
    in place.

    Bad:

        allowances: {warm_up: 20, walk: 5, in_place: 5}
        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 6:45 pm}   # plays at 7 pm

    Good:

        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 6:30 pm}
    """
    for group in groups(plan):
        late = group.late_call
        if late:
            yield finding(
                f"{group_name(plan, group)}, {_ready(group)} at {format_clock(late.stated.time())}, has {_minutes(late)} too few: its first step begins at {format_clock(mark_before(late.reckoned, 1).time())}",
                group.call_address,
                "state an earlier time, or shorten its steps",
                notes=(Note("its steps and its turn are here", group.address),),
            )
        for again in group.again:
            late = again.late_call
            if late:
                yield finding(
                    f"{group_name(plan, group)}, ready in the room again at {format_clock(late.stated.time())}, has {_minutes(late)} too few: it begins to unpack at {format_clock(mark_before(late.reckoned, 1).time())}",
                    again.address,
                    "state an earlier time, or shorten its steps",
                    notes=(Note("its steps are here", group.address),),
                )


@check
def first_note_too_early(plan: Plan) -> Iterator[Problem]:
    """A turn with an hour of its own is to begin before what comes before it is over.

    What comes before are the turns above it, with the changeover after them, and its own
    pauses. Nothing begins before the downbeat.

    Bad:

        downbeat: 7:00 pm
        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
          - {ensemble: lantern, pieces: [button-comets], first_note: 7:01 pm}

    Good:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
          - {ensemble: lantern, pieces: [button-comets], first_note: 7:10 pm}
    """
    for _, concert in concerts(plan):
        for turn in concert.day.late_turns:
            yield finding(
                f"this turn is to begin at {_clock(turn.stated)}, but what comes before it is over only at {_clock(mark_after(turn.start, 1))}",
                turn.address,
                "state a later hour, shorten what comes before, or put the turns into the order of their hours",
            )


@check
def pick_up_too_early(plan: Plan) -> Iterator[Problem]:
    """A stated pick-up is before the players can be there.

    Bad:

        allowances: {walk_back: 5, pack: 15, to_door: 5}
        pick_up: 8:00 pm   # the last note sounds at 7:50 pm

    Good:

        pick_up: 8:15 pm
    """
    told = set()
    early_ones = [(one.early_pick_up, one) for one in groups(plan) if one.early_pick_up]
    for early, group in sorted(early_ones, key=lambda one: -one[0].shortfall):
        if group.pick_up_address not in told:
            told.add(group.pick_up_address)
            yield finding(
                f"the pick-up at {format_clock(early.stated.time())} is {_minutes(early)} too early for {group_name(plan, group)}, who can be there at {format_clock(mark_after(early.reckoned, 1).time())}",
                group.pick_up_address,
                "state a later pick-up, or leave it out to have it reckoned",
                notes=(Note("its steps and its turn are here", group.address),),
            )


@check
def in_place_before_stage_free(plan: Plan) -> Iterator[Problem]:
    """A band is to be in place before the stage is reset and free for it.

    The stage is reset in the changeover; in a pause without one, for as many minutes as
    `changeover` says. Until then the band cannot sit in place, so its day is reckoned from
    the moment the stage is free, and it has fewer minutes there than the ones stated. That
    is told where those minutes stand in the band's own entry under `calls`, or where the
    pause would be long enough if the reset came first in it.

    Bad:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - ensemble: harbor
            before: [{what: remarks, minutes: 3}, {what: changeover, minutes: 3}]
            pieces: [tweed-kites]
        allowances: {walk: 5, in_place: 3}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - ensemble: harbor
            before: [{what: changeover, minutes: 3}, {what: remarks, minutes: 3}]
            pieces: [tweed-kites]
        allowances: {walk: 5, in_place: 3}
    """
    for _, concert in concerts(plan):
        short: dict[Address, list[GroupDay]] = {}
        for group in concert.day.groups:
            if group.short_in_place > 0:
                short.setdefault(group.in_place_address, []).append(group)
        for address, late in short.items():
            yield _short_in_place(plan, address, late)


def _short_in_place(plan: Plan, address: Address, late: list[GroupDay]) -> Problem:
    first = late[0]
    stated = first.times.group.allowances.in_place
    others = sorted({group_name(plan, group) for group in late[1:] if group.section is None})
    more = f"; nor can {listed(others, 'or')}" if others else ""
    free = first.times.stage_free or first.times.first_note
    return finding(
        f"{group_name(plan, first)} cannot be in place {_count(stated)} before its first note at {_clock(shown(first.times.first_note))}: the stage is free for it at {_clock(shown(free))}{more}",
        address,
        "put remarks after the changeover, make the pause longer, or state fewer minutes for that band under calls",
        Severity.WARNING,
        (Note("its turn or its entry is here", first.address),),
    )


@check
def earlier_step_too_late(plan: Plan) -> Iterator[Problem]:
    """A step before the warm-up is not over when the next step or the warm-up begins.

    Bad:

        downbeat: 7:00 pm
        allowances: {warm_up: 20, walk: 5, in_place: 5}   # warm-up from 6:30 pm
        before:
          - {name: Photo, minutes: 15, starts: 6:20 pm}

    Good:

        before:
          - {name: Photo, minutes: 15, starts: 6:15 pm}
    """
    told = set()
    for group in sorted(groups(plan), key=lambda group: group.section is not None):
        for step in group.beforehand:
            band = group.id.partition("/")[0]
            if step.late and (id(step.item), band) not in told:
                told.add((id(step.item), band))
                yield finding(
                    f"“{step.item.name.read(plan.languages[0])}” of {group_name(plan, group)} ends at {_clock(mark_after(step.end, 1))}, but what follows it begins at {_clock(mark_before(step.free, 1))}",
                    (*step.address, "starts"),
                    "state an earlier time, or leave it out to have it reckoned",
                    notes=(Note("its turn or its entry is here", group.address),),
                )


@check
def later_step_too_early(plan: Plan) -> Iterator[Problem]:
    """A step after the performance begins before its players are free for it.

    They must have left the stage, and ended the step before it.

    Bad:

        downbeat: 1:00 pm   # the last note sounds at 1:25 pm
        allowances: {walk_back: 5}
        after:
          - {name: Sight-reading, minutes: 30, starts: 1:20 pm}

    Good:

        after:
          - {name: Sight-reading, minutes: 30, starts: 1:40 pm}
    """
    told = set()
    for group in sorted(groups(plan), key=lambda group: group.section is not None):
        for step in group.afterward:
            band = group.id.partition("/")[0]
            if step.late and (id(step.item), band) not in told:
                told.add((id(step.item), band))
                yield finding(
                    f"{group_name(plan, group)} is not free for “{step.item.name.read(plan.languages[0])}” at {_clock(step.start)}, but at {_clock(mark_after(step.free, 1))}",
                    (*step.address, "starts"),
                    "state a later time, or leave it out to have it follow at once",
                    notes=(Note("its turn or its entry is here", group.address),),
                )


@check
def rain_decided_after_call(plan: Plan) -> Iterator[Problem]:
    """What holds in bad weather is decided when players are under way already.

    Bad:

        rain: {venue: hall, decided: 6:40 pm}
        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 6:30 pm}

    Good:

        rain: {venue: hall, decided: 2 pm}
        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 6:30 pm}
    """
    for _, concert in concerts(plan):
        decided = concert.rain.decided if concert.rain else None
        first = min(
            (one for one in concert.day.groups if one.ensemble and one.report),
            key=lambda one: one.report or concert.downbeat,
            default=None,
        )
        if decided and first and first.report and first.report < decided <= concert.downbeat:
            where = "at the bus" if first.ride is not None else "ready in the room"
            yield finding(
                f"this is decided at {_clock(decided)}, but {group_name(plan, first)} must be {where} at {_clock(first.report)}",
                (*concert.address, "rain", "decided"),
                "decide before families set out",
                Severity.WARNING,
                (Note("its turn or its entry is here", first.call_address),),
            )


@check
def bus_leaves_too_early(plan: Plan) -> Iterator[Problem]:
    """Buses leave for school before all their players are in them.

    Their players have played, ended every step after it, packed and loaded.

    Bad:

        after:
          - {name: Sight-reading, minutes: 30}   # until 2:05 pm
        rides:
          - {ensembles: [harbor], leaves: 2:00 pm, buses: [{id: bus-1, seats: 52}]}

    Good:

        rides:
          - {ensembles: [harbor], leaves: 2:30 pm, buses: [{id: bus-1, seats: 52}]}
    """
    for _, concert in concerts(plan):
        for ride in concert.day.rides:
            if ride.early:
                last = next((one for one in concert.day.groups if one.id == ride.last), None)
                name = group_name(plan, last) if last else "all who listen"
                at = last.address if last else (*concert.address, "program")
                yield finding(
                    f"the buses leave at {_clock(ride.early.stated)}, {_minutes(ride.early)} before {name} can be in them ({_clock(mark_after(ride.early.reckoned, 1))})",
                    (*ride.address, "leaves"),
                    "let them leave later, or leave the time out to have it reckoned",
                    notes=(
                        Note(
                            "its turn or its entry is here" if last else "the program is here", at
                        ),
                    ),
                )


@check
def class_while_away(plan: Plan) -> Iterator[Problem]:
    """A class rehearsal is published while its players are away at the concert.

    Nobody would be there, or only a part. The concert's page tells students that they miss
    it; cancel it if nobody is left to rehearse.

    Bad:

        date: Thu 2026-12-10   # harbor rehearses in period 3, from 10:05 am
        program:
          - {ensemble: harbor, pieces: [tweed-kites], call: 9:30 am}

    Good:

        cancelled:
          - {ensemble: harbor, date: Thu 2026-12-10, why: Away at the festival}
    """
    for cycle, concert in concerts(plan):
        for missed in concert.day.missed:
            say = plan.languages[0]
            own = missed.ensemble == missed.because
            whose = (
                "its players"
                if own
                else f"{_so_many(missed.shared)}players it shares with {missed.because.name.read(say)}"
            )
            yield finding(
                f"{missed.ensemble.name.read(say)} rehearses from {_clock(missed.start)} to {_clock(missed.end)}, while {whose} are away from {_clock(mark_before(missed.away[0], 1))} to {_clock(mark_after(missed.away[1], 1))}",
                missed.address,
                f"if nobody is left to rehearse, cancel it under `cancelled` in {cycle}'s cycle file",
                Severity.WARNING,
                (Note("the concert's day is here", (*concert.address, "date")),),
            )


def _so_many(number: int | None) -> str:
    return "" if number is None else f"{number} "


@check
def task_outside_crew_time(plan: Plan) -> Iterator[Problem]:
    """A task of the crew is due before its people are there, or after they have left.

    A task's time stands under `by`; a clock time in a task's own words is compared too, and
    is only a warning.

    Bad:

        calls:
          - {role: truck-crew, call: 5:30 pm}
        crew:
          - id: truck-crew
            name: Truck crew
            tasks: [{what: Load the truck at school, by: 5:00 pm}]

    Good:

        calls:
          - {role: truck-crew, call: 4:30 pm}
    """
    for _, concert in concerts(plan):
        for place, role in enumerate(concert.item.crew):
            spans = [crew_span(group) for group in concert.day.groups if group.role == role]
            if not spans:
                continue
            span = (min(start for start, _ in spans), max(end for _, end in spans))
            for number, task in enumerate(role.tasks):
                words = task.what.read(plan.languages[0])
                for clock in (task.by,) if task.by else _clocks_in(words):
                    due = _on_day(concert, clock)
                    if not span[0] <= due <= span[1]:
                        at = (*concert.address, "crew", place, "tasks", number)
                        yield _outside(plan, role, task, due, span, at)


def crew_span(group: GroupDay) -> tuple[datetime, datetime]:
    """Give the time a role of the crew is there: as stated, else as reckoned."""
    return group.call or group.times.duties, group.pick_up or group.times.packed


def _outside(
    plan: Plan,
    role: CrewRole,
    task: CrewTask,
    due: datetime,
    span: tuple[datetime, datetime],
    at: Address,
) -> Problem:
    name = role.name.read(plan.languages[0])
    return finding(
        f"this task names {_clock(due)}, but {name} is there from {_clock(mark_before(span[0], 1))} to {_clock(mark_after(span[1], 1))}",
        (*at, "by") if task.by else at,
        "let its people be ready earlier or stay longer under `calls`, or correct the task's time",
        Severity.ERROR if task.by else Severity.WARNING,
    )


def _clocks_in(words: str) -> Iterator[time]:
    """Find the clock times in a text: `by 5:00 pm`, `at 6 p.m.`."""
    for hour, minute, half in _CLOCK_IN_TEXT.findall(words):
        yield time(int(hour) % 12 + (12 if half.lower() == "p" else 0), int(minute or 0))


def _on_day(concert: ConcertPlan, clock: time) -> datetime:
    """Put a task's time on the concert's day, or on the night after it."""
    night = timedelta(days=1) if clock < _NIGHT_ENDS <= concert.downbeat.time() else timedelta()
    return datetime.combine(concert.item.date + night, clock, concert.downbeat.tzinfo)


def _ready(group: GroupDay) -> str:
    return "ready" if group.role else "ready in the room"


def _clock(moment: datetime) -> str:
    return format_clock(moment.time())


def _count(minutes: int) -> str:
    return "1 minute" if minutes == 1 else f"{minutes} minutes"


def _minutes(stated: StatedTime) -> str:
    return _count(stated.shortfall)

"""The director's logs beside the rehearsals and the music that they are about."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, time
from fractions import Fraction

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import day
from handbook.domain.day_kinds import DayKind
from handbook.domain.values.clock import format_clock
from handbook.plan.model import CyclePlan, PassageRow, PieceRow, Plan, RehearsalRow
from handbook.plan.steering import PassageKey
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import CycleContent, Handbook, Sourced
from handbook.schema.log import Log, Reached
from handbook.schema.music import Passage
from handbook.source.names import listed

_LEAST_SHARE, _MOST_SHARE = Fraction(1, 4), Fraction(5, 4)  # of the goal: our own choice


@check
def reached_counts_other_note(handbook: Handbook) -> Iterator[Problem]:
    """A log counts another note than the passage's goal does.

    The tempo is turned into beats of the goal, so that `eighth = 144` is the same as
    `quarter = 72`. Most often the wrong note was written.

    Bad:

        reached:
          - {passage: opening, tempo: dotted quarter = 72}   # its goal counts the quarter

    Good:

        reached:
          - {passage: opening, tempo: quarter = 72}
    """
    for place, log, entry, at, passage in _reached(handbook):
        if passage.goal.beat == entry.tempo.beat:
            continue
        yield finding(
            f"this counts the {entry.tempo.beat.name}, but the goal of `{passage.id}` counts the {passage.goal.beat.name}",
            (log.file, "reached", place, "tempo"),
            f"write `{passage.goal.beat.name} = …`, if the beat is meant",
            Severity.WARNING,
            (Note("the passage is here", at),),
        )


@check
def reached_far_from_goal(handbook: Handbook) -> Iterator[Problem]:
    """A tempo in a log is far from the passage's goal, so that a digit may be wrong.

    All tempos of the rehearsals ahead follow from it. Told are tempos more than a quarter
    above the goal, and those of less than a quarter of it: our own choice.

    Bad:

        reached:
          - {passage: opening, tempo: quarter = 172}   # its goal is 96

    Good:

        reached:
          - {passage: opening, tempo: quarter = 72}
    """
    for place, log, entry, at, passage in _reached(handbook):
        share = entry.tempo.quarters_per_minute / passage.goal.quarters_per_minute
        if not _LEAST_SHARE <= share <= _MOST_SHARE:
            yield finding(
                f"{entry.tempo} is far {'above' if share > 1 else 'below'} the goal of `{passage.id}`, {passage.goal}",
                (log.file, "reached", place, "tempo"),
                "check the number; if it is right, leave it",
                Severity.WARNING,
                (Note("the passage is here", at),),
            )


def _reached(handbook: Handbook) -> Iterator[tuple[int, Sourced[Log], Reached, Address, Passage]]:
    """Give each tempo that was reached, with its place in its log, and the passage with its address; no free ones."""
    passages = {
        (content.id, *key): found
        for content in handbook.cycles
        if content.logs
        for key, found in _passages(content)
    }
    for content, log, names in traversal.logs(handbook):
        for place, entry in enumerate(log.item.reached):
            for key in names.get(entry.passage, ()):
                at, passage = passages[content.id, *key]
                if not passage.goal.free:
                    yield place, log, entry, at, passage


@check
def reached_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """Two entries say how far one passage came in one rehearsal.

    A passage is named once for each rehearsal, under `reached` or under `not_done`, in all
    logs together.

    Bad:

        reached:
          - {passage: opening, tempo: quarter = 66}
        not_done: [opening]

    Good:

        reached:
          - {passage: opening, tempo: quarter = 66}
    """
    seen: dict[tuple[str, str, date, PassageKey], list[tuple[Log, Address]]] = {}
    for content, log, names in traversal.logs(handbook):
        for address, name in traversal.passages_in_log(log):
            for key in names.get(name, ()):
                before = seen.setdefault((content.id, log.item.ensemble, log.item.date, key), [])
                first = next((at for other, at in before if _of_one(other, log.item)), None)
                before.append((log.item, address))
                if first is not None:
                    yield finding(
                        f"how far `{name}` came on {day(log.item.date)} is said already",
                        address,
                        "remove one of the two",
                        notes=(Note("it is said here too", first),),
                    )


def _of_one(one: Log, other: Log) -> bool:
    """Whether two logs of one band and day may be about the same rehearsal."""
    starts: tuple[time | None, ...] = (one.start, other.start)
    groups = (one.group, other.group)
    return all(None in pair or len(set(pair)) == 1 for pair in (starts, groups))


@check
def log_without_rehearsal(plan: Plan) -> Iterator[Problem]:
    """A log is for a day, or a start, without a rehearsal.

    What it says changes nothing.

    Bad:

        date: 2026-11-08   # a Sunday
        ensemble: lantern

    Good:

        date: 2026-11-09
        ensemble: lantern
    """
    for cycle in plan.cycles:
        held = {log.file for row in _rows(cycle) for log in row.logs}
        for log in cycle.logs:
            if log.file in held:
                continue
            starts = _starts(cycle, log.item)
            whose = f"`{log.item.ensemble}`"
            if log.item.start and starts:
                yield finding(
                    f"no rehearsal of {whose} began at {format_clock(log.item.start)} on {day(log.item.date)}",
                    (log.file, "start"),
                    f"write {listed(map(format_clock, starts), 'or')}, or leave the start out",
                    Severity.WARNING,
                )
            else:
                yield finding(
                    f"there is no rehearsal of {whose} on {day(log.item.date)}, so this changes nothing",
                    (log.file, "date"),
                    "check the date; the dates that are held are listed by handbook plan",
                    Severity.WARNING,
                )


@check
def log_for_two_rehearsals(plan: Plan) -> Iterator[Problem]:
    """A log does not say which of several rehearsals of a day it is about.

    Bad:

        date: 2026-12-07   # class at 10:05, and an extra rehearsal at 3:30 pm
        ensemble: lantern

    Good:

        date: 2026-12-07
        ensemble: lantern
        start: 3:30 pm
    """
    for cycle in plan.cycles:
        told: set[str] = set()
        for ensemble in cycle.ensembles:
            held: dict[str, list[RehearsalRow]] = {}
            for row in ensemble.rehearsals:
                for log in row.logs:
                    held.setdefault(log.file, []).append(row)
            for file, rows in held.items():
                if len(rows) > 1 and file not in told:
                    told.add(file)
                    starts = [format_clock(row.rehearsal.start.time()) for row in rows]
                    yield finding(
                        f"`{ensemble.item.id}` has {len(rows)} rehearsals on {day(rows[0].rehearsal.day)}",
                        (file, "date"),
                        f"say which one this is about: {listed((f'start: {one}' for one in starts), 'or')}",
                        Severity.WARNING,
                    )


@check
def not_done_unplanned(plan: Plan) -> Iterator[Problem]:
    """A log says that a passage was not played, on a day on which none was planned.

    Only passages that were planned for the rehearsal belong under `not_done`. Most often the
    date or the passage is a slip.

    Bad:

        not_done: [opening]   # that day was a sectional on `chase`

    Good:

        not_done: [chase]
    """
    for cycle in plan.cycles:
        planned: set[Address] = set()
        told: dict[Address, str] = {}
        for row, piece, passage, address in _not_done(cycle):
            if _is_planned(row, (piece.item.id, passage.item.id), passage):
                planned.add(address)
            told[address] = f"`{passage.item.id}` was not planned for {day(row.rehearsal.day)}"
        for address, sentence in told.items():
            if address not in planned:
                yield finding(
                    f"{sentence}, so it cannot have been left out",
                    address,
                    "check the date and the passage, or take it out; handbook plan lists what was planned",
                    Severity.WARNING,
                )


def _not_done(cycle: CyclePlan) -> Iterator[tuple[RehearsalRow, PieceRow, PassageRow, Address]]:
    """Give each passage that a log says was not played, of each rehearsal that the log is about."""
    for ensemble in cycle.ensembles:
        for piece in ensemble.pieces:
            for passage in piece.passages:
                for one in passage.reached:
                    if one.at.tempo is None:
                        yield ensemble.rehearsals[one.at.place], piece, passage, one.address


def _is_planned(row: RehearsalRow, key: PassageKey, passage: PassageRow) -> bool:
    """Whether a rehearsal was to have a passage; a section without passages chooses its own."""
    if any(visit.place == row.place for visit in passage.visits):
        return True
    if row.day_plan.kind is not DayKind.SECTIONAL:
        return False
    named = [[one.key for one in section.passages] for section in row.day_plan.sections]
    return not named or any(not keys or key in keys for keys in named)


@check
def over_longer_than_rehearsal(plan: Plan) -> Iterator[Problem]:
    """A rehearsal is said to have run over by more minutes than it lasts.

    `over` is only the minutes after its end.

    Bad:

        over: 50   # it lasts 45 minutes

    Good:

        over: 5
    """
    for cycle in plan.cycles:
        lasted: dict[str, tuple[int, int]] = {}
        for row in _rows(cycle):
            for log in row.logs:
                longest = max(lasted.get(log.file, (0, 0))[1], row.rehearsal.minutes)
                lasted[log.file] = log.item.over, longest
        for file, (over, minutes) in lasted.items():
            if over > minutes:
                yield finding(
                    f"{over} minutes over is more than the rehearsal itself, which lasts {minutes}",
                    (file, "over"),
                    "write only the minutes after its end",
                    Severity.WARNING,
                )


def _rows(cycle: CyclePlan) -> Iterator[RehearsalRow]:
    for ensemble in cycle.ensembles:
        yield from ensemble.rehearsals


def _starts(cycle: CyclePlan, log: Log) -> Sequence[time]:
    """Give when the rehearsals of a log's band begin on its day."""
    return sorted(
        {
            row.rehearsal.start.time()
            for ensemble in cycle.of_band(log.ensemble)
            for row in ensemble.rehearsals
            if row.rehearsal.day == log.date
        }
    )


def _passages(content: CycleContent) -> Iterator[tuple[PassageKey, tuple[Address, Passage]]]:
    for address, piece in traversal.pieces(content):
        for place, passage in enumerate(piece.passages):
            yield (piece.id, passage.id), ((*address, "passages", place), passage)

"""Rehearsals that cannot both be held, and passages that never are; all of it from the plan."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import combinations

from handbook.checks.check import check, finding
from handbook.checks.wording import first_few
from handbook.plan.model import EnsemblePlan, Plan, RehearsalRow
from handbook.plan.shared_players import shared_counts
from handbook.problems import Note, Problem, Severity

Pair = tuple[EnsemblePlan, EnsemblePlan, list[tuple[RehearsalRow, RehearsalRow]]]


@check
def room_used_twice(plan: Plan) -> Iterator[Problem]:
    """Two ensembles rehearse in one room at the same time.

    One of them would stand before a closed door. The room is the ensemble's own, or that
    of an extra rehearsal; the first date on which it happens is named.

    Bad:

        meetings:
          - {ensemble: lantern, weekdays: [Mon], period: p3}
          - {ensemble: harbor, weekdays: [Mon], period: p3}

    Good:

        meetings:
          - {ensemble: lantern, weekdays: [Mon], period: p3}
          - {ensemble: harbor, weekdays: [Mon], period: p4}
    """
    for first, second, clashes in _at_once(plan):
        shared = [
            (one, other)
            for one, other in clashes
            if one.room and one.room == other.room and not _in_sections(one, other)
        ]
        if shared:
            one, _ = shared[0]
            yield finding(
                f"`{first.item.id}` and `{second.item.id}` are both in `{one.room.id if one.room else ''}` "
                f"on {one.rehearsal.day:%a %Y-%m-%d}{_and_more(shared)}",
                second.address,
                "give one of them another room, period or day",
                notes=(Note(f"`{first.item.id}` is here", first.address),),
            )


def _in_sections(*rows: RehearsalRow) -> bool:
    """Whether one of them is in its sections' rooms, which section-room-taken is about."""
    return any(row.day_plan.sections for row in rows)


@check
def players_wanted_twice(plan: Plan) -> Iterator[Problem]:
    """Two ensembles that share players rehearse at the same time.

    The players they share cannot be in both. Ensembles share players if one of them
    says so under `shares_players_with` in program.yaml.

    Bad:

        - {ensemble: lantern, weekdays: [Mon], period: p3}
        - {ensemble: lantern-brass, weekdays: [Mon], period: p3}

    Good:

        - {ensemble: lantern, weekdays: [Mon], period: p3}
        - {ensemble: lantern-brass, weekdays: [Tue], period: p3}
    """
    for first, second, clashes in _at_once(plan):
        sharing = (
            second.band in first.item.shares_players_with
            or first.band in second.item.shares_players_with
        )
        if sharing:
            one, _ = clashes[0]
            yield finding(
                f"`{first.item.id}` and `{second.item.id}` share {_number(first, second)}players and both rehearse "
                f"on {one.rehearsal.day:%a %Y-%m-%d}{_and_more(clashes)}",
                second.address,
                "move one of the two meetings",
                notes=(Note(f"`{first.item.id}` is here", first.address),),
            )


def _number(first: EnsemblePlan, second: EnsemblePlan) -> str:
    """Write how many players two bands share, if it is stated; how many of a group is not known."""
    stated = shared_counts([first.item, second.item])
    number = stated.get(frozenset((first.item.id, second.item.id)))
    return "" if number is None else f"{number} "


@check
def passage_never_rehearsed(plan: Plan) -> Iterator[Problem]:
    """No rehearsal plays a passage: not by itself, in a join or in a run.

    There is no minute for the music of the full band, since every rehearsal is for
    sections, sight-reading or an assembly, or the fixed slots take all of its time.

    Bad:

        starts: Mon 2026-12-07   # the only rehearsal before the concert
        extra:
          - {ensemble: lantern, date: 2026-12-07, start: 9:00 am, end: 9:45 am, kind: sectional}

    Good:

        extra:
          - {ensemble: lantern, date: 2026-12-07, start: 9:00 am, end: 9:45 am, kind: ordinary}
    """
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            never = [
                passage.item.id
                for piece in ensemble.pieces
                for passage in piece.passages
                if not passage.visits and piece.item.dropped is None
            ]
            if never:
                yield finding(
                    f"no rehearsal of `{ensemble.item.id}` plays {first_few([f'`{one}`' for one in never])}",
                    ensemble.address,
                    "give the full band minutes of music, or take these passages out",
                    Severity.WARNING,
                )


def _at_once(plan: Plan) -> Iterator[Pair]:
    """Find each two ensembles that rehearse at the same time, with the rehearsals that overlap.

    Ends are open: one may begin as another ends. Groups of one band that have the same
    rehearsal are together in it.
    """
    ensembles = [ensemble for cycle in plan.cycles for ensemble in cycle.ensembles]
    for first, second in combinations(ensembles, 2):
        if first.item.id == second.item.id:
            continue
        by_day: dict[date, list[RehearsalRow]] = {}
        for row in second.rehearsals:
            by_day.setdefault(row.rehearsal.day, []).append(row)
        clashes = [
            (one, other)
            for one in first.rehearsals
            for other in by_day.get(one.rehearsal.day, ())
            if one.rehearsal.start < other.rehearsal.end
            and other.rehearsal.start < one.rehearsal.end
            and not (first.band == second.band and _same_time(one, other))
        ]
        if clashes:
            yield first, second, clashes


def _same_time(one: RehearsalRow, other: RehearsalRow) -> bool:
    first, second = one.rehearsal, other.rehearsal
    return (first.start, first.end) == (second.start, second.end)


def _and_more(clashes: list[tuple[RehearsalRow, RehearsalRow]]) -> str:
    others = len(clashes) - 1
    if not others:
        return ""
    return f" and on {others} other {'day' if others == 1 else 'days'}"

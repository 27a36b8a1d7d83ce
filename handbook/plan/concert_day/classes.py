"""Rehearsals of the concert's day that fall while their players are away."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime

from handbook.domain.room_use import share_players, sharing_pairs
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_model import GroupDay, MissedClass
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.plan.shared_players import shared_counts


def missed_classes(
    ground: Ground, groups: Sequence[GroupDay], plans: Mapping[str, EnsemblePlan]
) -> tuple[MissedClass, ...]:
    """Find the rehearsals of a band, or of one that shares players with it, while it is away."""
    found = [
        missed
        for plan in plans.values()
        for row in plan.rehearsals
        if row.rehearsal.day == ground.item.date
        if (missed := _missed(ground, groups, plan, row))
    ]
    return tuple(sorted(found, key=lambda missed: missed.start))


def _missed(
    ground: Ground, groups: Sequence[GroupDay], plan: EnsemblePlan, row: RehearsalRow
) -> MissedClass | None:
    """Tell who is away during a rehearsal: its own band, before one that shares players."""
    for group in _whole_bands(ground, groups, plan.item.id):
        start, end = away(group)
        lesson = row.rehearsal
        if (
            group.ensemble
            and _instant(lesson.start) < _instant(end)
            and _instant(start) < _instant(lesson.end)
        ):
            return MissedClass(
                ensemble=plan.item,
                because=group.ensemble,
                n=lesson.n,
                start=lesson.start,
                end=lesson.end,
                away=(start, end),
                address=group.call_address if group.call else group.address,
                shared=shared_counts(ground.program.item.ensembles).get(
                    frozenset((plan.item.id, group.ensemble.id))
                ),
            )
    return None


def away(group: GroupDay) -> tuple[datetime, datetime]:
    """Give the time a band is away: from the bus or the room until it is collected or has packed."""
    times = group.times
    start = group.report or (times.duties if group.reckoned else times.first_note)
    return start, group.collect or times.packed


def _whole_bands(ground: Ground, groups: Sequence[GroupDay], ensemble: str) -> Iterator[GroupDay]:
    pairs = sharing_pairs(
        {one.id: one.shares_players_with for one in ground.program.item.ensembles}
    )
    yield from (group for group in groups if group.id == ensemble)
    yield from (
        group
        for group in groups
        if group.id != ensemble and share_players([ensemble], [group.id], pairs)
    )


def _instant(moment: datetime) -> datetime:
    return moment.astimezone(UTC)

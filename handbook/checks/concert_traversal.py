"""Walks over the reckoned concerts that are held, and how their groups are named in messages."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.plan.concert_model import GroupDay
from handbook.plan.model import ConcertPlan, Plan


def concerts(plan: Plan) -> Iterator[tuple[str, ConcertPlan]]:
    """Give each concert that is not cancelled with the id of its cycle."""
    for cycle in plan.cycles:
        for concert in cycle.held_concerts:
            yield cycle.id, concert


def groups(plan: Plan) -> Iterator[GroupDay]:
    """Give each group of each concert."""
    for _, concert in concerts(plan):
        yield from concert.day.groups


def group_name(plan: Plan, group: GroupDay) -> str:
    """Name a band, a section of it, or a role of the crew, in the language of messages."""
    language = plan.languages[0]
    if group.role:
        return group.role.name.read(language)
    band = group.ensemble.name.read(language) if group.ensemble else group.id
    return f"the {group.section.replace('-', ' ')} of {band}" if group.section else band

"""The facts of a plan: one list of all that a reader can act on, from which all that tells of changes is made."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.facts import Fact
from handbook.outputs.facts.concerts import concert_facts
from handbook.outputs.facts.events import event_facts
from handbook.outputs.facts.rehearsals import ensemble_facts
from handbook.outputs.facts.school import school_facts
from handbook.outputs.page import Context

__all__ = ["facts_of"]


def facts_of(context: Context) -> tuple[Fact, ...]:
    """Give the facts of a whole plan, sorted by their keys; no two have the same."""
    return tuple(sorted(_facts(context), key=lambda fact: fact.key))


def _facts(context: Context) -> Iterator[Fact]:
    yield from school_facts(context)
    yield from event_facts(context)
    for cycle in context.plan.cycles:
        for ensemble in cycle.ensembles:
            yield from ensemble_facts(context, cycle, ensemble)
        for concert in cycle.concerts:
            yield from concert_facts(context, cycle, concert)

"""The facts of a plan: one list of all that a reader can act on, from which all that tells of changes is made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from handbook.domain.facts import Fact, ToldFact
from handbook.outputs.facts.concerts import concert_facts
from handbook.outputs.facts.events import event_facts
from handbook.outputs.facts.rehearsals import ensemble_facts
from handbook.outputs.facts.school import school_facts
from handbook.outputs.i18n import speaking
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.i18n.languages import spoken
from handbook.outputs.page import Context
from handbook.plan.model import Plan

__all__ = ["facts_of"]


def facts_of(plan: Plan) -> tuple[Fact, ...]:
    """Give the facts of a whole plan, sorted by their keys; no two have the same.

    They are kept and compared in the words of the code and of the content's first language, so
    that a better catalogue changes no fact; beside them each is told in the other languages of
    the site.
    """
    first = plan.languages[0]
    with speaking(SOURCE):
        kept = sorted(_facts(Context(plan, first)), key=lambda fact: fact.key)
    told = {
        language: _told_in(Context(plan, language))
        for language in plan.languages
        if language != first or spoken(first).partition("-")[0] != SOURCE
    }
    return tuple(
        replace(
            fact, told=tuple(ToldFact(language, *own[fact.key]) for language, own in told.items())
        )
        for fact in kept
    )


def _told_in(context: Context) -> Mapping[str, tuple[str, str]]:
    """Give what each fact is about and says in the language of a context, by its key."""
    with context.speaking():
        return {fact.key: (fact.about, fact.value) for fact in _facts(context)}


def _facts(context: Context) -> Iterator[Fact]:
    yield from school_facts(context)
    yield from event_facts(context)
    for cycle in context.plan.cycles:
        for ensemble in cycle.ensembles:
            yield from ensemble_facts(context, cycle, ensemble)
        for concert in cycle.concerts:
            yield from concert_facts(context, cycle, concert)

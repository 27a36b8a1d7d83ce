"""Keys of facts: made of ids and dates, so that each stays with its thing when that is moved or renamed."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import date

from handbook.outputs.components.rehearsal_names import anchors, counted
from handbook.outputs.page import Context
from handbook.plan.events_model import EventRow
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan

_LETTERS = 8  # of a digest: a rehearsal has a handful of notices


def concert_key(cycle: CyclePlan, concert: ConcertPlan) -> str:
    """Give the key of a concert, `winter/concert/concert`: of its file, whatever its day and name."""
    return f"{cycle.id}/concert/{concert.id}"


def event_key(event: EventRow) -> str:
    """Give the key of a deadline; those of an event's days begin with it."""
    return f"event/{event.item.id}"


def event_day_keys(event: EventRow) -> tuple[str, ...]:
    """Give the key of each of an event's days, `event/parade/2026-11-11`: by the day it was first to be on.

    Where another time of the event has taken the day that one was moved from, the moved one
    keeps the key.
    """
    first = [(day.moved_from or (day.first,))[0] for day in event.days]
    moved = [bool(day.moved_from) for day in event.days]
    return tuple(f"{event_key(event)}/{one}" for one in _numbered(first, moved))


def rehearsal_keys(cycle: CyclePlan, ensemble: EnsemblePlan) -> tuple[str, ...]:
    """Give the key of each of an ensemble's rehearsals, `winter/lantern/rehearsal/2026-11-30`.

    It ends with the rehearsal's anchor on the ensemble's page.
    """
    base = f"{cycle.id}/{ensemble.item.id}/rehearsal"
    return tuple(f"{base}/{anchor}" for anchor in anchors(ensemble))


def _numbered(days: Sequence[date], moved: Sequence[bool]) -> list[str]:
    order = sorted(range(len(days)), key=lambda place: not moved[place])
    numbered = dict(zip(order, counted([f"{days[place]}" for place in order]), strict=True))
    return [numbered[place] for place in range(len(days))]


def base_context(context: Context) -> Context:
    """Give the context whose words facts are compared by, and keys are made of.

    That is the content's first language; our own words are then to be those of the code.
    """
    plan = context.plan
    return context.once("for keys", plan, lambda: Context(plan, plan.languages[0]))


def digest_of(words: str) -> str:
    """Give a short digest, for what has no id but its words."""
    return hashlib.sha256(words.encode()).hexdigest()[:_LETTERS]

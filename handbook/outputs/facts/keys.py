"""Keys of facts: made of ids and dates, so that each stays with its thing when that is moved or renamed."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Sequence
from datetime import date

from handbook.domain.meetings import RehearsalKind
from handbook.plan.events_model import EventRow
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan, RehearsalRow

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

    It is made of the day, or of that which a rehearsal stands instead of. An extra one stays
    itself (`-extra`) when class that day is lost; of several a day the second has `-2`.
    """
    rows = ensemble.rehearsals
    names = [_name(row) for row in rows]
    moved = [row.rehearsal.instead_of is not None for row in rows]
    # Of two that are moved from a day, the one listed first took the first one's place.
    order = sorted(range(len(rows)), key=lambda place: (not moved[place], _listed(rows, place)))
    numbered = dict(zip(order, _counted([names[place] for place in order]), strict=True))
    return tuple(
        f"{cycle.id}/{ensemble.item.id}/rehearsal/{numbered[place]}" for place in range(len(rows))
    )


def _name(row: RehearsalRow) -> str:
    rehearsal = row.rehearsal
    if rehearsal.instead_of:
        return f"{rehearsal.instead_of}"
    extra = "-extra" if rehearsal.kind is RehearsalKind.EXTRA else ""
    return f"{rehearsal.day}{extra}"


def _listed(rows: Sequence[RehearsalRow], place: int) -> int:
    rehearsal = rows[place].rehearsal
    return place if rehearsal.instead_of is None else rehearsal.index or 0


def _numbered(days: Sequence[date], moved: Sequence[bool]) -> list[str]:
    order = sorted(range(len(days)), key=lambda place: not moved[place])
    numbered = dict(zip(order, _counted([f"{days[place]}" for place in order]), strict=True))
    return [numbered[place] for place in range(len(days))]


def _counted(names: Sequence[str]) -> list[str]:
    """Give each name its number, from the second of its kind on."""
    seen: Counter[str] = Counter()
    found = []
    for name in names:
        seen[name] += 1
        found.append(name if seen[name] == 1 else f"{name}-{seen[name]}")
    return found


def digest_of(words: str) -> str:
    """Give a short digest, for what has no id but its words."""
    return hashlib.sha256(words.encode()).hexdigest()[:_LETTERS]

"""The concerts that come next after a cycle, whatever cycle they are of."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from handbook.schema.handbook import ConcertAhead, Handbook, concerts_ahead

MOST = 3
_SOON = timedelta(days=250)
"""Further ahead than from a winter's concert to that of the next fall, nobody keeps a program."""


def next_concerts(handbook: Handbook, cycle: str, last: date) -> tuple[ConcertAhead, ...]:
    """Give the next concerts of other cycles after the last day of one."""
    here = (one for content in handbook.cycles for one in concerts_ahead(content))
    return soon((*here, *handbook.ahead), cycle, last)


def soon(concerts: Iterable[ConcertAhead], cycle: str, last: date) -> tuple[ConcertAhead, ...]:
    """Give those that are next after a day and soon enough to be told, in order."""
    found = [one for one in concerts if one.cycle != cycle and last < one.date <= last + _SOON]
    return tuple(sorted(found, key=lambda one: (one.date, one.downbeat, one.cycle))[:MOST])

"""Checks of what was moved to another day: concerts, events, rehearsals."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import day
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook

# Half a year and a bit; a slip in the year is 365 days off (common practice, no source).
_FAR = timedelta(days=200)


@check
def moved_from_same_day(handbook: Handbook) -> Iterator[Problem]:
    """Something was moved from the day that it is on.

    `moved_from` is the day it was to be on before, and `date` the one it is on now. Of several
    moves each day stands in a list, the newest last.

    Bad:

        date: Thu 2026-12-10
        moved_from: Thu 2026-12-10

    Good:

        date: Thu 2026-12-10
        moved_from: Tue 2026-12-08
    """
    for address, before, now, at in _moves(handbook):
        days = (*before, now)
        for place, (one, following) in enumerate(pairwise(days)):
            if one == following:
                yield finding(
                    f"it was moved from {day(one)}, and is on that day",
                    (*address, "moved_from", place),
                    "state the day it was on before, and the new one in its own field",
                    notes=(Note("the day it is on is here", at),),
                )


@check
def moved_far(handbook: Handbook) -> Iterator[Problem]:
    """Something was moved by more than half a year.

    Most often the year of one of the two dates is a slip.

    Bad:

        date: Thu 2026-12-10
        moved_from: 2025-12-08

    Good:

        date: Thu 2026-12-10
        moved_from: Tue 2026-12-08
    """
    for address, before, now, at in _moves(handbook):
        for place, one in enumerate(before):
            if abs(now - one) > _FAR:
                yield finding(
                    f"it was moved by {abs(now - one).days} days, from {day(one)} to {day(now)}",
                    (*address, "moved_from", place),
                    "check the year of both dates",
                    Severity.WARNING,
                    (Note("the day it is on is here", at),),
                )


@check
def moved_date_unclear(handbook: Handbook) -> Iterator[Problem]:
    """An event of several dates was moved, and does not say which of them.

    Bad:

        events:
          - {id: games, name: Games, on: [2026-11-06, 2026-11-20], moved_from: 2026-11-13}

    Good:

        events:
          - {id: games, name: Games, on: [2026-11-06, {date: 2026-11-20, moved_from: 2026-11-13}]}
    """
    for address, event in traversal.events(handbook):
        if event.moved_from and event.on:
            newest = event.moved_from[-1].isoformat()
            yield finding(
                "it has several dates, and does not say which of them was moved",
                (*address, "moved_from"),
                f"put it with its date under `on`, as `{{date: {event.on[-1].date}, moved_from: {newest}}}`",
                notes=(Note("its dates are here", (*address, "on")),),
            )


@check
def moved_and_made_up(handbook: Handbook) -> Iterator[Problem]:
    """A rehearsal stands instead of class, and makes up for a lost one too.

    `instead_of` is the day of a class rehearsal that would be held; `make_up_for` that of one
    that is lost anyway.

    Bad:

        extra:
          - {ensemble: lantern, date: 2026-11-07, start: 9 am, end: 10 am, instead_of: 2026-11-04, make_up_for: 2026-11-23}

    Good:

        extra:
          - {ensemble: lantern, date: 2026-11-07, start: 9 am, end: 10 am, instead_of: 2026-11-04}
    """
    for content in handbook.cycles:
        for place, extra in enumerate(content.cycle.item.extra):
            if extra.instead_of and extra.make_up_for:
                at = (content.cycle.file, "extra", place)
                yield finding(
                    "this rehearsal stands instead of one and makes up for another",
                    (*at, "make_up_for"),
                    "take one of the two out: one rehearsal can do for one alone",
                    notes=(Note("the other one is here", (*at, "instead_of")),),
                )


_Move = tuple[Address, Sequence[date], date, Address]


def _moves(handbook: Handbook) -> Iterator[_Move]:
    """Give what was moved: its address, its days before, its first day now and where that stands."""
    for _, concert in traversal.concerts(handbook):
        at = (concert.file, "date")
        yield (concert.file,), concert.item.moved_from, concert.item.date, at
    for address, event in traversal.events(handbook):
        for name, now in (("date", event.date), ("from", event.from_), ("due", event.due)):
            if now and not event.on:
                yield address, event.moved_from, now, (*address, name)
                break
        for place, entry in enumerate(event.on):
            here = (*address, "on", place)
            yield here, entry.moved_from, entry.date, (*here, "date")

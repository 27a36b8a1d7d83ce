"""Which bell schedule of last year's a title of the calendar means."""

from __future__ import annotations

import re

from handbook.domain.school_day_titles import DayMeaning, same_words
from handbook.schema.year import Bells, Year

_WORDS = {
    DayMeaning.EARLY: frozenset(
        ("early", "release", "dismissal", "half", "minimum", "short", "shortened", "noon")
    ),
    DayMeaning.LATE: frozenset(("late", "start", "arrival", "delay", "delayed", "opening")),
}


def bells_for(year: Year, title: str, kind: DayMeaning) -> str | None:
    """Find the schedule that last year's day of that name had, else the one that is named so, else the only one of the kind.

    None if there is none, or more than one.
    """
    for altered in year.altered:
        if altered.bells and any(same_words(title, name) for _, name in altered.name.versions):
            return altered.bells
    words = _words(title)
    others = year.bells[1:]
    named = [one for one in others if any(name <= words for name in _names(one))]
    if len(named) == 1:
        return named[0].id
    of_kind = [one for one in others if any(name & _WORDS[kind] for name in _names(one))]
    return of_kind[0].id if len(of_kind) == 1 else None


def _names(bells: Bells) -> list[frozenset[str]]:
    texts = [bells.id, *(text for _, text in (bells.name.versions if bells.name else ()))]
    return [found for text in texts if (found := _words(text))]


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"\w+", text.casefold())) - {"day", "days", "schedule", "bells"}

"""How day labels that a calendar prints come out of taking turns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from handbook.domain.school_year import AlteredDays, Resume, SchoolYear, day_labels, one_day
from handbook.domain.values.text import Text

_MOST = 40


def labels_in_turn(
    year: SchoolYear, wanted: Mapping[date, str]
) -> tuple[Resume, tuple[date, ...]] | None:
    """Say how labels go on after closures, and the days on which turns begin afresh with the wanted label.

    Of both ways to go on, the year's own and the other, the one that needs fewer such days;
    None if either needs more than forty, so that turns say nothing of these labels.
    """
    other = Resume.SKIP if year.resume is Resume.NEXT else Resume.NEXT
    ways = [(way, _anchors(replace(year, resume=way), wanted)) for way in (year.resume, other)]
    found = [(way, days) for way, days in ways if days is not None]
    return min(found, key=lambda one: len(one[1]), default=None)


def _anchors(year: SchoolYear, wanted: Mapping[date, str]) -> tuple[date, ...] | None:
    days: list[date] = []
    while len(days) <= _MOST:
        labels = day_labels(year)
        wrong = next((day for day in sorted(wanted) if labels.get(day) != wanted[day]), None)
        if wrong is None:
            return tuple(days)
        days.append(wrong)
        anchor = AlteredDays(one_day(wrong), Text.plain(""), label=wanted[wrong])
        year = replace(year, altered=(*year.altered, anchor))
    return None

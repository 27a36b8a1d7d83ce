"""How a move to another day is put into words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext


def moved_words(now: date, before: Sequence[date]) -> str:
    """Say `now Thu, Dec 17; it was Tue, Dec 15`, of several moves each day; nothing without one."""
    if not before:
        return ""
    was = formatting.short_day(before[0])
    for day in before[1:]:
        # Translators: the days of which something was moved, in the order of time.
        was = gettext("%(day)s, then %(later)s", day=was, later=formatting.short_day(day))
    return gettext("now %(day)s; it was %(before)s", day=formatting.short_day(now), before=was)

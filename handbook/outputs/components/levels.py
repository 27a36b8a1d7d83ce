"""Levels of the fundamentals in words."""

from __future__ import annotations

from handbook.outputs.i18n import gettext


def levels_in_words(first: int, last: int) -> str:
    """Say `level 3`, or `levels 3–5`; both ends are included."""
    if first == last:
        return gettext("level %(number)s", number=first)
    return gettext("levels %(first)s–%(last)s", first=first, last=last)

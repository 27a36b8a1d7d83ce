"""How a move to another day is put into words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from handbook.outputs.html import formatting


def moved_words(now: date, before: Sequence[date]) -> str:
    """Say `now Thu, Dec 17; it was Tue, Dec 15`, of several moves each day; nothing without one."""
    if not before:
        return ""
    was = ", then ".join(formatting.short_day(day) for day in before)
    return f"now {formatting.short_day(now)}; it was {was}"

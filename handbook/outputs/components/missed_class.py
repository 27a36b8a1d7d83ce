"""Classes that players miss on the day of a concert, in words."""

from __future__ import annotations

from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.concert_model import MissedClass


def missed_words(context: Context, missed: MissedClass) -> str:
    """Say whose rehearsal is missed by whom."""
    name, when = context.say(missed.ensemble.name), formatting.span(missed.start, missed.end)
    if missed.ensemble == missed.because:
        return f"{name} misses its rehearsal, {when}."
    also = context.say(missed.because.name)
    who = f"Players of {name}" if missed.shared is None else _players(missed.shared, name)
    one = missed.shared == 1
    return f"{who} who {'is' if one else 'are'} in {also} too {'misses' if one else 'miss'} its rehearsal, {when}."


def _players(number: int, band: str) -> str:
    return f"The player of {band}" if number == 1 else f"The {number} players of {band}"

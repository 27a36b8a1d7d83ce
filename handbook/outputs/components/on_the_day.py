"""Whom to call on the day itself, in words."""

from __future__ import annotations

from handbook.outputs.i18n import speech
from handbook.outputs.i18n.formats import with_clauses
from handbook.outputs.i18n.languages import direction
from handbook.outputs.page import Context
from handbook.schema.on_the_day import CallOnTheDay

_LEFT_TO_RIGHT = "\u200e"  # letters of Arabic before a number would turn its parts round


def whom_to_call(context: Context, whom: CallOnTheDay | None) -> str:
    """Name the role and its number; nothing where none is said."""
    if whom is None:
        return ""
    mark = _LEFT_TO_RIGHT if direction(speech().code) == "rtl" else ""
    return with_clauses((context.say(whom.role), f"{mark}{whom.phone}"))

"""Whom to call on the day itself, in words."""

from __future__ import annotations

from handbook.outputs.i18n.formats import with_clauses
from handbook.outputs.page import Context
from handbook.schema.on_the_day import CallOnTheDay


def whom_to_call(context: Context, whom: CallOnTheDay | None) -> str:
    """Name the role and its number; nothing where none is said."""
    return with_clauses((context.say(whom.role), whom.phone)) if whom else ""

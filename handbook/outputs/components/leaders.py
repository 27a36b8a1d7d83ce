"""Who leads rehearsals, in words: roles, never people."""

from __future__ import annotations

from collections.abc import Sequence

from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.schema.program import StaffRole


def led_by(context: Context, leaders: Sequence[StaffRole]) -> str:
    """Write `led by the director and the assistant`; nothing if nobody is named."""
    names = [context.say(one.name) for one in leaders]
    return gettext("led by %(leaders)s", leaders=formatting.listed(names)) if names else ""

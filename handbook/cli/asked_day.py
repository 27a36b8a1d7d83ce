"""A day as it is typed for an option of a command."""

from __future__ import annotations

from datetime import date

from handbook.cli.exit_codes import Misuse
from handbook.domain.values.dates import parse_date
from handbook.domain.values.unreadable import UnreadableError


def asked_day(text: str, option: str) -> date:
    """Read the day that an option is given; raises Misuse with a sentence."""
    try:
        return parse_date(text)
    except UnreadableError as error:
        instead = f": write {' or '.join(error.suggestions)}" if error.suggestions else ""
        raise Misuse(f"{option}: {error}{instead}") from error

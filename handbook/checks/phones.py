"""Checks of telephone numbers that families are to call."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.problems import Address, Problem
from handbook.schema.handbook import Handbook
from handbook.schema.on_the_day import CallOnTheDay

# Signs between digits, and an extension, as people write numbers.
_NUMBER = re.compile(
    r"(?P<main>\+?[\d\s()./\u2010-\u2013-]+?)(?:\s*(?:ext\.?|x|#)\s*\d+)?", re.IGNORECASE
)
# The national plan of North America, whose first three of ten digits may be left out, and the
# most that any country has (ITU-T E.164).
_FEWEST, _MOST = 7, 15


@check
def unreadable_phone(handbook: Handbook) -> Iterator[Problem]:
    """Whom to call on the day has no number that a telephone can dial.

    Bad:

        on_the_day: {role: The lead parent, phone: ask at the office}

    Good:

        on_the_day: {role: The lead parent, phone: 555-0142}
    """
    for address, whom in _on_the_day(handbook):
        if not _can_be_dialed(whom.phone):
            yield finding(
                f"`{whom.phone}` is no telephone number",
                (*address, "phone"),
                "write all of its digits, such as 555-0142 or (555) 555-0142",
            )


def _on_the_day(handbook: Handbook) -> Iterator[tuple[Address, CallOnTheDay]]:
    for _, concert in traversal.concerts(handbook):
        if concert.item.on_the_day:
            yield (concert.file, "on_the_day"), concert.item.on_the_day
    for address, facts in traversal.event_facts(handbook):
        if facts.on_the_day:
            yield (*address, "on_the_day"), facts.on_the_day


def _can_be_dialed(phone: str) -> bool:
    number = _NUMBER.fullmatch(phone.strip())
    return number is not None and _FEWEST <= len(re.sub(r"\D", "", number["main"])) <= _MOST

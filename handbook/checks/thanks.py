"""Whom the opening thanks go to."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, once_a_name
from handbook.checks.wording import unknown
from handbook.plan.opening_thanks import EVERYONE, nameable
from handbook.problems import Problem
from handbook.schema.handbook import Handbook
from handbook.schema.program import is_known


@check
@once_a_name
def unknown_thanked(handbook: Handbook) -> Iterator[Problem]:
    """Thanks go to someone whose turns cannot be counted, since no section and no role has that id.

    `thanks_to` of a day and `thanked` of a log name instruments, sections and families such as
    low-brass or trumpets, roles that program.yaml has under `thank`, or everyone.

    Bad:

        days:
          - {date: 2026-11-02, thanks_to: [trumpetts]}

    Good:

        days:
          - {date: 2026-11-02, thanks_to: [trumpets]}
    """
    known = nameable(handbook.program.item)
    for address, names in traversal.thanked(handbook):
        for place, name in enumerate(names):
            if name not in known and not is_known(name):
                where = f"to program.yaml under thank, or `{EVERYONE}`"
                yield unknown("section or role", name, (*address, place), known, where)

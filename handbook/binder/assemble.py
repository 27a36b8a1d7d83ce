"""All that is in a binder, in order."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from pathlib import Path

from handbook.binder import (
    climbs,
    growth,
    materials,
    poster,
    private_notes,
    rehearsal_sheets,
    stand,
    substitute_sheets,
    thanks,
    year_sheet,
)
from handbook.binder.index import index
from handbook.binder.looks import look_files
from handbook.binder.model import Binder, BinderFile
from handbook.outputs.html.environment import page_environment
from handbook.outputs.page import Context
from handbook.pipeline import Outcome
from handbook.resources import templates_folder
from handbook.source.private_notes import private_notes as notes_in

ROOMS: tuple[Callable[[Binder], Iterable[BinderFile]], ...] = (
    stand.files,
    rehearsal_sheets.files,
    substitute_sheets.files,
    poster.files,
    materials.files,
    thanks.files,
    climbs.files,
    growth.files,
    year_sheet.files,
    private_notes.files,
)
"""What makes the binder's files, in the order in which its first page lists them."""


def new_binder(outcome: Outcome, content: Path, cycles: Collection[str] = ()) -> Binder | None:
    """Lay ready what rooms are given, of the cycles by these ids, or of all; None for content without a plan."""
    plan = outcome.plan
    if plan is None or outcome.handbook is None:
        return None
    return Binder(
        plan=plan,
        handbook=outcome.handbook,
        context=Context(plan, plan.languages[0]),
        content=content,
        cycles=tuple(cycle for cycle in plan.cycles if not cycles or cycle.id in cycles),
        private=notes_in(outcome.sources),
        environment=page_environment(templates_folder()),
    )


def binder_files(binder: Binder) -> tuple[BinderFile, ...]:
    """Make all files of a binder; the same content gives the same bytes on any day."""
    with binder.context.speaking():
        made = [file for room in ROOMS for file in room(binder)]
        pages = (index(binder, made), *made)
        return (*pages, *look_files(binder, pages))

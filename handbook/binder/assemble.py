"""All that is in a binder, in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from handbook.binder.index import index
from handbook.binder.looks import look_files
from handbook.binder.model import Binder, BinderFile
from handbook.outputs.html.environment import page_environment
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, Plan
from handbook.resources import templates_folder
from handbook.schema.handbook import Handbook

ROOMS: tuple[Callable[[Binder], Iterable[BinderFile]], ...] = ()
"""What makes the binder's files, in the order in which its first page lists them."""


def new_binder(
    plan: Plan, handbook: Handbook, content: Path, cycles: Sequence[CyclePlan]
) -> Binder:
    """Lay ready what rooms are given; `cycles` are those that the binder is about."""
    context = Context(plan, plan.languages[0])
    environment = page_environment(templates_folder())
    return Binder(plan, handbook, context, content, tuple(cycles), environment)


def binder_files(binder: Binder) -> tuple[BinderFile, ...]:
    """Make all files of a binder; the same content gives the same bytes on any day."""
    with binder.context.speaking():
        made = [file for room in ROOMS for file in room(binder)]
        return (index(binder, made), *made, *look_files(binder))

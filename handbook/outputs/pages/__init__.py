"""What makes the pages of each kind: the module of its name.

A kind about the whole handbook has `share`, what a cycle adds to its pages, `pages` of the
shares, and may have `files`, what it makes of each share beside them, and `SHOWS_EVENTS` if it
shows the events of the plan; one about a cycle or an ensemble has `pages` of it. No page imports another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from types import ModuleType
from typing import Any

from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context, Page
from handbook.page_kinds import KINDS, Of, PageKind
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class WholeKind:
    """Pages about the whole handbook, made of what each cycle adds to them and no more.

    `share` gives what a cycle adds; `pages` makes them of the shares of all cycles in order,
    `files` what else is made of one share. Only those that are of `events` may look at the plan's.
    """

    name: str
    share: Callable[[Context, CyclePlan], Any]
    pages: Callable[[Context, Sequence[Any]], Iterator[Page]]
    events: bool = False
    files: Callable[[Any], Iterator[OutputFile]] | None = None


def _module(kind: PageKind) -> ModuleType:
    return import_module(f"{__name__}.{kind.name}")


def _about(of: Of) -> Iterator[tuple[PageKind, ModuleType]]:
    return ((kind, _module(kind)) for kind in KINDS if kind.of is of)


OF_CYCLES: tuple[Callable[[Context, CyclePlan], Iterator[Page]], ...] = tuple(
    module.pages for _, module in _about(Of.CYCLE)
)
"""Pages about a cycle as a whole, which show nothing of any other."""

OF_ENSEMBLES: tuple[Callable[[Context, CyclePlan, EnsemblePlan], Iterator[Page]], ...] = tuple(
    module.pages for _, module in _about(Of.ENSEMBLE)
)
"""Pages of one ensemble in a cycle, which show nothing of the others; see `alone`."""

WHOLE: tuple[WholeKind, ...] = tuple(
    WholeKind(
        kind.name,
        module.share,
        module.pages,
        getattr(module, "SHOWS_EVENTS", False),
        getattr(module, "files", None),
    )
    for kind, module in _about(Of.HANDBOOK)
)

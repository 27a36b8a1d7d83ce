"""All sheets that the pages of a plan have, with the pages that say the same."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from handbook.outputs.page import Context
from handbook.outputs.pages import WHOLE
from handbook.outputs.sheets.model import Imprint, MadeSheet
from handbook.outputs.sheets.typesetting import typeset
from handbook.outputs.site import MadePage, Renderer, alone, without_cycles
from handbook.plan.model import Plan


@dataclass(frozen=True)
class PublicSheet:
    """A sheet, the HTML of the page that it is printed of, and its PDF."""

    made: MadeSheet
    page: str
    imprint: Imprint

    @property
    def content(self) -> bytes:
        return _content(self.made, self.imprint)


@cache
def _content(made: MadeSheet, imprint: Imprint) -> bytes:
    return typeset(made, imprint)


def public_sheets(plan: Plan, imprint: Imprint) -> list[PublicSheet]:
    """Make all sheets that pages of a plan have in all its languages."""
    renderer = Renderer()
    return [
        PublicSheet(sheet, page.middle, imprint)
        for language in plan.languages
        for page in _all_pages(renderer, plan, language)
        for sheet in page.sheets
    ]


def pages_in(plan: Plan, language: str) -> list[MadePage]:
    """Make all pages of a plan in a language."""
    return list(_all_pages(Renderer(), plan, language))


def _all_pages(renderer: Renderer, plan: Plan, language: str) -> Iterator[MadePage]:
    context = without_cycles(Context(plan, language))
    with context.speaking():
        outputs = [renderer.cycle(context, cycle) for cycle in plan.cycles]
        for cycle, output in zip(plan.cycles, outputs, strict=True):
            yield from output.pages
            for ensemble in cycle.ensembles:
                yield from renderer.ensemble(context, alone(cycle, ensemble), ensemble)
        for kind in WHOLE:
            yield from renderer.whole(context, kind, [one.shares[kind.name] for one in outputs])

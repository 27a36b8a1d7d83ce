"""Sheets of the binder: typeset as those of the site are, with the notice at the head of each page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from handbook.binder.model import Binder, BinderFile
from handbook.outputs.i18n import gettext
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Imprint, MadeSheet, Sheet
from handbook.outputs.sheets.typefaces import has_typefaces
from handbook.outputs.sheets.typesetting import typeset
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass

Page = TypeVar("Page")


def notice() -> str:
    """Give the words that every page and sheet for the director alone bears."""
    return gettext("Private: for the director. Do not post or share.")


def can_print(binder: Binder) -> bool:
    """Whether there are typefaces for the binder's language: without them it has no sheets, as a site has none."""
    return has_typefaces(binder.context.language)


@dataclass(frozen=True, slots=True)
class Typesetting:
    """A sheet whose words are there, to be typeset when its bytes are asked for."""

    made: MadeSheet

    def __call__(self) -> bytes:
        """Make the PDF."""
        return typeset(self.made, Imprint())


def sheet_file(binder: Binder, sheet: Sheet, *, about: str = "", cycle: str = "") -> BinderFile:
    """Typeset a sheet; it is listed on the first page if it says what it is `about`.

    It stands at no address, so it bears no code and no number of a publication.
    """
    made = made_sheet(binder.context, binder.environment, None, sheet)
    return BinderFile(sheet.path, Typesetting(made), sheet.title if about else "", about, cycle)


@dataclass(frozen=True, slots=True)
class BandFile:
    """A file that each band has: how its name `ends`, its title by the band's name, and what it is `about`."""

    ends: str
    title: Callable[[str], str]
    about: str


def band_sheets(
    binder: Binder,
    file: BandFile,
    pages: Callable[[Binder, CyclePlan, EnsemblePlan], tuple[Page, ...]],
    sheet: Callable[[str, str, *tuple[Page, ...]], Sheet],
) -> Iterator[BinderFile]:
    """Make a file for each band that rehearses in a cycle: a `sheet` by path and title, of its `pages`."""
    for cycle in binder.cycles if can_print(binder) else ():
        for ensemble in cycle.ensembles:
            if ensemble.rehearsals:
                path = f"{cycle.id}/{ensemble.item.id}-{file.ends}.pdf"
                title = file.title(binder.context.say(ensemble.item.name))
                made = sheet(path, title, *pages(binder, cycle, ensemble))
                yield sheet_file(binder, made, about=file.about, cycle=cycle.id)

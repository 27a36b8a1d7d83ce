"""Sheets of the binder: typeset as those of the site are, with the notice at the head of each page."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Protocol, TypeVar

from handbook.binder.model import Binder, BinderFile
from handbook.making.kept_sheets import WantedSheet, sheets_as_files
from handbook.making.program_digest import program_digest
from handbook.outputs.components.rehearsal_view import RehearsalView
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.model import SiteFile
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Imprint, MadeSheet, Sheet
from handbook.outputs.sheets.typefaces import has_typefaces
from handbook.outputs.sheets.typesetting import typeset, version, words_marks
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.records import dataclass
from handbook.store import Store, key_of


class DayPage(Protocol):
    """A page of a sheet that is about one rehearsal."""

    @property
    def day(self) -> RehearsalView:
        """The rehearsal."""
        ...


Page = TypeVar("Page", bound=DayPage)


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
    imprint: Imprint

    def __call__(self) -> bytes:
        """Make the PDF."""
        return typeset(*self.words())

    def words(self) -> tuple[MadeSheet, Imprint]:
        """Give what the typesetter is given."""
        return self.made, self.imprint

    def key(self, program: str) -> str:
        """Give the key of what the program of this digest makes of it, which tells nothing of its words."""
        return key_of("sheet", program, self.made, self.imprint)


def finished_sheets(sheets: Mapping[str, Typesetting], store: Store) -> Iterator[SiteFile]:
    """Finish sheets by their paths in the binder; those of which the store knows nothing are typeset.

    Their words are private: of a sheet the digest of its bytes alone is kept, under the digest of
    all that it is made of. Who writes the binder takes the bytes from the one that stands.
    """
    program = program_digest() if sheets else ""
    wanted = [WantedSheet(path, one.key(program), one.words) for path, one in sheets.items()]
    yield from sheets_as_files(wanted, store)


def sheet_file(
    binder: Binder,
    sheet: Sheet,
    *,
    about: str = "",
    cycle: str = "",
    parts: Iterable[str] = (),
) -> BinderFile:
    """Typeset a sheet; it is listed on the first page if it says what it is `about`.

    It stands at no address, so it bears no code and no number of a publication: at its foot stand
    the name of its `cycle` and a mark of its words, or of those of each of its `parts`, which have
    a page each and are listed by these names.
    """
    made = made_sheet(binder.context, binder.environment, None, sheet)
    marks = words_marks(made)
    say = binder.context.say
    named = next((bare(say(one.item.name)) for one in binder.cycles if one.id == cycle), "")
    return BinderFile(
        sheet.path,
        Typesetting(made, Imprint(of=named, marks=marks)),
        sheet.title if about else "",
        about,
        cycle,
        tuple(zip(parts or [""] * len(marks), map(version, marks), strict=True)),
    )


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
                found = pages(binder, cycle, ensemble)
                days = (one.day.line.date for one in found)
                made = sheet(path, title, *found)
                yield sheet_file(binder, made, about=file.about, cycle=cycle.id, parts=days)

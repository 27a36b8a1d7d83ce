"""In which languages the site can be read, and who has read over its own words in each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.outputs import addresses
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.catalogues import SOURCE, catalogue_text, day_of_review
from handbook.outputs.i18n.languages import direction, name_in, own_name, spoken
from handbook.outputs.page import Context, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan
from handbook.records import dataclass
from handbook.schema.program import Contact


@dataclass(frozen=True, slots=True)
class LanguageView:
    """A language: its folder from the top of the site, its name in itself and in the page's, and how far it is read over."""

    code: str
    folder: str
    own_name: str
    direction: str
    name: str
    told: str


@dataclass(frozen=True, slots=True)
class LanguagesView:
    """The page of languages; `first` names the one whose words count where two differ."""

    languages: tuple[LanguageView, ...]
    first: str
    contact: Contact


def share(_context: Context, _cycle: CyclePlan) -> None:
    """Give nothing: the page shows nothing of a cycle."""


def pages(context: Context, _cycles: Sequence[None]) -> Iterator[Page]:
    """Make the page, if there is more than one language."""
    codes = context.plan.languages
    if len(codes) < 2:  # noqa: PLR2004
        return
    title, shown = gettext("Languages"), spoken(context.language)
    rows = tuple(
        LanguageView(
            code=code,
            folder=addresses.tree(code, codes),
            own_name=own_name(code),
            direction=direction(code),
            name=name_in(code, shown),
            told=_told(code),
        )
        for code in codes
    )
    names = formatting.listed([row.own_name for row in rows])
    yield Page(
        path=addresses.LANGUAGES,
        kind="languages",
        title=title,
        description=gettext("This site in %(languages)s.", languages=names),
        section="languages",
        view=LanguagesView(rows, name_in(codes[0], shown), context.plan.program.contact),
        search=(
            SearchEntry(
                title,
                names,
                keywords=" ".join(
                    (
                        "language translation translate",
                        *(row.name for row in rows),
                        "idioma español",
                    )
                ),
                answer=names,
            ),
        ),
    )


def _told(code: str) -> str:
    """Say how far our own words are there in a language, and whether a speaker has read them."""
    if code.partition("-")[0].lower() == SOURCE:
        return gettext("The words of the site are written in it.")
    if not catalogue_text(code):
        return gettext("The words of the site itself are not in it yet; they stand in English.")
    day = day_of_review(code)
    if day is None:
        return gettext("The words of the site are translated; no speaker has read them over yet.")
    return gettext(
        "The words of the site are translated; a speaker read them over on %(day)s.",
        day=formatting.month_day_year(day),
    )

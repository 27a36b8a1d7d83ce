"""The director's free pages, and the page that lists them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import escape, unescape

from babel import Locale, UnknownLocaleError
from markupsafe import Markup

from handbook.outputs import addresses
from handbook.outputs.html.prose import way_to
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.model import CyclePlan
from handbook.records import dataclass
from handbook.schema.program import Contact
from handbook.source.links import target_of
from handbook.source.markdown import read_markdown

_LINK = re.compile(r'(?<= href=")[^"]*')
_SUMMARY_LETTERS = 155


CYCLES_SHOWN = 0


@dataclass(frozen=True, slots=True)
class FreePageView:
    """A free page as HTML; `language` is set if it is not the site's own."""

    title: str
    body: Markup
    language: str


@dataclass(frozen=True, slots=True)
class FreePageLine:
    """A free page in the list, with its first words."""

    title: str
    path: str
    summary: str
    language: str


@dataclass(frozen=True, slots=True)
class LanguageView:
    """The pages of a language, which is named in itself; the site's own has no heading."""

    language: str
    name: str
    pages: tuple[FreePageLine, ...]


@dataclass(frozen=True, slots=True)
class FamiliesView:
    """The list of free pages, and how to ask."""

    languages: tuple[LanguageView, ...]
    contact: Contact


def share(_context: Context, _cycle: CyclePlan) -> None:
    """Give nothing: no free page shows anything of a cycle."""


def pages(context: Context, _cycles: Sequence[None]) -> Iterator[Page]:
    """Make the list of free pages and each of them."""
    plan, contact = context.plan, context.plan.program.contact
    rows = []
    for page in plan.pages:
        read = read_markdown(page.body)
        summary = _summary(read.opening)
        rows.append(
            FreePageLine(
                page.title, addresses.free_page(page.slug), summary, _language(context, page.slug)
            )
        )
        yield Page(
            path=addresses.free_page(page.slug),
            kind="free_page",
            title=page.title,
            description=summary,
            section="families",
            view=FreePageView(
                page.title,
                Markup(_between_pages(read.html, page.slug)),  # noqa: S704 - read to be published
                _language(context, page.slug),
            ),
            crumbs=(Link(gettext("For families"), addresses.FAMILIES),),
            search=(SearchEntry(page.title, read.words),),
        )
    who = apart(context.say(contact.role), contact.phone or "", contact.email or "")
    yield Page(
        path=addresses.FAMILIES,
        kind="families",
        title=gettext("For families"),
        description=gettext("How the program works, and whom to ask."),
        section="families",
        view=FamiliesView(tuple(_by_language(rows)), contact),
        search=(
            SearchEntry(
                gettext("For families"),
                apart(who, context.say(contact.hours)),
                keywords="contact email phone ask help parents",
                answer=who,
            ),
        ),
    )


def _by_language(rows: Sequence[FreePageLine]) -> Iterator[LanguageView]:
    """Put pages of one language together, the site's own first; in the order of their files."""
    for language in sorted({row.language for row in rows}):
        own = tuple(row for row in rows if row.language == language)
        yield LanguageView(language, _name_of(language), own)


def _name_of(language: str) -> str:
    """Name a language in itself, `Español`; by its code if nobody knows it."""
    if not language:
        return ""
    try:
        name = Locale.parse(language, sep="-").get_display_name()
    except (UnknownLocaleError, ValueError):
        name = None
    return (name or language)[:1].upper() + (name or language)[1:]


def _language(context: Context, slug: str) -> str:
    """Give the language of a page in a folder named by its code, `es/`; else nothing."""
    folder = slug.partition("/")[0] if "/" in slug else ""
    return folder if folder in context.plan.languages and folder != context.language else ""


def _between_pages(html: str, slug: str) -> str:
    """Lead links to files of the content, counted from the page's own, to their addresses."""

    def address(link: re.Match[str]) -> str:
        made = addresses.of_target(target_of(unescape(link[0]), slug))
        return link[0] if made is None else escape(way_to(made))

    return _LINK.sub(address, html)


def _summary(words: str) -> str:
    if len(words) <= _SUMMARY_LETTERS:
        return words
    return f"{words[:_SUMMARY_LETTERS].rsplit(' ', 1)[0]}…"

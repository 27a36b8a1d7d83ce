"""The director's free pages, and the page that lists them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import escape, unescape

from markupsafe import Markup

from handbook.outputs import addresses
from handbook.outputs.components.free_pages import shown_pages
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
    """A free page as HTML."""

    title: str
    body: Markup


@dataclass(frozen=True, slots=True)
class FreePageLine:
    """A free page in the list, with its first words."""

    title: str
    path: str
    summary: str


@dataclass(frozen=True, slots=True)
class FamiliesView:
    """The list of free pages, and how to ask."""

    pages: tuple[FreePageLine, ...]
    contact: Contact


def share(_context: Context, _cycle: CyclePlan) -> None:
    """Give nothing: no free page shows anything of a cycle."""


def pages(context: Context, _cycles: Sequence[None]) -> Iterator[Page]:
    """Make the list of free pages and each of them."""
    contact = context.plan.program.contact
    rows = []
    for shown in shown_pages(context):
        read, path = read_markdown(shown.page.body), addresses.free_page(shown.slug)
        title = context.marked(shown.page.title, shown.language)
        summary = context.marked(_summary(read.opening), shown.language)
        body = context.marked(_between_pages(shown.html, shown.page.slug), shown.language)
        rows.append(FreePageLine(title, path, summary))
        yield Page(
            path=path,
            kind="free_page",
            title=title,
            description=summary,
            section="families",
            view=FreePageView(title, Markup(body)),  # noqa: S704 - read to be published
            crumbs=(Link(gettext("For families"), addresses.FAMILIES),),
            search=(SearchEntry(title, read.words),),
            languages=(context.language,) if shown.alone else (),
        )
    who = apart(context.say(contact.role), contact.phone or "", contact.email or "")
    yield Page(
        path=addresses.FAMILIES,
        kind="families",
        title=gettext("For families"),
        description=gettext("How the program works, and whom to ask."),
        section="families",
        view=FamiliesView(tuple(rows), contact),
        search=(
            SearchEntry(
                gettext("For families"),
                apart(who, context.say(contact.hours)),
                keywords="contact email phone ask help parents",
                answer=who,
            ),
        ),
    )


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

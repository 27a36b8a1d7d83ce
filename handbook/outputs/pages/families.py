"""The director's free pages, and the page that lists them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date
from html import escape, unescape

from markupsafe import Markup

from handbook.outputs import addresses
from handbook.outputs.components.concert_line import concert_lines
from handbook.outputs.components.event_words import event_lines
from handbook.outputs.components.free_pages import shown_pages
from handbook.outputs.components.to_print import (
    ConcertToPrint,
    MonthToPrint,
    concert_to_print,
    months_of,
    months_with,
)
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

SHOWS_EVENTS = True


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
class CycleSheets:
    """The sheets of a cycle."""

    concerts: tuple[ConcertToPrint, ...]
    months: tuple[MonthToPrint, ...]


@dataclass(frozen=True, slots=True)
class FamiliesView:
    """The list of free pages, how to ask, and what can be printed.

    `printed` is the last day of any month or concert of which there is a sheet.
    """

    pages: tuple[FreePageLine, ...]
    contact: Contact
    concerts: tuple[ConcertToPrint, ...] = ()
    months: tuple[MonthToPrint, ...] = ()
    calendar: str = addresses.CALENDAR

    @property
    def printed(self) -> date:
        """The day after which nothing is left to print."""
        return max((*(one.last for one in self.months), *(one.line.day for one in self.concerts)))


def share(context: Context, cycle: CyclePlan) -> CycleSheets:
    """Give what can be printed of a cycle."""
    lines = concert_lines(context, cycle, cycle.concerts)
    concerts = (
        concert_to_print(context, cycle, concert, line)
        for concert, line in zip(cycle.concerts, lines, strict=True)
    )
    return CycleSheets(tuple(filter(None, concerts)), months_of(context, cycle))


def pages(context: Context, cycles: Sequence[CycleSheets]) -> Iterator[Page]:
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
    concerts = [one for cycle in cycles for one in cycle.concerts]
    of_events = (line.day for line in event_lines(context, context.plan.events))
    months = [*months_with(context, of_events), *(one for cycle in cycles for one in cycle.months)]
    who = apart(context.say(contact.role), contact.phone or "", contact.email or "")
    yield Page(
        path=addresses.FAMILIES,
        kind="families",
        title=gettext("For families"),
        description=gettext("How the program works, and whom to ask."),
        section="families",
        view=FamiliesView(
            tuple(rows),
            contact,
            tuple(sorted(concerts, key=lambda one: one.line.day)),
            tuple(sorted(dict.fromkeys(months), key=lambda one: one.first)),
        ),
        search=(
            SearchEntry(
                gettext("For families"),
                apart(who, context.say(contact.hours)),
                keywords="contact email phone ask help parents",
                answer=who,
            ),
            *(_print_entries(concerts, months)),
        ),
    )


def _print_entries(
    concerts: Sequence[ConcertToPrint], months: Sequence[MonthToPrint]
) -> Iterator[SearchEntry]:
    if concerts or months:
        names = (one.line.name for one in concerts)
        yield SearchEntry(
            gettext("Sheets to print"),
            apart(*dict.fromkeys((*names, *(one.name for one in months)))),
            anchor="print",
            keywords="print paper PDF fridge sheet program month download mail",
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

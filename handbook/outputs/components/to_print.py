"""Ways to the sheets that are printed of the pages about a cycle, for the pages that lead to them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from handbook.outputs import addresses
from handbook.outputs.components.concert_line import ConcertLine
from handbook.outputs.components.crew_bands import crew_bands
from handbook.outputs.components.event_words import capital
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context, Link
from handbook.outputs.sheets.making import sheets_are_made
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class ConcertToPrint:
    """The sheets of a concert: one a band for its `families`, and the `programs`, to read and to fold.

    `pages` have more of them: those of each part, from the band's page, and those of the crew.
    """

    line: ConcertLine
    families: tuple[Link, ...]
    programs: tuple[str, str]
    pages: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class MonthToPrint:
    """A month that has a sheet, with its first and its last day."""

    name: str
    path: str
    first: date
    last: date


def family_sheet(context: Context, cycle_id: str, concert: ConcertPlan, band: str) -> str:
    """Give the address of the sheet of a band's families; nothing where there is none."""
    own = (*concert.item.players, *crew_bands(concert))
    if concert.cancelled or band not in own or not sheets_are_made(context):
        return ""
    return addresses.concert_sheet(cycle_id, concert.id, context.language, "family", band)


def concert_to_print(
    context: Context, cycle: CyclePlan, concert: ConcertPlan, line: ConcertLine
) -> ConcertToPrint | None:
    """Give the sheets of a concert; none if it is cancelled, or the site has no letters for them."""
    if concert.cancelled or not sheets_are_made(context):
        return None
    families = (
        Link(context.say(one.name), family_sheet(context, cycle.id, concert, one.id))
        for one in context.plan.program.ensembles
        if one.id in (*concert.item.players, *crew_bands(concert))
    )
    read, fold = (
        addresses.concert_sheet(cycle.id, concert.id, context.language, name)
        for name in ("program", "program-fold")
    )
    pages = tuple(_pages(context, cycle, concert))
    return ConcertToPrint(line, tuple(families), (read, fold), pages)


def _pages(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Iterator[Link]:
    for band in cycle.ensembles:
        if band.item.id in concert.item.players:
            words = gettext("Choose your instrument")
            name = gettext("%(who)s: %(words)s", who=context.say(band.item.name), words=words)
            yield Link(name, addresses.ensemble(cycle.id, band.item.id))
    if concert.item.crew:
        name = gettext("Crew, %(concert)s", concert=context.say(concert.item.name))
        yield Link(name, addresses.crew(cycle.id, concert.id))


def has_sheets(context: Context, cycle: CyclePlan) -> bool:
    """Whether there is anything to print of a cycle."""
    return sheets_are_made(context) and bool(cycle.held_concerts or any(_days(cycle)))


def months_of(context: Context, cycle: CyclePlan) -> tuple[MonthToPrint, ...]:
    """Give the months in which a cycle has a rehearsal or a concert, each once and in order."""
    return months_with(context, _days(cycle))


def months_with(context: Context, days: Iterable[date]) -> tuple[MonthToPrint, ...]:
    """Give the months that have a sheet since something is on on one of the days."""
    if not sheets_are_made(context):
        return ()
    return tuple(_months(context, sorted({day.replace(day=1) for day in days})))


def _days(cycle: CyclePlan) -> Iterator[date]:
    yield from (row.rehearsal.day for one in cycle.ensembles for row in one.rehearsals)
    yield from (concert.item.date for concert in cycle.held_concerts)


def _months(context: Context, firsts: Iterable[date]) -> Iterator[MonthToPrint]:
    for first in firsts:
        path = addresses.month_sheet(first.year, first.month, context.language)
        next_one = (first + timedelta(days=31)).replace(day=1)
        yield MonthToPrint(
            capital(formatting.month_heading(first)), path, first, next_one - timedelta(days=1)
        )

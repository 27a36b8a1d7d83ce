"""The year sheet for the office: what is on, who, where, buses, classes missed, rooms."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.binder.model import Binder, BinderFile
from handbook.binder.paper import sheet_file
from handbook.outputs.components.office_words import (
    OfficeLine,
    RoomLine,
    hours_in_words,
    office_line,
    room_lines,
)
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import FAMILY_POINTS, Sheet
from handbook.outputs.sheets.typefaces import has_typefaces
from handbook.plan.year_sheet import year_sheets
from handbook.plan.year_sheet_model import BandYear, YearSheet
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class BandHours:
    """A band's year in sum, in words."""

    name: str
    players: str
    in_class: tuple[str, str]
    beside: tuple[str, str]
    missed: tuple[str, str]
    own: str


@dataclass(frozen=True, slots=True)
class YearSheetView:
    """The sheet of one school year; `total` are hours of other classes over all players.

    `paper` is where the same stands to print, empty where there are no typefaces for the language.
    """

    title: str
    paper: str
    school: str
    span: str
    lines: tuple[OfficeLine, ...]
    rooms: tuple[RoomLine, ...]
    bands: tuple[BandHours, ...]
    total: str


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make a page for each school year that has a cycle, the newest first, and its sheet to print."""
    for sheet in reversed(year_sheets(binder.plan)):
        view = year_sheet_view(binder.context, sheet)
        if view.paper:
            yield sheet_file(binder, _on_paper(view), about=gettext("The same to print (PDF)."))
        yield binder.page(
            "year_sheet",
            view,
            f"office-{sheet.id}.html",
            title=view.title,
            about=gettext(
                "For the office: dates, hours, buses, rooms, and the classes that are missed."
            ),
            notice=_for_the_office(),
        )


def _for_the_office() -> str:
    """Say whom it is for: the director hands it on, and no further."""
    return gettext("Private: for the director and the school office. Do not post.")


def _on_paper(view: YearSheetView) -> Sheet:
    """Lay it across the page, whose table has six columns: a year of some twenty dates is on three pages."""
    return Sheet(
        path=view.paper,
        kind="year_sheet",
        title=view.title,
        view=view,
        points=FAMILY_POINTS,
        one_page=False,
        landscape=True,
        notice=_for_the_office(),
    )


def year_sheet_view(context: Context, sheet: YearSheet) -> YearSheetView:
    """Put a year into words, as the page and the printed sheet have it."""
    year = sheet.year
    return YearSheetView(
        title=gettext("Year sheet %(year)s", year=context.say(year.name) or sheet.id),
        paper=f"office-{sheet.id}.pdf" if has_typefaces(context.language) else "",
        school=context.say(context.plan.program.school) or context.say(context.plan.program.name),
        span=gettext(
            "School from %(first)s to %(last)s",
            first=formatting.month_day_year(year.first_day),
            last=formatting.month_day_year(year.last_day),
        ),
        lines=tuple(office_line(context, row) for row in sheet.rows),
        rooms=tuple(room_lines(context, sheet.rows)),
        bands=tuple(_band(context, band) for band in sheet.bands),
        total=hours_in_words(sheet.player_minutes),
    )


def _band(context: Context, band: BandYear) -> BandHours:
    return BandHours(
        name=context.say(band.ensemble.name),
        players=str(band.ensemble.players or "–"),
        in_class=(str(band.in_class), hours_in_words(band.class_minutes)),
        beside=(str(band.beside), hours_in_words(band.beside_minutes)),
        missed=(str(band.periods), hours_in_words(band.minutes)),
        own=hours_in_words(band.own_minutes),
    )

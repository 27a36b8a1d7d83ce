"""The sheet that a family of one band hangs up before a concert."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from handbook.outputs import addresses
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import Sheet
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.concert import BandView, ConcertView


@dataclass(frozen=True, slots=True)
class FamilySheetView:
    """A concert's family page, for one `band` of it."""

    page: ConcertView
    band: BandView


def family_sheets(context: Context, cycle_id: str, view: ConcertView) -> Iterator[Sheet]:
    """Make a sheet for each band that plays or is the crew; none for a concert that is cancelled."""
    concert = view.concert
    if concert.item.cancelled:
        return
    for band in (*view.bands, *view.crew_bands):
        yield Sheet(
            path=addresses.concert_sheet(cycle_id, concert.id, context.language, "family", band.id),
            kind="family",
            # Translators: the title of a printed sheet.
            title=gettext(
                "%(concert)s: %(band)s", concert=context.say(concert.item.name), band=band.name
            ),
            view=FamilySheetView(view, band),
        )

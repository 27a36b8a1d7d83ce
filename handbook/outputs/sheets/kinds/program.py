"""The program of a concert, for its audience: single pages, and sheets to fold."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from handbook.outputs import addresses
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import Layout, Sheet

if TYPE_CHECKING:
    from handbook.outputs.pages.concert import ConcertView


def program_sheets(context: Context, cycle_id: str, view: ConcertView) -> Iterator[Sheet]:
    """Make the program as pages of half a sheet, and imposed for folding; none if it is cancelled."""
    concert = view.concert
    if concert.item.cancelled:
        return
    # Translators: the title of a printed sheet.
    title = gettext("%(concert)s: program", concert=context.say(concert.item.name))
    for name, layout in (("program", Layout.LEAVES), ("program-fold", Layout.FOLDED)):
        path = addresses.concert_sheet(cycle_id, concert.id, context.language, name)
        yield Sheet(path, "program", title, view, one_page=False, layout=layout)

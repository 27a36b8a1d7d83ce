"""The program of a concert, for its audience: single pages, and sheets to fold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from handbook.outputs import addresses
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.page import Context
from handbook.outputs.sheets.letter_widths import count_lines
from handbook.outputs.sheets.model import Layout, Sheet
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.concert import ConcertView

_LEAF_WIDTH, _BACK_LINES = 26, 20
"""How wide a leaf is in letters' sizes, and how many lines its last one has beside the code, about."""


@dataclass(frozen=True, slots=True)
class ProgramSheetView:
    """A concert's page as its program says it.

    Of the last leaf `thanks` and `access` stand before it where there are too many.
    """

    page: ConcertView
    thanks_before: bool
    access_before: bool


def program_sheets(context: Context, cycle_id: str, view: ConcertView) -> Iterator[Sheet]:
    """Make the program as pages of half a sheet, and imposed for folding; none if it is cancelled."""
    concert = view.concert
    if concert.item.cancelled:
        return
    # Translators: the title of a printed sheet.
    title = gettext("%(concert)s: program", concert=context.say(concert.item.name))
    shown = _view(context, view)
    for name, layout in (("program", Layout.LEAVES), ("program-fold", Layout.FOLDED)):
        path = addresses.concert_sheet(cycle_id, concert.id, context.language, name)
        yield Sheet(path, "program", title, shown, one_page=False, layout=layout)


def _view(context: Context, view: ConcertView) -> ProgramSheetView:
    access = _lines([context.say(view.concert.venue.access)])
    thanks = _lines([view.thanks, *map(context.say, view.concert.item.thanks)])
    ahead = _lines(line for one in view.next_concerts for line in (one.name, one.when))
    thanks_before = access + thanks + ahead > _BACK_LINES
    access_before = access + (0 if thanks_before else thanks) + ahead > _BACK_LINES
    return ProgramSheetView(view, thanks_before, access_before)


def _lines(texts: Iterable[str]) -> int:
    """Count the lines of texts below their heading."""
    taken = sum(count_lines(((bare(text), False),), _LEAF_WIDTH) for text in texts)
    return taken + 2 if taken else 0

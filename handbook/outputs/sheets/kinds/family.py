"""The sheet that a family of one band hangs up before a concert."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain, combinations
from typing import TYPE_CHECKING

from handbook.outputs import addresses
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.page import Context
from handbook.outputs.sheets.letter_widths import count_lines, text_width
from handbook.outputs.sheets.model import Sheet
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.concert import BandView, ConcertView, ThingView


_WIDTH, _COLUMN, _GAP = 43.0, 20.5, 1.4
"""How wide the page and one of two columns are, and what is between columns, in letters' sizes; of
A4, which is narrower than Letter."""
_TICK, _BESIDE = 1.4, 0.7
"""What a box to tick takes of a line, and the gap beside the time of a step."""
_HEADING, _SHORTER, _MOST = 1.9, 1.0, 42
"""How many lines a heading has, by how many the first column should be the shorter one, and how many
fit beside each other below the hours, about."""


@dataclass(frozen=True, slots=True)
class FamilySheetView:
    """A concert's family page, for one `band` of it.

    Of `after`, `access`, `parking` and `questions` the `first` stand in the first of two columns, so that
    both are about as long. Titles of the program stand below each other, or `in_a_row`.
    """

    page: ConcertView
    band: BandView
    first: frozenset[str]
    in_a_row: bool


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
            view=FamilySheetView(
                view, band, _in_first_column(context, view, band), _in_a_row(context, view)
            ),
        )


def _in_first_column(context: Context, view: ConcertView, band: BandView) -> frozenset[str]:
    """Part what may stand in either column so that the longer one is as short as can be.

    That is to be the second, of which the day may give way: where not all fits, the first is as
    short as can be.
    """
    fixed = _of_players(context, view, band), _of_day(context, view, band)
    venue, contact = view.concert.venue, view.contact
    asked = (context.say(contact.role), context.say(contact.hours), contact.email, contact.phone)
    rules = view.concert.item.pick_up_rules if band in view.bands else ()
    parts = {
        "after": _section(map(context.say, rules)),
        "access": _section((context.say(venue.access),)),
        "parking": _section((context.say(venue.parking),)),
        "questions": _section(asked),
    }

    def longer(names: Iterable[str]) -> float:
        first = sum(parts[name] for name in names)
        lines = max(fixed[0] + first + _SHORTER, fixed[1] + sum(parts.values()) - first)
        return lines if lines <= _MOST else _MOST + fixed[0] + first

    ways = chain.from_iterable(combinations(parts, count) for count in range(len(parts) + 1))
    return frozenset(min(ways, key=longer))


def _of_players(context: Context, view: ConcertView, band: BandView) -> float:
    """Count the lines of what always stands in the first column."""
    item, plays = view.concert.item, band in view.bands
    say = context.say
    wear = _section((), _own(view.attire, band.n)) + _lines((say(item.attire_note),))
    missed = _section(one.text for one in view.missed if one.n in (0, band.n))
    return (wear + _section((), _own(view.bring, band.n)) if plays else 0) + missed


def _of_day(context: Context, view: ConcertView, band: BandView) -> float:
    """Count the lines of what always stands in the second."""
    call = view.concert.item.on_the_day
    steps = [
        f"{step.what} {step.way}" for day in view.days if day.n == band.n for step in day.steps
    ]
    called = _section((context.say(call.role), call.phone)) if call else 0
    times = (step.time for day in view.days if day.n == band.n for step in day.steps)
    time = max((text_width(one, bold=True) for one in times), default=0)
    return called + (_HEADING + _lines(steps, _COLUMN - time - _BESIDE) if steps else 0)


def _own(things: Iterable[ThingView], n: int) -> list[str]:
    """Give what all have to wear or bring, and those of a band."""
    return [one.text for one in things if one.n in (0, n)]


def _section(texts: Iterable[str | None], ticked: Iterable[str] = ()) -> float:
    """Count the lines of a part with its heading; none where nothing is said."""
    lines = _lines(texts) + _lines(ticked, _COLUMN - _TICK)
    return lines + _HEADING if lines else 0


def _lines(texts: Iterable[str | None], room: float = _COLUMN, *, bold: bool = False) -> int:
    return sum(count_lines(((bare(text), bold),), room) for text in texts if text)


def _in_a_row(context: Context, view: ConcertView) -> bool:
    """Whether a program takes fewer lines with the titles of each band in a row."""
    titles = [[context.say(one.item.title) for one in turn.pieces] for turn in view.turns]
    column = (_WIDTH + _GAP) / max(1, len(titles)) - _GAP
    below = max((1 + _lines(of_band, column, bold=True) for of_band in titles), default=0)
    rows = sum(1 + _lines([" · ".join(of_band)], bold=True, room=_WIDTH) for of_band in titles)
    return rows + 1 < below

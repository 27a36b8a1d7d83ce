"""The days of a month in their squares, and what is left out so that all of them fit on a page."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass as mutable
from dataclasses import field
from datetime import date, datetime, time
from functools import partial
from itertools import groupby
from typing import TYPE_CHECKING

from handbook.outputs.html.formatting import clock
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import with_clauses
from handbook.outputs.i18n.other_language import bare
from handbook.outputs.sheets.letter_widths import count_lines, is_arabic
from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.pages.calendar import EventView

PLAIN_HOURS = range(7, 15)
"""Hours of which each stands once on the dial of a school's day, so that its number says enough."""
_LEAST_FIRST = ("rehearsal", "cancelled", "made-up", "altered", "closed", "apart", "concert")
_CONCERT = _LEAST_FIRST.index("concert")
_WORDS_OF_EVENT = _LEAST_FIRST.index("apart") - 0.5
"""Where an event is matters less than that it is on, and more than the rest."""
_POINTS, _LINE, _LARGER = 12, 13.1, 1.3
"""Points of a letter and of a line; those of a concert are larger."""
_ARABIC_LINE, _OTHER_LINE = 1.25, 1.05
"""How much higher a line is with Arabic letters in it, and with others that the site's own typeface lacks."""
_LAST_OF_LATIN = "\u00ff"
_LONG_NOTE = 20
"""Letters of a note that goes with the place, since it takes more than a line."""
_SIDES, _HEAD, _LEAST_LINES, _LOW_LINES = 4.1, 20, 3.2, 1.0
"""What the edges of a square and its number take of it, in points, and the fewest lines it has: usually,
and in a month that has no room for what lies outside of class."""


@dataclass(frozen=True, slots=True)
class MonthEvent:
    """What is on; `begins` is the hour at which it does, `who` whom it is for, if that is not all.

    `calls` say from when players are there, `place` where it is, if not where it always is; a
    concert is `large`, what is `off` is told as loud as an hour.
    """

    begins: str
    title: str
    who: str = ""
    calls: tuple[str, ...] = ()
    large: bool = False
    place: str = ""
    off: bool = False

    @property
    def words(self) -> str:
        """Say what is on, where and for whom, in one line; the place of a concert has its own."""
        place = "" if self.large else self.place
        return with_clauses(filter(None, (self.title, place, self.who)))

    @property
    def more(self) -> tuple[str, ...]:
        """Give the lines below it."""
        return tuple(filter(None, (self.place if self.large else "", *self.calls)))


@dataclass(frozen=True, slots=True)
class MonthGroup:
    """Events that are alike in what the calendar notes of them, such as dress rehearsals."""

    note: str
    events: tuple[MonthEvent, ...]


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A day with what is on; `rest` says how much of it, `more`, stands on the calendar's page alone.

    Without a `number` it is none of the month's.
    """

    number: str
    groups: tuple[MonthGroup, ...] = ()
    rest: str = ""
    more: int = 0


@mutable(slots=True)
class FullDay:
    """A day while its month is made to fit; `brief` where it no longer says where things are."""

    day: date
    all: Sequence[EventView]
    out: set[int] = field(default_factory=set)
    brief: bool = False

    @property
    def events(self) -> list[EventView]:
        """What is shown."""
        return [one for place, one in enumerate(self.all) if place not in self.out]

    def lines(self, width: float) -> float:
        """How many lines it takes in a square of some points, about."""
        room = (width - _SIDES) / _POINTS
        taken = 0.0
        for group in _groups(self.events, brief=self.brief):
            taken += _lines(((group.note, False),), room)
            for one in group.events:
                if one.large:
                    head = f"{one.begins} {one.title}"
                    taken += _LARGER * _lines(((head, True),), room / _LARGER)
                else:
                    taken += _lines(((one.begins, True), (one.words, one.off)), room)
                taken += sum(_lines(((more, False),), room) for more in one.more)
        return taken + _lines(((self._left_out_text(), False),), room)

    @property
    def spares(self) -> int:
        """How well something can be left out.

        3 if that is a place or in class, 2 where more is on, 1 if it is all, 0 if a concert is.
        """
        shown = self.events
        if not self.brief or any(_weight(one)[0] == 0 for one in shown):
            return 3
        if len(shown) > 1:
            return 2
        return 0 if any(one.kind == "concert" for one in shown) else 1

    @property
    def lacks_more_than_class(self) -> int:
        """How much is left out that no player learns of in class."""
        return sum(_weight(self.all[place])[0] >= _WORDS_OF_EVENT for place in self.out)

    def leave_out(self) -> None:
        """Leave out what the month can best do without: what is on in class.

        Where something is goes after that, else before.
        """
        shown = [place for place in range(len(self.all)) if place not in self.out]
        routine = [place for place in shown if _weight(self.all[place])[0] == 0]
        is_away = any(self.all[place].place for place in shown)
        if not self.brief and not (is_away and routine):
            self.brief = True
            return
        self.out.add(min(shown, key=lambda place: (_weight(self.all[place]), -place)))

    def take_back(self, place: int) -> None:
        """Show again what was left out."""
        self.out.discard(place)

    def shown(self) -> MonthDay:
        """Give the day as its square has it."""
        groups = tuple(_groups(self.events, brief=self.brief))
        return MonthDay(str(self.day.day), groups, self._left_out_text(), len(self.out))

    def _left_out_text(self) -> str:
        count = len(self.out)
        if not count:
            return ""
        if not self.events:
            return ngettext(
                "%(num)s date, see the calendar", "%(num)s dates, see the calendar", count
            )
        if all(self.all[place].kind == "rehearsal" for place in self.out):
            # Translators: in a square of a calendar, below what else is on that day.
            return ngettext("and %(num)s rehearsal", "and %(num)s rehearsals", count)
        return gettext("and %(number)s more", number=count)


Week = Sequence[FullDay | None]


def fit(weeks: Sequence[Week], widths: Sequence[float], room: float) -> bool:
    """Leave things out until all weeks fit in a height in points, and take back what has room yet.

    They are left out of days that make their week as high as it is; the last that a day has goes
    at last, and a concert after all. Give whether weeks may be lower than usual, which they may
    if that keeps what is outside of class.
    """
    days = [day for week in weeks for day in week if day]

    def lacking(least: float) -> int:
        for day in days:
            _restore(day, brief=False, out=set())
        _fit(weeks, widths, room, least)
        return sum(day.lacks_more_than_class for day in days)

    usual = lacking(_LEAST_LINES)
    if usual and lacking(_LOW_LINES) < usual:
        return True
    lacking(_LEAST_LINES)
    return False


def _fit(weeks: Sequence[Week], widths: Sequence[float], room: float, least: float) -> None:
    squares = _Squares(weeks, widths, least)
    while squares.height() > room:
        some = [day for day in squares.highest() if day.events and squares.lines(day) > least]
        if not some:
            return
        day = max(some, key=lambda one: (one.spares, squares.lines(one)))
        squares.change(day, day.leave_out)
    for day, take_back in _taken_back(weeks):
        before = partial(_restore, day, brief=day.brief, out=set(day.out))
        squares.change(day, take_back)
        if squares.height() > room:
            squares.change(day, before)


class _Squares:
    """All days with the lines that they take, counted again only where something changed."""

    def __init__(self, weeks: Sequence[Week], widths: Sequence[float], least: float) -> None:
        self._least = least
        self._weeks = [[day for day in week if day] for week in weeks]
        self._widths = {
            day.day: width for week in weeks for day, width in zip(week, widths, strict=True) if day
        }
        self._lines = {day.day: self._count(day) for week in self._weeks for day in week}

    def _count(self, day: FullDay) -> float:
        return day.lines(self._widths[day.day])

    def lines(self, day: FullDay) -> float:
        return self._lines[day.day]

    def highest(self) -> list[FullDay]:
        return [max(week, key=self.lines) for week in self._weeks]

    def height(self) -> float:
        return sum(_HEAD + _LINE * max(self.lines(day), self._least) for day in self.highest())

    def change(self, day: FullDay, how: Callable[[], object]) -> None:
        how()
        self._lines[day.day] = self._count(day)


def _taken_back(weeks: Sequence[Week]) -> list[tuple[FullDay, Callable[[], object]]]:
    """Give what was left out, the weightiest first: what is on, and where it is."""
    found = [one for week in weeks for day in week if day for one in _left_out_of(day)]
    found.sort(key=lambda one: -one[0])
    return [(day, how) for _, day, how in found]


def _left_out_of(day: FullDay) -> Iterator[tuple[float, FullDay, Callable[[], object]]]:
    if day.brief:
        has_concert = any(_weight(one)[0] == _CONCERT for one in day.all)
        weight = _CONCERT - 0.5 if has_concert else _WORDS_OF_EVENT
        yield weight, day, partial(_restore, day, brief=False)
    for place in sorted(day.out):
        yield _weight(day.all[place])[0], day, partial(day.take_back, place)


def _restore(day: FullDay, *, brief: bool, out: set[int] | None = None) -> None:
    day.brief = brief
    if out is not None:
        day.out = out


def _lines(runs: tuple[tuple[str, bool], ...], room: float) -> float:
    """Count the lines of runs of text, bold or not, in lines of the site's own letters."""
    shown = tuple((bare(text), bold) for text, bold in runs)
    letters = [letter for text, _ in shown for letter in text if letter.isalpha()]
    arabic = sum(map(is_arabic, letters))
    if arabic:
        higher = 1 + (_ARABIC_LINE - 1) * arabic / len(letters)
    else:
        higher = _OTHER_LINE if max(letters, default="") > _LAST_OF_LATIN else 1
    return higher * count_lines(shown, room)


def _groups(events: Sequence[EventView], *, brief: bool) -> Iterator[MonthGroup]:
    """Part events by what is noted of them, unless the day itself is called so."""
    called = {event.title for event in events}
    for note, alike in groupby(events, key=lambda one: "" if one.note in called else one.note):
        shown = "" if brief and len(bare(note)) > _LONG_NOTE else note
        yield MonthGroup(shown, tuple(_event(one, brief=brief) for one in alike))


def _event(event: EventView, *, brief: bool) -> MonthEvent:
    return MonthEvent(
        _hour(event),
        event.title,
        event.readers,
        event.calls or ((event.call,) if event.call else ()),
        event.kind == "concert",
        "" if brief else event.place,
        "cancelled" in event.kind.split(),
    )


def _hour(event: EventView) -> str:
    """Give the hour at which something begins, a number alone where that says enough."""
    starts = event.starts or (event.sort if event.sort.time() != time() else None)
    if not event.time or not starts:
        return event.time
    return hour_number(starts) if starts.hour in PLAIN_HOURS else clock(starts)


def hour_number(moment: datetime) -> str:
    """Write an hour without am or pm."""
    written = clock(moment)
    found = re.search(r"\d[\d:.]*", written)
    return found[0] if found else written


def _weight(event: EventView) -> tuple[int, bool]:
    kinds = event.kind.split()
    if "rehearsal" in kinds and event.sort.hour not in PLAIN_HOURS:
        # Families plan their evening by it, as by an event.
        return _LEAST_FIRST.index("apart"), bool(event.note)
    ranks = (n for n, kind in enumerate(_LEAST_FIRST) if kind in kinds)
    return next(ranks, len(_LEAST_FIRST)), bool(event.note)

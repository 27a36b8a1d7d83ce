"""Where history stands on pages, and what stands there."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from enum import Enum

from markupsafe import escape

from handbook.outputs import addresses
from handbook.outputs.history.change_lines import ChangeLine
from handbook.outputs.history.told_changes import (
    PageNote,
    Since,
    ToldChanges,
    ToldPublication,
)
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, gettext_noop
from handbook.outputs.i18n.other_language import told as told_in_html
from handbook.records import dataclass


class InsetPlace(Enum):
    """A place on pages, by the text that stands there in the templates, in the page's language."""

    TOP = '<main id="main" tabindex="-1">\n'
    FOOT = '<p class="small">{words}'
    CHOOSER = '<div class="chooser"'
    PAST = '<p class="after" data-past>'
    NO_CHANGES = '<p class="over">{words}</p>\n'

    @property
    def text(self) -> str:
        """The text of the place in the language of the moment."""
        words = _PLACE_WORDS.get(self)
        return self.value.format(words=gettext(words)) if words else self.value


_PLACE_WORDS = {
    InsetPlace.FOOT: gettext_noop(
        "All times are the school’s local time. This site sets no cookies and loads nothing from elsewhere."
    ),
    InsetPlace.NO_CHANGES: gettext_noop("No changes are listed here yet."),
}


@dataclass(frozen=True, slots=True)
class SetIn:
    """HTML for a place, and the text that stands there on the page."""

    place: InsetPlace
    text: str
    html: str


Inset = tuple[SetIn, ...]
"""HTML by its place: after the top, in place of the sentence on no changes, else before it."""


@dataclass(frozen=True, slots=True)
class ReadersView:
    """The lines for some readers; `who` are the places of their ensembles in the filter, from 1."""

    heading: str
    who: tuple[int, ...]
    lines: tuple[ChangeLine, ...]


@dataclass(frozen=True, slots=True)
class PublicationView:
    """One publication; `who` are the places of all that it concerns."""

    number: int
    day: str
    time: str
    first: bool
    who: tuple[int, ...]
    readers: tuple[ReadersView, ...]
    more: int


@dataclass(frozen=True, slots=True)
class CycleChangesView:
    """The publications of a cycle."""

    name: str
    publications: tuple[PublicationView, ...]


@dataclass(frozen=True, slots=True)
class ChangesView:
    """The list; `unchanged` gives the day of the only publication, if there was but one.

    `older` if there are some that the page does not hold.
    """

    ensembles: tuple[tuple[str, str], ...]
    cycles: tuple[CycleChangesView, ...]
    unchanged: str
    older: bool
    feed: str


@dataclass(frozen=True, slots=True)
class SinceView:
    """What the first page says to readers who have been there before; `told_plainly` if also without scripts."""

    since: Since
    told_plainly: bool
    day: str
    changes: str


@dataclass(frozen=True, slots=True)
class NotesView:
    """What a page says at its top."""

    notes: tuple[tuple[str, PageNote], ...]
    changes: str


Drawing = Callable[[str, object, str], str]
"""Makes HTML of a template's name, its view and the way to the root."""


def inset_of(path: str, told: ToldChanges, draw: Drawing) -> Inset:
    """Give what is set into the page at an address, in the language of the moment, which is the page's."""
    language = told.site.language
    return tuple(
        SetIn(place, place.text, told_in_html(html, language).html)
        for place, html in _insets(path, told, draw)
    )


def set_in(page: str, inset: Inset) -> str:
    """Set HTML into a page; raises ValueError if a place is not there.

    What authors write stands after the top and before the foot, and is never taken for them.
    """
    for one in inset:
        top = one.place is InsetPlace.TOP
        before, found, after = (page.partition if top else page.rpartition)(one.text)
        if not found:
            raise ValueError(f"no place {one.place.name} on the page")
        keep = "" if one.place is InsetPlace.NO_CHANGES else found
        page = f"{before}{keep}{one.html}{after}" if top else f"{before}{one.html}{keep}{after}"
    return page


def _insets(path: str, told: ToldChanges, draw: Drawing) -> Iterator[tuple[InsetPlace, str]]:
    root = addresses.root_of(path)
    changed = told.changed(path)
    if changed and path != addresses.CHANGES:  # which has a date for everything on it
        day = formatting.month_day_year(changed)
        last = escape(gettext("Last changed %(day)s.", day=day))
        yield InsetPlace.FOOT, f'<p class="small">{last}</p>\n'
    notes = tuple((formatting.month_day(note.day), note) for note in told.notes(path))
    if notes:
        yield InsetPlace.TOP, draw("notes", NotesView(notes, addresses.CHANGES), root)
    if path == addresses.TODAY:
        since = told.since()
        plainly = any(one.first <= since.before <= one.last for one in since.lines)
        day = formatting.month_day(since.day)
        view = SinceView(since, plainly, day, addresses.CHANGES)
        yield InsetPlace.CHOOSER, draw("since", view, root)
        link = f'<a href="{root}{addresses.CHANGES}">{escape(gettext("All changes"))}</a>'
        yield InsetPlace.PAST, f'<p class="after">{link}</p>\n'
    if path == addresses.CHANGES:
        yield InsetPlace.NO_CHANGES, draw("changes", _changes(told), root)


def _changes(told: ToldChanges) -> ChangesView:
    cycles = tuple(
        CycleChangesView(cycle.name, tuple(_publication(told, one) for one in cycle.publications))
        for cycle in told.by_cycle()
    )
    shown = [one for cycle in cycles for one in cycle.publications]
    only = shown[0].day if len(shown) == 1 and shown[0].first else ""
    ensembles = tuple(told.site.ensembles.items())
    older = len(shown) < len(told.history.standing)
    return ChangesView(ensembles, cycles, only, older, addresses.CHANGES_FEED)


def _publication(told: ToldChanges, one: ToldPublication) -> PublicationView:
    readers = tuple(by_readers(one.lines, told.site.ensembles))
    everyone = tuple(range(1, len(told.site.ensembles) + 1))
    concerned = {place for view in readers for place in view.who}
    return PublicationView(
        number=one.number,
        day=formatting.long_day(one.moment.date()),
        time=formatting.clock(one.moment),
        first=one.first,
        who=tuple(sorted(concerned)) if readers else everyone,
        readers=readers,
        more=one.more,
    )


def by_readers(
    lines: tuple[ChangeLine, ...], ensembles: Mapping[str, str]
) -> Iterator[ReadersView]:
    """Put lines together by whom they concern, in the order of the ensembles; first what is for everyone.

    An ensemble that is no longer one goes by its id.
    """
    places = {one: place for place, one in enumerate(ensembles, 1)}
    by: dict[tuple[str, ...], list[ChangeLine]] = {}
    for line in lines:
        by.setdefault(line.readers, []).append(line)
    order = sorted(by, key=lambda readers: [places.get(one, len(places) + 1) for one in readers])
    for readers in order:
        names = formatting.listed([ensembles.get(one, one) for one in readers])
        known = tuple(sorted(places[one] for one in readers if one in places))
        who = known if readers else tuple(places.values())
        heading = gettext("For %(bands)s", bands=names) if names else gettext("For everyone")
        yield ReadersView(heading, who, tuple(by[readers]))

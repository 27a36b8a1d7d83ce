"""How to have the dates in one's own calendar, where they change by themselves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from urllib.parse import quote

from handbook.domain.calendar_events import CalendarEvent
from handbook.domain.calendar_records import Why
from handbook.outputs import addresses
from handbook.outputs.feeds.entries import cycle_entries, lost_of
from handbook.outputs.feeds.files import Feed, feeds_of
from handbook.outputs.i18n import gettext
from handbook.outputs.i18n.formats import with_commas
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.outputs.web_address import LEFT_IN_ADDRESSES, web_address
from handbook.plan.model import CyclePlan
from handbook.records import dataclass

_GOOGLE = "https://calendar.google.com/calendar/r?cid="


@dataclass(frozen=True, slots=True)
class FeedView:
    """A calendar: its file and, where the site's address is known, the ways to subscribe to it.

    `id` is its place on the page, `band` the id of the band it is of, if it is of one, or of the group.
    """

    id: str
    name: str
    what: str
    band: str
    file: str
    address: str
    webcal: str
    google: str


@dataclass(frozen=True, slots=True)
class SubscribeView:
    """The page; `of_bands` says what the calendar of a band holds. Without an address nobody can subscribe."""

    feeds: tuple[FeedView, ...]
    of_bands: str
    has_address: bool
    today: str


@dataclass(frozen=True, slots=True)
class CycleEntries:
    """The entries of a cycle, of which the calendars are made, and why rehearsals are `lost`."""

    entries: tuple[CalendarEvent, ...]
    lost: Mapping[str, Why]


def share(context: Context, cycle: CyclePlan) -> CycleEntries:
    """Give what a cycle adds to the calendars."""
    return CycleEntries(cycle_entries(context, cycle), lost_of(context, cycle))


def pages(context: Context, _cycles: Sequence[CycleEntries]) -> Iterator[Page]:
    """Make the page."""
    feeds = tuple(_feed(context, feed) for feed in feeds_of(context))
    title = gettext("Dates in your own calendar")
    yield Page(
        path=addresses.SUBSCRIBE,
        kind="subscribe",
        title=title,
        description=gettext(
            "Subscribe to the dates of a band, or of all, on a phone or a computer."
        ),
        section="calendar",
        view=SubscribeView(
            feeds,
            gettext(
                "A band’s calendar has its rehearsals, concerts and events, at this band’s own times."
            )
            if any(feed.band for feed in feeds)
            else "",
            bool(_root(context)),
            addresses.TODAY,
        ),
        crumbs=(Link(gettext("Calendar"), addresses.CALENDAR),),
        search=(
            SearchEntry(
                title,
                gettext(
                    "Subscribe on a phone or a computer. %(calendars)s.",
                    calendars=with_commas(feed.name for feed in feeds),
                ),
                keywords="subscribe app phone iphone android google apple outlook ics sync download",
            ),
        ),
    )


def _root(context: Context) -> str:
    root = web_address(context.plan.program.address) or ""
    return quote(root, safe=LEFT_IN_ADDRESSES)


def _feed(context: Context, feed: Feed) -> FeedView:
    root = _root(context)
    address = f"{root}{feed.path}" if root else ""
    webcal = f"webcal:{address.partition(':')[2]}" if root else ""
    what = ""
    if not feed.readers:
        what = gettext("Rehearsals, concerts and events of all bands, and the days without school.")
    if feed.concerts_only:
        what = gettext("All concerts, from the first call to the last pick-up.")
    of_all = "concerts-only" if feed.concerts_only else "everything"
    return FeedView(
        id=f"band-{feed.band}" if feed.band else of_all,
        name=feed.name,
        what=what,
        band=feed.band,
        file=feed.path,
        address=address,
        webcal=webcal,
        google=f"{_GOOGLE}{quote(webcal, safe='')}" if root else "",
    )

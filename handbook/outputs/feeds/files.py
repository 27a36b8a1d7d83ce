"""Files of the calendars: those to which readers subscribe, and those taken over once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from urllib.parse import quote

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.calendar_records import (
    BEFORE_ALL,
    NOTHING_LOST,
    Why,
    in_time,
    records_of,
    shown_records,
)
from handbook.domain.history import History
from handbook.outputs import addresses
from handbook.outputs.feeds.ics import FeedHead, calendar_text, entry_text
from handbook.outputs.i18n import gettext
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context
from handbook.outputs.web_address import LEFT_IN_ADDRESSES, web_address
from handbook.plan.players import everyone
from handbook.records import dataclass

_MOST_ENTRIES = 3000  # of one calendar, the latest: about 1 MB, some three years of six bands


@dataclass(frozen=True, slots=True)
class Feed:
    """A calendar to which one subscribes: of a `band` (or a group of one, by its id), or of all.

    `readers` are the ids of the ensembles it is for, none for everyone.
    """

    name: str
    path: str
    band: str = ""
    readers: frozenset[str] = frozenset()
    concerts_only: bool = False


def not_any_more() -> str:
    """Say of a rehearsal that was published and is not held, if nothing else is known of it."""
    return gettext("No rehearsal that day any more")


def feeds_of(context: Context) -> tuple[Feed, ...]:
    """List the calendars: of each band, with those of its groups, of everything, of concerts.

    They are there whether they have entries or not: who has subscribed is to go on.
    """
    return (
        *_feeds_of_bands(context),
        Feed(gettext("Everything"), addresses.FEED_OF_ALL),
        Feed(gettext("Concerts only"), addresses.FEED_OF_CONCERTS, concerts_only=True),
    )


def _feeds_of_bands(context: Context) -> Iterator[Feed]:
    for band in context.plan.program.ensembles:
        groups = everyone([band])
        for one in (band, *(group for group in groups if group.id != band.id)):
            own = groups if one.id == band.id else (one,)
            readers = frozenset(each.id for each in own)
            yield Feed(context.say(one.name), addresses.feed(one.id), one.id, readers)


def feed_files(
    context: Context,
    entries: Sequence[CalendarEvent],
    history: History,
    lost: Mapping[str, Why] = NOTHING_LOST,
) -> Iterator[OutputFile]:
    """Write all calendars of the `entries` of a plan, with what was published before.

    `lost` says why a rehearsal is, by its key. The same content and history give the same bytes on any day.
    """
    records = records_of(entries, history, lost, not_any_more())
    shown = shown_records(records.values(), history.instant)
    program = context.plan.program
    known = web_address(program.address) or ""
    root = quote(known, safe=LEFT_IN_ADDRESSES)
    written = {record.event.uid: entry_text(record, root) for record in shown}
    for feed in feeds_of(context):
        found = [record.event for record in shown]
        chosen = _concerts(found) if feed.concerts_only else selected(found, feed.readers)
        head = FeedHead(
            _name(context.say(program.name), feed.name),
            f"{root}{feed.path}" if root else "",
            f"{root}{addresses.SUBSCRIBE}" if root else "",
        )
        texts = [written[event.uid] for event in chosen[-_MOST_ENTRIES:]]
        yield OutputFile(feed.path, calendar_text(texts, head))
    yield from _single_files(context, entries, records, root)


def _name(program: str, feed: str) -> str:
    if feed == program:
        return program
    return gettext("%(program)s: %(calendar)s", program=program, calendar=feed)


def selected(
    entries: Iterable[CalendarEvent], readers: frozenset[str] = frozenset()
) -> list[CalendarEvent]:
    """Choose what stands in the calendar of some `readers`, or in that of everyone.

    What is the same for all stands once in the calendar of everyone, and so do the days without
    school, which have no page of their own; a band's calendar has its own hours in its place.
    """
    if not readers:
        return [one for one in entries if not one.whole]
    found = [
        one
        for one in entries
        if one.path != addresses.CALENDAR
        and (not one.readers or not readers.isdisjoint(one.readers))
    ]
    replaced = {one.whole for one in found}
    return [one for one in found if one.key not in replaced]


def _concerts(entries: Iterable[CalendarEvent]) -> list[CalendarEvent]:
    return [one for one in selected(entries) if one.is_concert]


def _single_files(
    context: Context,
    entries: Iterable[CalendarEvent],
    records: Mapping[str, EventRecord],
    root: str,
) -> Iterator[OutputFile]:
    """Write what the pages of concerts and events offer to be taken over once."""
    known = {record.event.key: record for record in records.values()}
    of_pages: dict[str, list[CalendarEvent]] = {}
    for entry in sorted(entries, key=in_time):
        if has_own_file(entry):
            of_pages.setdefault(entry.path, []).append(entry)

    def file(path: str, chosen: Iterable[CalendarEvent]) -> OutputFile:
        found = (known.get(one.key) or EventRecord(one, 0, BEFORE_ALL) for one in chosen)
        return OutputFile(path, calendar_text(entry_text(record, root) for record in found))

    for page, found in of_pages.items():
        yield file(addresses.entry_file(page), selected(found))
        for band in context.plan.program.ensembles:
            own = selected(found, frozenset(one.id for one in everyone([band])))
            if any(one.whole for one in own):
                yield file(addresses.entry_file(page, band.id), own)


def has_own_file(entry: CalendarEvent) -> bool:
    """Whether the page that an entry leads to is about it: that of a concert or an event."""
    return "#" not in entry.path and entry.path != addresses.CALENDAR

"""Calendars as iCalendar text (RFC 5545, RFC 7986); times are in UTC, so that no zone is to be told."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.calendar_records import BEFORE_ALL
from handbook.outputs.i18n import gettext
from handbook.records import dataclass

_MOST_OCTETS = 75  # of a line, without its end (RFC 5545 3.1)
_ESCAPED = str.maketrans({"\\": r"\\", ";": r"\;", ",": r"\,", "\n": r"\n"})  # RFC 5545 3.3.11
_LINE_ENDS = re.compile(r"\r\n?|[\x85\u2028\u2029]")
_CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")  # may stand nowhere (RFC 5545 3.1)
_PRODUCT = "-//handbook//calendars//EN"
_EVERY = "PT6H"
"""How often a client may ask. Some ask once a day, whatever stands here."""

# A calendar must hold a component (RFC 5545 3.6). One without entries, as before the first
# cycle of a band is written, has this zone: it says nothing, and the address goes on working.
_NOTHING = (
    "BEGIN:VTIMEZONE",
    "TZID:Etc/UTC",
    "BEGIN:STANDARD",
    "DTSTART:19700101T000000",
    "TZOFFSETFROM:+0000",
    "TZOFFSETTO:+0000",
    "END:STANDARD",
    "END:VTIMEZONE",
)


@dataclass(frozen=True, slots=True)
class FeedHead:
    """What a calendar that is asked for again and again says of itself.

    `source` is its own address, `page` that of the page about it; empty if not known.
    """

    name: str
    source: str = ""
    page: str = ""


def calendar_text(entries: Iterable[str], head: FeedHead | None = None) -> bytes:
    """Write a calendar of entries as `entry_text` gives them; without a head one to be taken over once.

    No METHOD is said: with PUBLISH an organizer would have to be named (RFC 5546 3.2.1).
    """
    before = (
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{_PRODUCT}",
        *(_head(head) if head else ()),
    )
    within = "".join(entries) or _lines(_NOTHING)
    return f"{_lines(before)}{within}{_lines(['END:VCALENDAR'])}".encode()


def entry_text(record: EventRecord, root: str) -> str:
    """Write an entry; `root` is where the site stands, with a slash at its end, empty if not known."""
    return _lines(_entry(record, root))


def _head(head: FeedHead) -> Iterator[str]:
    yield f"NAME:{_text(head.name)}"
    yield f"X-WR-CALNAME:{_text(head.name)}"  # what most clients read in place of NAME
    yield f"REFRESH-INTERVAL;VALUE=DURATION:{_EVERY}"
    yield f"X-PUBLISHED-TTL:{_EVERY}"
    if head.source:
        yield f"SOURCE;VALUE=URI:{head.source}"
    if head.page:
        yield f"URL:{head.page}"


def _entry(record: EventRecord, root: str) -> Iterator[str]:
    event = record.event
    yield "BEGIN:VEVENT"
    yield f"UID:{_text(event.uid)}"
    yield f"DTSTAMP:{_moment(record.changed)}"
    if record.changed != BEFORE_ALL:
        yield f"LAST-MODIFIED:{_moment(record.changed)}"
    yield f"SEQUENCE:{record.sequence}"
    yield _when("DTSTART", event.starts)
    if event.ends != event.starts:  # it has no length, then, and must have no end (3.8.2.2)
        yield _when("DTEND", event.ends)
    # A client that subscribes drops what has the status CANCELLED, so that nobody reads
    # that it was cancelled. The title says it, and the status stays.
    yield f"SUMMARY:{_text(_title(event))}"
    yield "STATUS:CONFIRMED"
    if event.cancelled or not isinstance(event.starts, datetime):
        yield "TRANSP:TRANSPARENT"  # the reader is not taken for busy
    if event.place:
        yield f"LOCATION:{_text(event.place)}"
    page = f"{root}{event.path}" if root and event.path else ""
    if about := "\n".join(filter(None, (event.about, page))):  # few clients show the URL
        yield f"DESCRIPTION:{_text(about)}"
    if page:
        yield f"URL:{page}"
    yield "END:VEVENT"


def _title(event: CalendarEvent) -> str:
    return gettext("CANCELLED - %(event)s", event=event.title) if event.cancelled else event.title


def _lines(lines: Iterable[str]) -> str:
    return "".join(f"{_folded(line)}\r\n" for line in lines)


def _when(name: str, at: datetime | date) -> str:
    if isinstance(at, datetime):
        return f"{name}:{_moment(at)}"
    return f"{name};VALUE=DATE:{at:%Y%m%d}"


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(words: str) -> str:
    return _CONTROLS.sub("", _LINE_ENDS.sub("\n", words)).translate(_ESCAPED)


def _folded(line: str) -> str:
    """Break a line that is too long; no character of several octets is split."""
    if len(line.encode()) <= _MOST_OCTETS:
        return line
    parts, part, octets = list[str](), "", 0
    for sign in line:
        size = len(sign.encode())
        if octets + size > _MOST_OCTETS:
            parts.append(part)
            part, octets = " ", 1
        part, octets = part + sign, octets + size
    return "\r\n".join((*parts, part))

"""Entries of the calendars that readers subscribe to, and how often each has changed."""

from __future__ import annotations

import hashlib
from datetime import UTC, date, datetime

from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class CalendarEvent:
    """One entry of a calendar.

    The `uid` stays for life: the key of what it is, an `@`, and what tells this program's
    entries from those of others. It lasts from `starts` to `ends`: moments with their zone, or
    dates, of which the last is the day after it is over (RFC 5545 3.6.1). `path` is the
    address of its page from the root of the site; `readers` are ids of ensembles, none for
    everyone. `whole` is the key of the entry for everyone, where this is one band's own.
    """

    uid: str
    title: str
    starts: datetime | date
    ends: datetime | date
    place: str = ""
    about: str = ""
    path: str = ""
    readers: tuple[str, ...] = ()
    is_concert: bool = False
    cancelled: bool = False
    whole: str = ""

    @property
    def key(self) -> str:
        """What it is, whatever the program is called."""
        return key_in(self.uid)

    @property
    def digest(self) -> str:
        """The digest of all that a subscriber sees, in whatever zone its moments are told."""
        seen = (self.uid, self.title, _told(self.starts), _told(self.ends), self.place, self.about)
        rest = (self.path, self.readers, self.is_concert, self.cancelled, self.whole)
        return hashlib.sha256(repr((*seen, *rest)).encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class EventRecord:
    """An entry as it was last published, how often it had changed by then, and when it last did (UTC)."""

    event: CalendarEvent
    sequence: int
    changed: datetime


def key_in(uid: str) -> str:
    """Give what an entry is, without what tells the programs apart."""
    return uid.partition("@")[0]


def _told(moment: datetime | date) -> str:
    if isinstance(moment, datetime):
        return moment.astimezone(UTC).isoformat()
    return moment.isoformat()

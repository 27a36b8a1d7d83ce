"""What was published: numbered publications, the facts of the last one, what has changed since when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import datetime

from handbook.domain.calendar_events import EventRecord
from handbook.domain.facts import Fact, FactChange, compose
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class Publication:
    """One publication; `number` counts from 1, `instant` is in UTC, in whole seconds.

    `site` is the digest of its files, empty as long as they are being made. `changes` lead to
    it from the publication that stood before it. `undone` once it was taken back.
    """

    number: int
    instant: datetime
    site: str
    changes: tuple[FactChange, ...] = ()
    undone: bool = False


@dataclass(frozen=True, slots=True)
class PageRecord:
    """How a page was last published: the digest of its own words, and when they last changed (UTC)."""

    digest: str
    changed: datetime


@dataclass(frozen=True, slots=True)
class History:
    """All that is known of earlier publications, and of the one that is `coming`, if one is made.

    `facts` are those of the last publication that stands. `pages` go by their addresses,
    `events` by their UIDs. `program` is the name of the program that was published last, `zone`
    its time zone. A build that is no publication has nothing coming.
    """

    publications: tuple[Publication, ...] = ()
    facts: tuple[Fact, ...] = ()
    pages: Mapping[str, PageRecord] = field(default_factory=dict)
    events: Mapping[str, EventRecord] = field(default_factory=dict)
    coming: Publication | None = None
    program: str = ""
    zone: str = ""

    @property
    def standing(self) -> tuple[Publication, ...]:
        """The publications that were not taken back, the newest first, with the coming one."""
        coming = (self.coming,) if self.coming else ()
        past = (one for one in reversed(self.publications) if not one.undone)
        return (*coming, *past)

    @property
    def instant(self) -> datetime | None:
        """When the newest publication that stands was made; None before the first."""
        return self.standing[0].instant if self.standing else None

    @property
    def next_number(self) -> int:
        """The number that the next publication gets; none is given twice."""
        return 1 + max((one.number for one in self.publications), default=0)

    def since(self, number: int) -> tuple[FactChange, ...]:
        """Give what changed, as a whole, for who has last looked at the publication of this number.

        Who has looked at one that was taken back is told of that too.
        """
        seen = next((one for one in self.publications if one.number == number), None)
        taken_back = seen.changes if seen and seen.undone else ()
        changes = compose((), (FactChange(one.new, one.old) for one in taken_back))
        for publication in reversed(self.standing):
            if publication.number > number:
                changes = compose(changes, publication.changes)
        return changes

    def page_changed(self, path: str, digest: str) -> datetime | None:
        """When the words of a page with this digest last changed; None if they are not published yet."""
        known = self.pages.get(path)
        if known and known.digest == digest:
            return known.changed
        return self.coming.instant if self.coming else None


NO_HISTORY = History()
"""Before the first publication."""

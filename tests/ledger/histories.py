"""A small history: two publications, of which the second moved the winter concert's call."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.facts import Fact, ToldFact, Topic, compare
from handbook.domain.history import History, PageRecord, Publication

FIRST = datetime(2026, 11, 20, 18, 3, tzinfo=UTC)
SECOND = datetime(2026, 12, 1, 7, 30, 12, tzinfo=UTC)
DAY = date(2026, 12, 17)

CALL = Fact("winter/concert/call", ("lantern",), Topic.CALL, "Call", "5:45 pm “sharp”", DAY)
ATTIRE = Fact(
    "winter/concert/attire",
    (),
    Topic.THINGS,
    "Clothes",
    "all black",
    told=(ToldFact("es", "Ropa", "todo negro"),),
)
EARLIER = (replace(CALL, value="6:00 pm"), ATTIRE)
LATER = (CALL, ATTIRE)

CONCERT = CalendarEvent(
    "winter.concert@handbook",
    "Winter concert",
    datetime(2026, 12, 17, 17, 45, tzinfo=ZoneInfo("America/Chicago")),
    datetime(2026, 12, 17, 21, 0, tzinfo=ZoneInfo("America/Chicago")),
    place="Hall",
    is_concert=True,
)
BREAK = CalendarEvent("year.closure@handbook", "No school", DAY, date(2026, 12, 18))


def digest(text: str) -> str:
    """Give a digest as files have them."""
    return hashlib.sha256(text.encode()).hexdigest()


HISTORY = History(
    publications=(
        Publication(1, FIRST, digest("first site")),
        Publication(2, SECOND, digest("second site"), compare(EARLIER, LATER)),
    ),
    facts=LATER,
    pages={"": PageRecord(digest("home"), FIRST), "winter/": PageRecord(digest("w"), SECOND)},
    events={
        CONCERT.uid: EventRecord(CONCERT, 1, SECOND),
        BREAK.uid: EventRecord(BREAK, 0, FIRST),
    },
    program="Cedar Hollow Bands",
    zone="America/Chicago",
)

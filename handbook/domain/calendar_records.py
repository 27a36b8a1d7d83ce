"""Which entries the calendars show, and how often each has changed since it was first published."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.history import History
from handbook.records import dataclass

BEFORE_ALL = datetime(2000, 1, 1, tzinfo=UTC)
"""Stands for the last change where nothing was published yet: no clock is asked."""


@dataclass(frozen=True, slots=True)
class LabelMove:
    """Days after a closure have other labels: the key of its entry, its first day, and words that tell of it."""

    closure: str
    day: date
    words: str


Why = str | tuple[LabelMove, ...]
"""Why a rehearsal is not held: in words, or the closures that may have given its day another label."""

NOTHING_LOST: Mapping[str, Why] = {}
NOT_ANY_MORE = "No rehearsal that day any more"
_REHEARSAL = ".rehearsal."
_LONG = timedelta(days=366)  # a school year later nobody looks an entry up
_EVERYWHERE = timedelta(hours=12)  # by then a date has ended everywhere on Earth


def records_of(
    events: Iterable[CalendarEvent],
    history: History,
    lost: Mapping[str, Why] = NOTHING_LOST,
    gone: str = NOT_ANY_MORE,
) -> Mapping[str, EventRecord]:
    """Give what is to be known of each entry once these `events` are published, by its UID.

    An entry that is unlike the one last published has changed once more, at the instant of
    the history's newest publication (RFC 5545 3.8.7.4, 3.8.7.2). One that was published, is not
    over and is gone is kept as cancelled, and tells in place of all else why it is `lost`, by
    its key, as far as that is known; closures are a reason as long as they are new. A rehearsal
    of which nothing is known is `gone`. It leads to the top of its page, which tells what has
    changed. UIDs stay those of the first publication,
    by whatever name the program went then; counts never go back.
    """
    now, found = history.instant, dict[str, EventRecord]()
    known = {record.event.key: record for record in history.events.values()}
    mark = min(history.events, default="").partition("@")[2]
    new = set[str]()
    for event in events:
        before = known.pop(event.key, None)
        if before is None or before.event.cancelled:
            new.add(event.key)
        uid = before.event.uid if before else f"{event.key}@{mark}" if mark else event.uid
        record = _record(replace(event, uid=uid), before, now)
        if record.sequence or not _over(record.event, now, _LONG):
            found[uid] = record
    for before in known.values():
        why = _why_gone(before, lost.get(before.event.key, ""), new, gone)
        record = _gone(before, now, why)
        if record.sequence or not _over(record.event, now):
            found[record.event.uid] = record
    return found


def shown_records(records: Iterable[EventRecord], now: datetime | None) -> tuple[EventRecord, ...]:
    """Leave out what was over long before `now`, and what is cancelled once it would be over.

    In order of time.
    """
    shown = (
        record
        for record in records
        if not _over(record.event, now, timedelta() if record.event.cancelled else _LONG)
    )
    return tuple(sorted(shown, key=lambda record: in_time(record.event)))


def in_time(event: CalendarEvent) -> tuple[datetime, str]:
    """Give that by which entries stand in order of time."""
    if isinstance(event.starts, datetime):
        return event.starts.astimezone(UTC), event.uid
    return datetime.combine(event.starts, time(), UTC), event.uid


def _record(event: CalendarEvent, before: EventRecord | None, now: datetime | None) -> EventRecord:
    if before is None:
        return EventRecord(event, 0, now or BEFORE_ALL)
    if before.event.digest == event.digest:
        return before
    return EventRecord(event, before.sequence + 1, max(now or before.changed, before.changed))


def _gone(before: EventRecord, now: datetime | None, why: str) -> EventRecord:
    """Keep an entry as cancelled; one that was over by then has not changed for its readers."""
    path = before.event.path.partition("#")[0]
    cancelled = replace(before.event, cancelled=True, about=why, path=path)
    if _over(before.event, now):
        return EventRecord(cancelled, before.sequence, before.changed)
    return _record(cancelled, before, now)


def _why_gone(before: EventRecord, why: Why, new: Collection[str], gone: str) -> str:
    """Say why an entry is gone; what was said of it stays said."""
    event = before.event
    if isinstance(why, tuple):
        day = event.starts.date() if isinstance(event.starts, datetime) else event.starts
        moves = (one.words for one in why if one.day <= day and one.closure in new)
        why = "" if event.cancelled else next(moves, "")
    if why or event.cancelled:
        return why or event.about
    return gone if _REHEARSAL in event.key else ""


def _over(event: CalendarEvent, now: datetime | None, since: timedelta = timedelta()) -> bool:
    """Whether an entry has been over for so long; nothing is before the first publication."""
    if now is None:
        return False
    if isinstance(event.ends, datetime):
        return event.ends.astimezone(UTC) + since <= now
    return datetime.combine(event.ends, time(), UTC) + _EVERYWHERE + since <= now

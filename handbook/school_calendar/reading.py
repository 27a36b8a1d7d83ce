"""A calendar file to titled days: repeats written out, exceptions and changed days heeded.

The RFC is 5545. Beside it stands what is common in files that districts publish: all-day
entries as midnights, repeats of an all-day entry left out by a time, the same entry twice.
"""

from __future__ import annotations

import re
import warnings
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta
from html import unescape
from itertools import islice
from typing import Any
from zoneinfo import ZoneInfo

from dateutil.rrule import rrule, rruleset, rrulestr
from icalendar import Event

from handbook.records import dataclass
from handbook.school_calendar.blocks import MOST_BYTES, MOST_ENTRIES, EntryText, blocks, decoded
from handbook.school_calendar.model import (
    CalendarDays,
    CalendarFile,
    NoCalendarError,
    PassedOver,
)
from handbook.school_calendar.rules import may_never_come
from handbook.source.decoding import HIDDEN

_MOST_LETTERS = 150
_MOST_TIMES = 400  # of one entry: a year of days, and more
_MOST_REPEATED = 300  # entries that repeat: writing one out can take as long as reading a hundred
_MOST_DAYS = 366
_MOST_STEPS = 40_000  # of one rule: a hundred years of days
_EARLIEST = 1970
_WITHIN_A_DAY = frozenset({"HOURLY", "MINUTELY", "SECONDLY"})
_ONE_DAY = timedelta(days=1)
_MARKUP = re.compile(r"<[^<>]*>")


class _UnreadableError(ValueError):
    """An entry cannot be read; the words say why."""


@dataclass(frozen=True, slots=True)
class _Read:
    """One entry as it was read, its times as clock times where it is."""

    line: int
    title: str
    about: str
    uid: str
    start: datetime
    end: datetime | None
    all_day: bool
    utc: bool
    sequence: int
    instead_of: datetime | None
    event: Any


def read_calendar(raw: bytes, zone: ZoneInfo, first: date, last: date) -> CalendarFile:
    """Read a calendar file for the days from `first` to `last`; what is outside them is left out.

    Times in UTC become clock times of `zone`, all others are taken as they are written.
    Raises NoCalendarError for a file that is too large, or no calendar at all; what is
    wrong in one entry is told of that one alone.
    """
    if len(raw) > MOST_BYTES:
        raise NoCalendarError(
            f"this file is {len(raw) / 1_000_000:.1f} MB, and {MOST_BYTES // 1_000_000} MB are the"
            " most that is read: export one school year alone"
        )
    text, remark = decoded(raw)
    found = list(islice(blocks(text), MOST_ENTRIES + 1))
    if len(found) > MOST_ENTRIES:
        raise NoCalendarError(
            f"this file has more than {MOST_ENTRIES:,} entries: export one school year alone"
        )
    work = _Entries(zone, datetime.combine(first, time.min), datetime.combine(last, time.max))
    for block in found:
        days = block.days()
        if days is None or _may_be_within(days, first, last):
            work.read(block)
    entries = sorted(
        work.days(), key=lambda one: (one.first, one.last, one.title.casefold(), one.line)
    )
    inside = [one for one in entries if one.last >= first and one.first <= last]
    alone: dict[tuple[date, date, str], CalendarDays] = {}
    for entry in inside:
        alone.setdefault((entry.first, entry.last, entry.title.casefold()), entry)
    passed_over = tuple(sorted(work.passed_over, key=lambda one: one.line))
    told = {one.line for one in inside} | {one.line for one in passed_over}
    remarks = (remark,) if remark else ()
    return CalendarFile(
        tuple(alone.values()), passed_over, len(found), len(found) - len(told),
        len(inside) - len(alone), remarks,
    )  # fmt: skip


class _Entries:
    """The entries of a file as they are read."""

    def __init__(self, zone: ZoneInfo, first: datetime, last: datetime) -> None:
        self._zone, self._first, self._last = zone, first, last
        self._read: list[_Read] = []
        self._cancelled: dict[str, set[date]] = defaultdict(set)
        self._repeating = 0
        self.passed_over: list[PassedOver] = []

    def read(self, block: EntryText) -> None:
        """Read one entry, or say why not."""
        if not block.whole:
            self._pass(block.line, _clean(block.title), "the entry has no end in the file")
            return
        try:
            read = self._one(block)
        except _UnreadableError as error:
            self._pass(block.line, _clean(block.title), str(error))
        except Exception:  # noqa: BLE001 - a library's own errors are of many kinds
            self._pass(block.line, _clean(block.title), "its days cannot be read")
        else:
            if read is not None:
                self._read.append(read)
            if block.cut_title:
                self._pass(
                    block.line, _clean(block.title), "its title is broken off, so it may say more"
                )

    def days(self) -> Iterator[CalendarDays]:
        """Give the days of all entries, each time that one is repeated."""
        changed: dict[str, set[date]] = defaultdict(set)
        for read in self._read:
            if read.instead_of is not None:
                changed[read.uid].add(read.instead_of.date())
        for uid, days in self._cancelled.items():
            changed[uid] |= days
        for read in self._newest():
            if read.instead_of is not None:
                yield from self._spans(read, [read.start])
                continue
            try:
                times = self._times(read, changed[read.uid] if read.uid else set())
            except _UnreadableError as error:
                self._pass(read.line, read.title, str(error))
            except Exception:  # noqa: BLE001 - as above
                self._pass(read.line, read.title, "the rule by which it repeats cannot be read")
            else:
                yield from self._spans(read, times)

    def _newest(self) -> Iterator[_Read]:
        """Leave out what a later version of the same entry replaces (RFC 5545, 3.8.7.4)."""
        highest: dict[tuple[str, datetime | None], int] = {}
        for read in self._read:
            key = (read.uid, read.instead_of)
            highest[key] = max(highest.get(key, 0), read.sequence)
        for read in self._read:
            if read.uid and read.sequence < highest[read.uid, read.instead_of]:
                self._pass(read.line, read.title, "a later version of it is in the file")
            else:
                yield read

    def _one(self, block: EntryText) -> _Read | None:
        lines = ("BEGIN:VEVENT", *block.lines, "END:VEVENT", "")
        event = Event.from_ical("\r\n".join(lines))
        broken = {name for name, _ in event.errors}
        title = _clean(_text(event, "SUMMARY"))
        if "DTSTART" in broken or "DTEND" in broken or "DURATION" in broken:
            raise _UnreadableError("its days are written in no known way")
        if broken & {"RRULE", "RDATE", "EXDATE", "RECURRENCE-ID"}:
            raise _UnreadableError("the rule by which it repeats cannot be read")
        if "DTSTART" not in event:
            raise _UnreadableError("it has no day")
        start, all_day, utc = self._start(event)
        instead_of = (
            self._base(_first(event["RECURRENCE-ID"]), utc) if "RECURRENCE-ID" in event else None
        )
        uid = _text(event, "UID")
        if _text(event, "STATUS").upper() == "CANCELLED":
            if instead_of is not None:
                self._cancelled[uid].add(instead_of.date())
            self._pass(block.line, title, "it is cancelled")
            return None
        if not title:
            raise _UnreadableError("it has no title")
        if instead_of is not None and "THISANDFUTURE" in str(event["RECURRENCE-ID"].params).upper():
            raise _UnreadableError("it changes all later times of a repeated entry at once")
        end = self._end(event, start, utc)
        sequence = event.get("SEQUENCE", 0) if "SEQUENCE" not in broken else 0
        about = " ".join((*_categories(event), _text(event, "DESCRIPTION")))
        return _Read(
            block.line, title, _clean(about, 10 * _MOST_LETTERS), uid, start, end, all_day, utc,
            int(sequence) if isinstance(sequence, int) else 0, instead_of, event,
        )  # fmt: skip

    def _start(self, event: Any) -> tuple[datetime, bool, bool]:
        """Give an entry's start, whether it is a day alone, and whether it is in UTC."""
        value = _first(event["DTSTART"])
        written = value.dt
        if isinstance(written, datetime) and str(value.params.get("VALUE", "")).upper() == "DATE":
            written = written.date()
        if not isinstance(written, date):
            raise _UnreadableError("its days are written in no known way")
        utc = isinstance(written, datetime) and _is_utc(written)
        start = self._base(written, utc)
        if not _EARLIEST <= start.year < 9000:  # noqa: PLR2004 - far from the last that Python knows
            raise _UnreadableError(f"it is of the year {start.year}")
        return start, not isinstance(written, datetime), utc

    def _end(self, event: Any, start: datetime, utc: bool) -> datetime | None:
        if "DTEND" in event:
            return self._base(_first(event["DTEND"]).dt, utc)
        if "DURATION" in event:
            length = _first(event["DURATION"]).dt
            return start + length if isinstance(length, timedelta) else None
        return None

    def _base(self, written: Any, utc: bool) -> datetime:
        """Give a time as that clock shows it which its entry is written by."""
        written = getattr(written, "dt", written)
        if isinstance(written, tuple):  # a period: its start
            written = written[0]
        if not isinstance(written, date):
            raise _UnreadableError("a day of it is written in no known way")
        if not isinstance(written, datetime):
            return datetime.combine(written, time.min)
        moment: datetime = written
        if _is_utc(moment) and not utc:
            moment = moment.astimezone(self._zone)
        return moment.replace(tzinfo=None)

    def _times(self, read: _Read, changed: set[date]) -> list[datetime]:
        """Give the starts of an entry, all its repeats within the days that are asked for."""
        event = read.event
        if "RRULE" not in event and "RDATE" not in event:
            return [read.start] if read.start.date() not in changed else []
        self._repeating += 1
        if self._repeating > _MOST_REPEATED:
            raise _UnreadableError(f"more than {_MOST_REPEATED} entries of the file repeat")
        times = rruleset()
        times.rdate(read.start)
        for rule in _all(event, "RRULE"):
            times.rrule(self._rule(rule, read))
        for value in _dates(event, "RDATE"):
            times.rdate(self._base(value, read.utc))
        left_out = [self._base(value, read.utc) for value in _dates(event, "EXDATE")]
        found = [
            one
            for one in islice(times, _MOST_STEPS)
            if one + self._length(read) >= self._first and one <= self._last
            if one.date() not in changed
            and not any(_leaves_out(day, one, read) for day in left_out)
        ]
        if len(found) > _MOST_TIMES:
            raise _UnreadableError(f"it repeats more than {_MOST_TIMES} times")
        return found

    def _rule(self, rule: Any, read: _Read) -> Any:
        parts = {name.upper(): value for name, value in rule.items()}
        until = [self._last + _ONE_DAY]
        for written in parts.pop("UNTIL", []):
            day = self._base(written, read.utc)
            # A date as the end is meant with its whole day (RFC 5545, 3.3.10).
            whole = not isinstance(getattr(written, "dt", written), datetime)
            until.append(datetime.combine(day.date(), time.max) if whole else day)
        for name in ("BYHOUR", "BYMINUTE", "BYSECOND"):  # of a day its hours do not matter
            parts.pop(name, None)
        if str(parts["FREQ"][0]).upper() in _WITHIN_A_DAY:
            raise _UnreadableError("it repeats within a day")
        if may_never_come(parts):
            raise _UnreadableError("the rule by which it repeats is of a rare kind")
        rule_text = type(rule)(parts).to_ical().decode()
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a count and an end together are no fault here
            made = rrulestr(rule_text, dtstart=read.start)
            assert isinstance(made, rrule)
            return made.replace(until=min(until))

    def _length(self, read: _Read) -> timedelta:
        return (read.end - read.start) if read.end and read.end > read.start else timedelta()

    def _spans(self, read: _Read, times: Sequence[datetime]) -> Iterator[CalendarDays]:
        length = self._length(read)
        for start in times:
            first, end = (self._local(one, read) for one in (start, start + length))
            # An end is not a day of it any more: that of a day alone, and a midnight (3.6.1).
            over = end > first and (read.all_day or end.time() == time.min)
            last = (end - timedelta(microseconds=1)).date() if over else end.date()
            if last - first.date() > timedelta(days=_MOST_DAYS):
                self._pass(read.line, read.title, "it lasts for more than a year")
                return
            yield CalendarDays(read.line, read.title, first.date(), last, read.about)

    def _local(self, moment: datetime, read: _Read) -> datetime:
        if not read.utc:
            return moment
        return moment.replace(tzinfo=UTC).astimezone(self._zone).replace(tzinfo=None)

    def _pass(self, line: int, title: str, why: str) -> None:
        self.passed_over.append(PassedOver(line, title, why))


def _may_be_within(days: tuple[date, date], first: date, last: date) -> bool:
    """Whether an entry is worth reading: a clock elsewhere may show another day, never one two days off."""
    near = days[1] >= first - 2 * _ONE_DAY and days[0] <= last + 2 * _ONE_DAY
    return near or days[0].year < _EARLIEST  # a slip in the year is to be told


def _leaves_out(day: datetime, start: datetime, read: _Read) -> bool:
    """Whether an exception is about a time: that very time, or its day where no hour is said."""
    return day == start or (day.date() == start.date() and (read.all_day or day.time() == time.min))


def _is_utc(moment: datetime) -> bool:
    return moment.tzinfo is not None and str(moment.tzinfo) in {"UTC", "Etc/UTC", "GMT"}


def _all(event: Any, name: str) -> list[Any]:
    value = event.get(name, [])
    return value if isinstance(value, list) else [value]


def _first(value: Any) -> Any:
    return value[0] if isinstance(value, list) else value


def _dates(event: Any, name: str) -> Iterator[Any]:
    for value in _all(event, name):
        yield from getattr(value, "dts", [value])


def _categories(event: Any) -> Iterable[str]:
    for value in _all(event, "CATEGORIES"):
        yield from map(str, getattr(value, "cats", [value]))


def _text(event: Any, name: str) -> str:
    return str(_first(event[name])) if name in event else ""


def _clean(text: str, most: int = _MOST_LETTERS) -> str:
    """Make a text one line without signs that cannot be seen, and no longer than is of use."""
    plain = HIDDEN.sub(" ", unescape(_MARKUP.sub(" ", unescape(text[: 20 * most]))))
    plain = " ".join(plain.replace("\\n", " ").split())
    return plain if len(plain) <= most else f"{plain[: most - 1]}…"

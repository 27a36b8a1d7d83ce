"""A calendar file's bytes to its entries as texts, each with its place; broken ones by themselves."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from contextlib import suppress
from datetime import date

from handbook.records import dataclass
from handbook.school_calendar.model import NoCalendarError
from handbook.source.decoding import one_line_end

MOST_BYTES = 5_000_000
MOST_ENTRIES = 10_000
# All that is asked of an entry. What else stands there can be as broken as it likes.
_WANTED = frozenset(
    [
        "UID",
        "SUMMARY",
        "DESCRIPTION",
        "CATEGORIES",
        "DTSTART",
        "DTEND",
        "DURATION",
        "RRULE",
        "RDATE",
        "EXDATE",
        "RECURRENCE-ID",
        "STATUS",
        "SEQUENCE",
    ]
)
_NAME = re.compile(r"([A-Za-z0-9-]+)[;:]")
_DAY = re.compile(r"(DTSTART|DTEND)(?:;[^:]*)?:\s*(\d{4})(\d{2})(\d{2})(?!\d)", re.IGNORECASE)
_MAY_BE_ELSEWHERE = ("RRULE", "RDATE", "RECURRENCE-ID", "SEQUENCE", "DURATION")
_TITLE = re.compile(r"SUMMARY(?:;[^:]*)?:(.*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class EntryText:
    """One entry's lines that matter, still folded; `whole` is false if it has no end."""

    line: int
    lines: tuple[str, ...]
    whole: bool
    cut_title: bool = False

    @property
    def title(self) -> str:
        """Its title as it is written."""
        found = next(filter(None, map(_TITLE.match, self.lines)), None)
        return found[1].strip() if found else ""

    def days(self) -> tuple[date, date] | None:
        """Give the days on which it begins and ends, read off its lines; None if it may also be on others, or is not plain."""
        if any(line.upper().startswith(_MAY_BE_ELSEWHERE) for line in self.lines):
            return None
        found = {match[1].upper(): match for line in self.lines if (match := _DAY.match(line))}
        with suppress(ValueError, KeyError):
            start, end = found["DTSTART"], found.get("DTEND", found["DTSTART"])
            return date(*map(int, start.groups()[1:])), date(*map(int, end.groups()[1:]))
        return None


def decoded(raw: bytes) -> tuple[str, str]:
    """Give a calendar file's text with a remark on how it was saved, if not as UTF-8.

    RFC 5545, 3.1.4 and 6, wants UTF-8; files saved otherwise are common, and letters of
    Windows-1252 are told by the bytes that UTF-8 cannot have.
    """
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return raw.decode("utf-16", "replace"), "it is saved as UTF-16, and was read so"
    try:
        return raw.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        remark = "it is not saved as UTF-8; its letters with accents were read as Windows-1252"
        return raw.decode("cp1252", "replace"), remark


def blocks(text: str) -> Iterator[EntryText]:
    """Give the entries of a calendar's text. Raises NoCalendarError for what is none."""
    lines = one_line_end(text).split("\n")
    if not any(line.strip().upper() == "BEGIN:VCALENDAR" for line in lines):
        first = next((line.strip() for line in lines if line.strip()), "")
        shown = f": it begins with `{_printable(first)}`" if first else ": it is empty"
        raise NoCalendarError(
            f"this is no calendar file{shown}; download the calendar again, as a file that ends in .ics"
        )
    begun: _EntryBegun | None = None
    for number, line in enumerate(lines, 1):
        word = line.strip().upper()
        if word == "BEGIN:VEVENT":
            if begun is not None:
                yield begun.block(whole=False)
            begun = _EntryBegun(number)
        elif begun is not None and word in {"END:VEVENT", "END:VCALENDAR"}:
            yield begun.block(whole=word == "END:VEVENT")
            begun = None
        elif begun is not None:
            begun.take(line, word)
    if begun is not None:
        yield begun.block(whole=False)


def _printable(line: str) -> str:
    shown = "".join(sign for sign in line if sign.isprintable())
    return shown[:40] + ("…" if len(shown) > 40 else "")  # noqa: PLR2004 - half a line


class _EntryBegun:
    """An entry of which the end was not seen yet."""

    def __init__(self, line: int) -> None:
        self._line = line
        self._lines: list[str] = []
        self._inside = 0  # other components, such as an alarm, whose fields are not the entry's
        self._name = ""
        self._cut = False

    def take(self, line: str, word: str) -> None:
        if word.startswith("BEGIN:"):
            self._inside += 1
        elif word.startswith("END:"):
            self._inside = max(0, self._inside - 1)
        elif self._inside or not line.strip():
            return
        elif line[0] in " \t":
            if self._name in _WANTED:
                self._lines.append(line)
        elif named := _NAME.match(line):
            self._name = named[1].upper()
            if self._name in _WANTED:
                self._lines.append(line)
        elif self._name == "SUMMARY":  # a line that was broken without being folded
            self._cut = True

    def block(self, *, whole: bool) -> EntryText:
        return EntryText(self._line, tuple(self._lines), whole, self._cut)

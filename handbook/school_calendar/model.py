"""What is read of a calendar file."""

from __future__ import annotations

from datetime import date

from handbook.records import dataclass


class NoCalendarError(Exception):
    """The file is no calendar that could be read; the sentence says why, and what to do."""


@dataclass(frozen=True, slots=True)
class CalendarDays:
    """An entry of a calendar: its title on the days from `first` to `last`, both included.

    `about` is its categories and description, and `line` where it begins in the file,
    from 1. A repeated entry is one of these each time.
    """

    line: int
    title: str
    first: date
    last: date
    about: str = ""


@dataclass(frozen=True, slots=True)
class PassedOver:
    """An entry, or a time of it, of which nothing was made; the sentence says why."""

    line: int
    title: str
    why: str


@dataclass(frozen=True, slots=True)
class CalendarFile:
    """A calendar's entries in order of their days; `number` counts those in the file.

    `outside` of those are on other days than were asked for, and nothing is told of them;
    `repeated` were there more than once and are given once.
    """

    entries: tuple[CalendarDays, ...]
    passed_over: tuple[PassedOver, ...] = ()
    number: int = 0
    outside: int = 0
    repeated: int = 0
    remarks: tuple[str, ...] = ()

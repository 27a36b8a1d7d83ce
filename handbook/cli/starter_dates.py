"""Dates of a school year and a first cycle that are current on the day of beginning.

School years differ from district to district: these are common ones to be overwritten.
Federal holidays: 5 U.S.C. 6103(a). Everything else: common practice, no source.
"""

from __future__ import annotations

from datetime import date, timedelta

from handbook.domain.school_year import part_of_year
from handbook.records import dataclass

MON, WED, THU, FRI = 0, 2, 3, 4
_MEETINGS = frozenset({MON, WED, FRI})
_ONE_DAY, _WEEK = timedelta(days=1), timedelta(weeks=1)
_WEEKS = 7  # from the week of handing out the music to the week of the concert, at least
_FEWEST = 15  # rehearsals, whatever breaks fall between


@dataclass(frozen=True, slots=True)
class StarterClosure:
    """Days without school, both included."""

    name: str
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class StarterYear:
    """A school year; `id` is the name of its file."""

    id: str
    first_day: date
    last_day: date
    early_release: date
    closures: tuple[StarterClosure, ...]

    def is_closed(self, day: date) -> bool:
        """Whether there is no school on a day of the week."""
        return any(closure.first <= day <= closure.last for closure in self.closures)


@dataclass(frozen=True, slots=True)
class StarterCycle:
    """A cycle that starts on a rehearsal day and ends with a concert on a Thursday."""

    id: str
    name: str
    concert_name: str
    starts: date
    concert: date


def starter_dates(today: date) -> tuple[StarterYear, StarterCycle]:
    """Give the first school year in which a whole cycle from `today` on still fits."""
    for start in (today.year - 1, today.year):
        year = _year(start)
        cycle = _cycle(year, today)
        if cycle.concert + _WEEK <= year.last_day:
            return year, cycle
    raise AssertionError(today)  # a year that begins in August of this year has room


def _year(start: int) -> StarterYear:
    first_day = _last(MON, date(start, 8, 31))
    closures = _closures(start)
    year = StarterYear(
        id=f"{start}-{(start + 1) % 100:02}",
        first_day=first_day,
        last_day=_last(FRI, date(start + 1, 6, 7)),
        early_release=first_day + 3 * _WEEK + FRI * _ONE_DAY,
        closures=closures,
    )
    assert not year.is_closed(year.early_release)
    return year


def _closures(start: int) -> tuple[StarterClosure, ...]:
    thanks = _nth(4, THU, start, 11)
    winter = _last(MON, date(start, 12, 24))
    spring = _last(MON, date(start + 1, 3, 15))
    labor, king = _nth(1, MON, start, 9), _nth(3, MON, start + 1, 1)
    memorial = _last(MON, date(start + 1, 5, 31))
    return (
        StarterClosure("Labor Day", labor, labor),
        StarterClosure("Thanksgiving break", thanks - _ONE_DAY, thanks + _ONE_DAY),
        StarterClosure("Winter break", winter, winter + _WEEK + FRI * _ONE_DAY),
        StarterClosure("Martin Luther King Jr. Day", king, king),
        StarterClosure("Spring break", spring, spring + FRI * _ONE_DAY),
        StarterClosure("Memorial Day", memorial, memorial),
    )


def _cycle(year: StarterYear, today: date) -> StarterCycle:
    starts = max(today, year.first_day + _WEEK)
    while starts.weekday() not in _MEETINGS or year.is_closed(starts):
        starts += _ONE_DAY
    concert = _last(MON, starts) + _WEEKS * _WEEK + THU * _ONE_DAY
    while year.is_closed(concert) or _rehearsals(year, starts, concert) < _FEWEST:
        concert += _WEEK
    season = part_of_year(concert)
    return StarterCycle(
        id=f"{season}-{concert.year}",
        name=f"{season.capitalize()} cycle",
        concert_name=f"{season.capitalize()} concert",
        starts=starts,
        concert=concert,
    )


def _rehearsals(year: StarterYear, starts: date, concert: date) -> int:
    """Count them from the first day of a cycle to the last before its concert."""
    days = (starts + n * _ONE_DAY for n in range((concert - starts).days))
    return sum(day.weekday() in _MEETINGS and not year.is_closed(day) for day in days)


def _nth(count: int, weekday: int, year: int, month: int) -> date:
    """Give, say, the fourth Thursday of a month."""
    first = date(year, month, 1)
    return first + (weekday - first.weekday()) % 7 * _ONE_DAY + (count - 1) * _WEEK


def _last(weekday: int, day: date) -> date:
    """Give the last such weekday up to `day`, itself included."""
    return day - (day.weekday() - weekday) % 7 * _ONE_DAY

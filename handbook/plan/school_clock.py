"""The periods of a year's school days as moments, and those that are a band's own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from functools import cached_property
from zoneinfo import ZoneInfo

from handbook.domain.class_time import ClassPeriod, Span
from handbook.domain.rehearsals import rehearsal_calendar
from handbook.domain.school_year import YearDay, year_days
from handbook.plan.bells import WholeBells, bells_on, whole_bells
from handbook.plan.dates import meeting_patterns
from handbook.plan.players import players_of
from handbook.plan.school_days import school_year
from handbook.schema.program import Ensemble
from handbook.schema.year import Year


class SchoolClock:
    """Answers for one school year; what is asked twice is reckoned once."""

    def __init__(self, year: Year, zone: ZoneInfo) -> None:
        self._year, self._zone = year, zone
        self._own: dict[str, Mapping[date, Sequence[Span]]] = {}

    @cached_property
    def _days(self) -> Mapping[date, YearDay]:
        return {day.day: day for day in year_days(school_year(self._year))}

    @cached_property
    def _bells(self) -> Mapping[str, WholeBells]:
        return whole_bells(self._year)

    def periods(self, day: date, band: Ensemble) -> tuple[ClassPeriod, ...]:
        """Give a day's periods with class in order of time; a band's own are those in which it would meet."""
        bells, own = self._bells_on(day), self._meetings(band)[day]
        found = [
            (period, self._moment(day, period.start), self._moment(day, period.end))
            for period in (bells.periods.values() if bells else ())
            if period.class_time
        ]
        return tuple(
            ClassPeriod(
                id=period.id,
                start=start,
                end=end,
                own=any(start < last and first < end for first, last in own),
                name=period.name,
            )
            for period, start, end in sorted(found, key=lambda one: one[1])
        )

    def periods_of(self, days: Iterable[date], band: Ensemble) -> tuple[ClassPeriod, ...]:
        """Give the periods of several days."""
        return tuple(period for day in days for period in self.periods(day, band))

    def hours(self, day: date) -> Span | None:
        """Say from when to when there is school; None without school, or where no bells say so."""
        bells = self._bells_on(day)
        if bells is None or bells.ends is None:
            return None
        return self._moment(day, bells.begins), self._moment(day, bells.ends)

    def _bells_on(self, day: date) -> WholeBells | None:
        known = self._days.get(day)
        return self._bells.get(bells_on(self._year, known) or "") if known else None

    def _moment(self, day: date, at: time) -> datetime:
        return datetime.combine(day, at, self._zone)

    def _meetings(self, band: Ensemble) -> Mapping[date, Sequence[Span]]:
        """Give the class meetings of a band's year by day, whatever takes some of them away."""
        if band.id not in self._own:
            found: dict[date, list[Span]] = defaultdict(list)
            for players in players_of(band):
                for one in rehearsal_calendar(
                    school_year(self._year),
                    meeting_patterns(self._year, players),
                    self._year.first_day,
                    self._year.last_day,
                    zone=self._zone,
                ).rehearsals:
                    found[one.day].append((one.start, one.end))
            self._own[band.id] = found
        return self._own[band.id]


def days_from(first: date, last: date) -> tuple[date, ...]:
    """List the days from one to another, both included."""
    return tuple(first + timedelta(days=n) for n in range((last - first).days + 1))

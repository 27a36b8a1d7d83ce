"""Bell schedules whole: what one takes from another is put in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import time

from handbook.domain.school_year import YearDay
from handbook.records import dataclass
from handbook.schema.year import Period, Year


@dataclass(frozen=True, slots=True)
class WholeBells:
    """A schedule's periods by id, its own first, and the end of school if any schedule states it."""

    periods: Mapping[str, Period]
    school_ends: time | None

    @property
    def begins(self) -> time:
        """When the first period begins; midnight where there is none."""
        return min((one.start for one in self.periods.values()), default=time())

    @property
    def ends(self) -> time | None:
        """When school is out: as stated, else the end of the last period; None without both."""
        last = max((one.end for one in self.periods.values()), default=None)
        return self.school_ends or last


def whole_bells(year: Year) -> Mapping[str, WholeBells]:
    """Give each schedule with what it has from the one above it that it is `like`."""
    found: dict[str, WholeBells] = {}
    for bells in year.bells:
        own = {period.id: period for period in bells.periods}
        like = found.get(bells.like or "")
        left = {} if like is None else {
            name: period
            for name, period in like.periods.items()
            if name not in own and name not in bells.without
        }  # fmt: skip
        ends = bells.school_ends or (like.school_ends if like else None)
        found[bells.id] = WholeBells({**own, **left}, ends)
    return found


def bells_on(year: Year, day: YearDay) -> str | None:
    """Give the id of the schedule that holds on a day; None without school, or without schedules."""
    if not day.is_school or not year.bells:
        return None
    return (day.bells.bells if day.bells else None) or year.bells[0].id

"""When school is out on concert day, by the year's bells."""

from __future__ import annotations

from datetime import datetime

from handbook.domain.school_year import year_days
from handbook.plan.bells import whole_bells
from handbook.plan.concert_day.ground import Ground
from handbook.plan.school_days import school_year
from handbook.problems import Address
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class SchoolOut:
    """The end of the school day, and where the year's file says so."""

    moment: datetime
    address: Address


def school_out(ground: Ground) -> SchoolOut | None:
    """Find when school is out: as stated, else the end of the last period; None without school."""
    year, day = ground.year.item, ground.item.date
    found = next(
        (one for one in year_days(school_year(year, ground.language)) if one.day == day), None
    )
    if found is None or not found.is_school or not year.bells:
        return None
    wanted = (found.bells.bells if found.bells else None) or year.bells[0].id
    place, bells = next((n, one) for n, one in enumerate(year.bells) if one.id == wanted)
    whole = whole_bells(year)[wanted]
    ends = whole.school_ends or max((one.end for one in whole.periods.values()), default=None)
    if ends is None:
        return None
    stated = "school_ends" if bells.school_ends else "periods" if bells.periods else "like"
    return SchoolOut(ground.moment(ends), (ground.year.file, "bells", place, stated))

"""When school is out on concert day, by the year's bells."""

from __future__ import annotations

from datetime import date, datetime, time

from handbook.domain.school_year import YearDay, year_days
from handbook.plan.bells import bells_on, whole_bells
from handbook.plan.concert_day.ground import Ground
from handbook.plan.school_days import school_year
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.handbook import Sourced
from handbook.schema.year import Year


@dataclass(frozen=True, slots=True)
class SchoolOut:
    """The end of the school day, and where the year's file says so."""

    moment: datetime
    address: Address


def school_out(ground: Ground) -> SchoolOut | None:
    """Find when school is out: as stated, else the end of the last period; None without school."""
    hours = school_hours(ground.year, ground.item.date)
    return SchoolOut(ground.moment(hours.ends), hours.address) if hours else None


@dataclass(frozen=True, slots=True)
class SchoolHours:
    """When school begins and ends on a day, and where the year's file says when it ends."""

    begins: time
    ends: time
    address: Address


def school_hours(sourced: Sourced[Year], day: date) -> SchoolHours | None:
    """Find the hours of school on a day, by its bells; None without school or bells that are known."""
    found = next((one for one in year_days(school_year(sourced.item)) if one.day == day), None)
    return hours_on(sourced, found) if found else None


def hours_on(sourced: Sourced[Year], found: YearDay) -> SchoolHours | None:
    """Give the hours of school on a day of the year; see `school_hours`."""
    year = sourced.item
    wanted = bells_on(year, found)
    whole = whole_bells(year).get(wanted or "")
    if whole is None:
        return None  # told as unknown-bells
    place, bells = next((n, one) for n, one in enumerate(year.bells) if one.id == wanted)
    if whole.ends is None:
        return None
    stated = "school_ends" if bells.school_ends else "periods" if bells.periods else "like"
    return SchoolHours(whole.begins, whole.ends, (sourced.file, "bells", place, stated))

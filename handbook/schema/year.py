"""years/<id>.yaml: one school year's days, bells and meeting times."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field

from handbook.domain.rehearsals import Resume
from handbook.domain.school_year import MONDAY_TO_FRIDAY
from handbook.domain.values.dates import weekdays_in
from handbook.schema.base import Item
from handbook.schema.scalars import patterns
from handbook.schema.scalars.fields import Bell, Clock, Day, Id, LedBy, Weekday, YesNo
from handbook.schema.scalars.lists import OrOne
from handbook.schema.scalars.texts import Name, Word


def _as_list(value: object) -> object:
    """Take one weekday as a list; what names several is refused as a list that is wanted."""
    one = isinstance(value, str) and len(weekdays_in(value)) <= 1
    return [value] if one else value


Weekdays = Annotated[tuple[Weekday, ...], BeforeValidator(_as_list), OrOne(patterns.WEEKDAY)]


class Period(Item):
    """One period of a bell schedule."""

    id: Id = Field(description="Short name, such as p3")
    name: Name | None = Field(
        None,
        description="What it is called, which the office's sheet in the binder shows instead of its id",
    )
    start: Bell = Field(description="When it begins")
    end: Bell = Field(description="When it ends")
    class_time: YesNo = Field(
        default=True,
        description="No for lunch, an assembly and the like: who misses it misses no class, which the office's sheet in the binder counts",
    )


class Bells(Item):
    """A bell schedule; the first one listed is that of an ordinary day."""

    id: Id = Field(description="Short name, such as regular")
    name: Name | None = Field(None, description="Name, if it has one")
    like: Id | None = Field(
        None,
        description="A schedule above this one: its periods and its end of school hold here too, where nothing else is said",
    )
    periods: tuple[Period, ...] = Field((), description="The periods in order")
    without: tuple[Id, ...] = Field(
        (), description="Periods that there are not on such days, so that nobody meets in them"
    )
    school_ends: Bell | None = Field(None, description="When school is out")


class SchoolClosure(Item):
    """Days without school: one `date`, or `from` and `to`, or `every` such weekday."""

    name: Name = Field(description="Why school is closed")
    date: Day | None = Field(None, description="A single day")
    from_: Day | None = Field(None, alias="from", description="First day, itself included")
    to: Day | None = Field(None, description="Last day, itself included")
    every: Weekdays = Field(
        (), description="Every such day of the week, of the whole year or between from and to"
    )
    except_: tuple[Day, ...] = Field(
        (), alias="except", max_length=200, description="Days that are not meant, single dates"
    )
    resume: Resume | None = Field(None, description="How day labels go on after it: next or skip")
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class AlteredSchoolDay(Item):
    """School days that run otherwise: a `date`, or `from` and `to`, or `every` such weekday.

    A date goes before a span of days, and that before `every` such weekday.
    """

    name: Name = Field(description="What is different, such as early release")
    date: Day | None = Field(None, description="A single day")
    from_: Day | None = Field(None, alias="from", description="First day, itself included")
    to: Day | None = Field(None, description="Last day, itself included")
    weekdays: Weekdays = Field(
        (), description="Only these days of the week between from and to, such as [Tue, Thu]"
    )
    every: Weekdays = Field(
        (),
        description="Every such day of the week, such as Wed, of the whole year or between from and to",
    )
    except_: tuple[Day, ...] = Field(
        (), alias="except", max_length=200, description="Days that are not meant, single dates"
    )
    bells: Id | None = Field(None, description="The bell schedule of these days")
    label: Word | None = Field(None, description="The day label of these days")
    labels: tuple[Word, ...] = Field(
        (),
        max_length=200,
        description="Labels that the school days between from and to bear in turn, such as [A, A, B, B]",
    )
    resume: Resume | None = Field(
        None,
        description="After labels in turn the rotation goes on as before them (next) or as if it had run on (skip)",
    )
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class MakeUp(Item):
    """A day with school that would have none: a Saturday, or a day of a closure."""

    date: Day = Field(description="The day")
    name: Name = Field(description="What it is, such as make-up day")
    bells: Id | None = Field(None, description="The bell schedule of that day")
    label: Word | None = Field(None, description="The day label of that day")
    like: Weekday | None = Field(
        None, description="The day of the week whose meetings are held, if not its own"
    )
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class Meeting(Item):
    """When an ensemble meets: on weekdays or labels, in a period or at clock times."""

    ensemble: Id = Field(description="The ensemble")
    group: Id | None = Field(None, description="Only this group of it")
    weekdays: tuple[Weekday, ...] = Field((), description="Days of the week, such as [Mon, Wed]")
    labels: tuple[Word, ...] = Field((), description="Day labels, such as [A]")
    period: Id | None = Field(None, description="Bell period")
    start: Clock | None = Field(None, description="Clock time, if there is no period")
    end: Clock | None = Field(None, description="Clock time, if there is no period")
    from_: Day | None = Field(
        None, alias="from", description="First day on which it meets so, if not the year's"
    )
    to: Day | None = Field(None, description="Last day on which it meets so, if not the year's")
    room: Id | None = Field(None, description="Where, if not the ensemble's usual room")
    led_by: LedBy = Field(
        (),
        description="Who leads it, if not those who lead the ensemble: ids of roles under `staff`",
    )


class Year(Item):
    """A school year."""

    name: Name | None = Field(None, description="Name, such as 2026-27")
    first_day: Day = Field(description="First day of school")
    last_day: Day = Field(description="Last day of school")
    school_days: tuple[Weekday, ...] = Field(
        tuple(sorted(MONDAY_TO_FRIDAY)),
        min_length=1,
        max_length=7,
        description="Days of the week with school, such as [Mon, Tue, Wed, Thu]; Monday to Friday if left out",
    )
    day_labels: tuple[Word, ...] = Field((), description="Rotating labels in order, such as [A, B]")
    resume: Resume = Field(
        Resume.NEXT, description="How labels go on after a closure: next or skip"
    )
    bells: tuple[Bells, ...] = Field((), description="Bell schedules, the ordinary one first")
    closures: tuple[SchoolClosure, ...] = Field((), description="Days without school")
    altered: tuple[AlteredSchoolDay, ...] = Field((), description="Days that run otherwise")
    make_up: tuple[MakeUp, ...] = Field(
        (), description="Days with school that would have none, such as a make-up Saturday"
    )
    new_players: tuple[Id, ...] = Field(
        (),
        description="Ensembles whose players are new this year: their fundamentals begin anew, at the level they start at",
    )
    meetings: tuple[Meeting, ...] = Field(min_length=1, description="When each ensemble meets")

"""years/<id>.yaml: one school year's days, bells and meeting times."""

from __future__ import annotations

from pydantic import Field

from handbook.domain.rehearsals import Resume
from handbook.schema.base import Item
from handbook.schema.scalars.fields import Clock, Day, Id, Weekday
from handbook.schema.scalars.texts import Name, Word


class Period(Item):
    """One period of a bell schedule."""

    id: Id = Field(description="Short name, such as p3")
    name: Name | None = Field(None, description="Name, if it has one")
    start: Clock = Field(description="When it begins")
    end: Clock = Field(description="When it ends")


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
    school_ends: Clock | None = Field(None, description="When school is out")


class SchoolClosure(Item):
    """Days without school: one `date`, or `from` and `to`, both included."""

    name: Name = Field(description="Why school is closed")
    date: Day | None = Field(None, description="A single day")
    from_: Day | None = Field(None, alias="from", description="First day")
    to: Day | None = Field(None, description="Last day")
    resume: Resume | None = Field(None, description="How day labels go on after it: next or skip")
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class AlteredSchoolDay(Item):
    """A school day that runs otherwise."""

    date: Day = Field(description="The day")
    name: Name = Field(description="What is different, such as early release")
    bells: Id | None = Field(None, description="The bell schedule of that day")
    label: Word | None = Field(None, description="The day label of that day")
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class Meeting(Item):
    """When an ensemble meets: on weekdays or labels, in a period or at clock times."""

    ensemble: Id = Field(description="The ensemble")
    weekdays: tuple[Weekday, ...] = Field((), description="Days of the week, such as [Mon, Wed]")
    labels: tuple[Word, ...] = Field((), description="Day labels, such as [A]")
    period: Id | None = Field(None, description="Bell period")
    start: Clock | None = Field(None, description="Clock time, if there is no period")
    end: Clock | None = Field(None, description="Clock time, if there is no period")


class Year(Item):
    """A school year."""

    name: Name | None = Field(None, description="Name, such as 2026-27")
    first_day: Day = Field(description="First day of school")
    last_day: Day = Field(description="Last day of school")
    day_labels: tuple[Word, ...] = Field((), description="Rotating labels in order, such as [A, B]")
    resume: Resume = Field(
        Resume.NEXT, description="How labels go on after a closure: next or skip"
    )
    bells: tuple[Bells, ...] = Field((), description="Bell schedules, the ordinary one first")
    closures: tuple[SchoolClosure, ...] = Field((), description="Days without school")
    altered: tuple[AlteredSchoolDay, ...] = Field((), description="Days that run otherwise")
    new_players: tuple[Id, ...] = Field(
        (),
        description="Ensembles whose players are new this year: their fundamentals begin anew, at the level they start at",
    )
    meetings: tuple[Meeting, ...] = Field(min_length=1, description="When each ensemble meets")

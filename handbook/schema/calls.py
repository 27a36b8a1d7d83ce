"""Who is called when: the minutes of each step, for all and for single groups."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.fields import Clock, Id, LedBy, WholeNumber, YesNo
from handbook.schema.scalars.texts import Name, PlainText

StepMinutes = Annotated[int, WholeNumber(0, 240, "a number of minutes")]


class Steps(Item):
    """Minutes of the steps before a group's first note and after its last."""

    duties: StepMinutes | None = Field(None, description="Minutes for load-in and setting up")
    unpack: StepMinutes | None = Field(None, description="Minutes to unpack and tune up")
    warm_up: StepMinutes | None = Field(None, description="Minutes of warm-up")
    walk: StepMinutes | None = Field(None, description="Minutes to walk to the stage")
    in_place: StepMinutes | None = Field(
        None,
        description="Minutes that all sit in place before the first note; never before the stage is reset and free",
    )
    walk_back: StepMinutes | None = Field(None, description="Minutes to leave the stage")
    pack: StepMinutes | None = Field(None, description="Minutes to pack up")
    strike: StepMinutes | None = Field(None, description="Minutes to clear the stage")
    to_door: StepMinutes | None = Field(None, description="Minutes to the door or the bus")


class GroupCall(Item):
    """A group that is called together: an ensemble, a section of it, or a role of the crew.

    Steps left out are those of the whole ensemble, else those under `allowances`; a role of
    the crew has only the steps it states.
    """

    ensemble: Id | None = Field(None, description="The ensemble")
    section: Id | None = Field(None, description="Only this section of it, such as percussion")
    role: Id | None = Field(None, description="A role of the crew, in place of an ensemble")
    name: Name | None = Field(None, description="What the section is called")
    minutes: Steps = Field(Steps(), description="Minutes of its steps, where they differ")
    room: Id | None = Field(None, description="Where it warms up: the id of a room")
    place: PlainText | None = Field(None, description="Where it meets, if not in that room")
    call: Clock | None = Field(
        None,
        description="When it must be ready in the room (a role of the crew: at its place), if stated; checked against the reckoned time",
    )
    pick_up: Clock | None = Field(None, description="Stated pick-up; checked in the same way")
    led_by: LedBy = Field(
        (),
        description="Who leads its warm-up, if not those who lead its turn or the ensemble: ids of roles under `staff`",
    )
    stays: YesNo | None = Field(None, description="Yes if it stays to the end of the concert")


class ExtraEntry(Item):
    """A step of the day beside the usual ones."""

    name: Name = Field(description="What it is, such as Sight-reading")
    minutes: StepMinutes = Field(description="How long it takes, with the way there")
    ensembles: tuple[Id, ...] = Field(
        (), description="Who takes part; everyone who plays, if left out"
    )
    room: Id | None = Field(None, description="Where: the id of a room")
    place: PlainText | None = Field(None, description="Where, if not in a room of the list")


class EarlierEntry(ExtraEntry):
    """A step between unpacking and warm-up, such as a photo, a meal or sight-reading."""

    starts: Clock | None = Field(
        None,
        description="When it begins, if that is fixed; else so that it is over when the next step or the warm-up begins",
    )


class LaterEntry(ExtraEntry):
    """A step after the performance and before packing, such as sight-reading or a photo."""

    starts: Clock | None = Field(
        None,
        description="When it begins, if that is fixed; else as soon as a band has left the stage and ended the step before",
    )


class Booking(Item):
    """A room in use for something else: load-in, a meal, a meeting, strike."""

    room: Id = Field(description="The id of a room")
    start: Clock = Field(description="When it begins")
    end: Clock = Field(description="When it ends")
    what: PlainText = Field(description="What for")
    ensembles: tuple[Id, ...] = Field((), description="Ensembles that are there")
    who: Id | None = Field(None, description="Which role of the crew is at work there")

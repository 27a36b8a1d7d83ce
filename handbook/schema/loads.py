"""What is moved, how, and by whom; weights as the program itself has found them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.fields import Clock, Id, WholeNumber, YesNo
from handbook.schema.scalars.quantities import Mass
from handbook.schema.scalars.texts import HumanText, Name, PlainText
from handbook.schema.texts_for import OrText

Pieces = Annotated[int, WholeNumber(1, 2000, "a count")]


class FurtherMove(Item):
    """A way that things go on from where they were put down, such as from the dock to the stage."""

    to: Id = Field(description="Where it goes on to: the id of a room")
    who: Id | None = Field(None, description="Which role of the crew moves it then")
    carrier: Id | None = Field(None, description="The cart or truck that takes it then")


class Gear(Item):
    """Like things that are moved together."""

    id: Id = Field(description="Short name, such as timpani")
    name: Name = Field(description="What it is")
    count: Pieces = Field(1, description="How many")
    weight: Mass | None = Field(None, description="Weight of one, with its unit; never guessed")
    handling: tuple[PlainText, ...] = Field((), description="How it is handled")
    from_: Id = Field(alias="from", description="Where it stands: the id of a room")
    to: Id = Field(description="Where it goes: the id of a room")
    who: Id | None = Field(None, description="Which role of the crew moves it")
    carrier: Id | None = Field(None, description="The cart or truck that takes it")
    then: tuple[FurtherMove, ...] = Field(
        (), description="Where it goes on from there, in order, such as from the dock to the stage"
    )
    stays: YesNo = Field(
        default=False,
        description="Yes if it stays where it was brought, though the equipment of the concert goes back",
    )

    @property
    def moves(self) -> tuple[Gear, ...]:
        """Each way it goes, one after the other, as if it were listed for each."""
        starts = (self.to, *(move.to for move in self.then))
        further = (
            self.model_copy(
                update={
                    "from_": start,
                    "to": move.to,
                    "who": move.who,
                    "carrier": move.carrier,
                    "then": (),
                }
            )
            for start, move in zip(starts, self.then, strict=False)
        )
        return (self.model_copy(update={"then": ()}), *further)


class CarrierEntry(Item):
    """A cart or truck, with its limits as its owner states them."""

    id: Id = Field(description="Short name, such as cart")
    name: Name = Field(description="What it is")
    pieces: Pieces | None = Field(None, description="How many pieces it takes in one trip")
    weight: Mass | None = Field(None, description="What weight it takes in one trip")


class LiftingRules(Item):
    """The program's own limits for one piece, as the district's rules set them."""

    two_adults_over: Mass | None = Field(None, description="Above this weight, two adults")
    wheels_over: Mass | None = Field(None, description="Above this weight, wheels")


class CrewTask(Item):
    """A task of the crew; a plain text stands for one without a time."""

    what: HumanText = Field(description="What is done")
    by: Clock | None = Field(None, description="When it must be done, within the role's own time")


TaskEntry = Annotated[CrewTask, OrText("what")]


class CrewRole(Item):
    """A role of the crew: never a person."""

    id: Id = Field(description="Short name that other entries use")
    name: Name = Field(description="What the role is called, such as Stage crew")
    people: Pieces | None = Field(None, description="How many people")
    ensemble: Id | None = Field(
        None, description="The ensemble whose players these are, such as one that does not play"
    )
    adults: YesNo = Field(
        default=False,
        description="Yes if all of these are adults; to others, what takes two adults is listed apart",
    )
    tasks: tuple[TaskEntry, ...] = Field(
        (), description="What it does, in order; {what: ..., by: 5:00 pm} for a task with a time"
    )

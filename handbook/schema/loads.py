"""What is moved, how, and by whom; weights as the program itself has found them."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, TypeAdapter
from pydantic_core import core_schema

from handbook.schema.base import Item
from handbook.schema.scalars.fields import Clock, Id, WholeNumber
from handbook.schema.scalars.quantities import Mass
from handbook.schema.scalars.texts import HumanText, Name, PlainText

Pieces = Annotated[int, WholeNumber(1, 2000, "a count")]


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


class _TextOrTask:
    """Lets a text, plain or by language, stand for a task without a time."""

    @staticmethod
    def read(value: object) -> object:
        return value if isinstance(value, dict) and "what" in value else {"what": value}

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        text = TypeAdapter(HumanText).json_schema()
        return {"anyOf": [*text["anyOf"], handler(schema)]}


TaskEntry = Annotated[CrewTask, _TextOrTask()]


class CrewRole(Item):
    """A role of the crew: never a person."""

    id: Id = Field(description="Short name that other entries use")
    name: Name = Field(description="What the role is called, such as Stage crew")
    people: Pieces | None = Field(None, description="How many people")
    tasks: tuple[TaskEntry, ...] = Field(
        (), description="What it does, in order; {what: ..., by: 5:00 pm} for a task with a time"
    )

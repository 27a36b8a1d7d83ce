"""cycles/<id>/concert.yaml: the concert that ends a cycle."""

from __future__ import annotations

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.fields import Clock, Day, HumanText, Id


class Appearance(Item):
    """One ensemble's turn on the program."""

    ensemble: Id = Field(description="Who plays")
    pieces: tuple[Id, ...] = Field(min_length=1, description="What is played, in order")
    call: Clock | None = Field(None, description="When its players must be there")
    place: HumanText | None = Field(None, description="Where its players meet")


class Concert(Item):
    """The concert."""

    name: HumanText = Field(description="Name of the concert")
    date: Day = Field(description="The day")
    downbeat: Clock = Field(description="When the music starts")
    venue: Id = Field(description="Where: the id of a venue")
    about: HumanText | None = Field(None, description="A sentence for families")
    program: tuple[Appearance, ...] = Field(min_length=1, description="Who plays what, in order")
    attire: tuple[HumanText, ...] = Field((), description="What players wear")
    bring: tuple[HumanText, ...] = Field((), description="What players bring")
    pick_up: Clock | None = Field(None, description="When families can collect their player")

"""What stands on the stage, where it differs from what players usually need."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.fields import Id, WholeNumber
from handbook.schema.scalars.patterns import KEBAB

Sharing = Annotated[int, WholeNumber(0, 200, "a number of players")]
ThingCount = Annotated[int, WholeNumber(0, 2000, "a count")]


class SeatRule(Item):
    """How many players of some instruments share one thing; their other needs stay as usual."""

    instruments: tuple[Id, ...] = Field(min_length=1, description="The instruments")
    thing: Id = Field(description="Such as chair, stand, stool, percussion-station, amplifier")
    players: Sharing = Field(description="How many players share one; 0 if they need none")


class ExtraThings(Item):
    """What an ensemble needs besides."""

    ensemble: Id = Field(description="The ensemble")
    thing: Id = Field(description="Such as chair, stand, riser, microphone")
    count: ThingCount = Field(description="How many more")


class Seating(Item):
    """The program's own rules of seating."""

    rules: tuple[SeatRule, ...] = Field((), description="Who shares what")
    extra: tuple[ExtraThings, ...] = Field((), description="What single ensembles need besides")
    once: dict[Id, ThingCount] | None = Field(
        None,
        description="What stands once for every ensemble, such as {podium: 1, stand: 1}",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    opening: dict[Id, ThingCount] = Field(
        default_factory=dict,
        description="What stands on the stage before the crew begins",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )

"""What holds in bad weather, of an event or of a concert."""

from __future__ import annotations

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.fields import Clock, Day, Id, Moment
from handbook.schema.scalars.patterns import KEBAB
from handbook.schema.scalars.texts import HumanText, PlainText


class AnyRainPlan(Item):
    """What holds instead in bad weather: another place, another date, or none at all."""

    decided: Moment | None = Field(
        None,
        description="When it is decided: a clock time of the day itself, such as 2 pm, or a date and a time",
    )
    venue: Id | None = Field(None, description="Where it is then: the id of a venue")
    date: Day | None = Field(None, description="The day on which it is then")
    about: HumanText | None = Field(
        None, description="What families must know of it, such as how they are told"
    )


class RainPlan(AnyRainPlan):
    """What holds instead in bad weather: another place, another date, or none at all."""

    room: Id | None = Field(None, description="Where it is then: the id of a room")
    place: PlainText | None = Field(None, description="Where it is then, in words")
    starts: Clock | None = Field(None, description="When it starts then, if at another time")


class ConcertRainPlan(AnyRainPlan):
    """What holds for an outdoor concert in bad weather: another place, date or hour, or none at all."""

    downbeat: Clock | None = Field(
        None,
        description="When the music starts then, if at another time; all other times move with it",
    )
    rooms: dict[Id, Id] = Field(
        default_factory=dict,
        description="Where ensembles meet and warm up then: the id of a room for each",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    opens: Clock | None = Field(None, description="When that venue is opened for the program")
    closes: Clock | None = Field(None, description="When the program must have left that venue")

    @property
    def is_given(self) -> bool:
        """Whether there is a concert then, at another place, date or hour, or in other rooms."""
        return bool(self.venue or self.date or self.downbeat or self.rooms)

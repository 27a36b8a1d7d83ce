"""The way to a concert elsewhere: rides, buses, minutes."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.calls import StepMinutes
from handbook.schema.scalars.fields import Clock, Id, WholeNumber
from handbook.schema.scalars.texts import PlainText

Seats = Annotated[int, WholeNumber(1, 120, "a number of seats")]
Held = Annotated[int, WholeNumber(0, 120, "a number of seats")]
Riders = Annotated[int, WholeNumber(0, 2000, "a number of riders")]


class BusEntry(Item):
    """One bus."""

    id: Id = Field(description="Short name, such as bus-1")
    seats: Seats = Field(description="Seats for riders, as the bus company states them")
    held: Held = Field(0, description="Seats that carry instruments instead")


class Ride(Item):
    """Ensembles that travel together, and their buses."""

    ensembles: tuple[Id, ...] = Field(min_length=1, description="Who travels together")
    buses: tuple[BusEntry, ...] = Field(min_length=1, description="The buses")
    students: Riders | None = Field(
        None, description="How many students ride, if not all whom the program counts"
    )
    adults: Riders = Field(0, description="How many adults ride with them")
    leaves: Clock | None = Field(
        None,
        description="When these buses leave for school, if that is fixed; checked against the last player",
    )


class Travel(Item):
    """The way there and back; whoever is in no ride comes by other means."""

    meet: PlainText = Field(description="Where the buses load, and come back to")
    load: StepMinutes = Field(description="Minutes to load players and instruments")
    drive: StepMinutes = Field(description="Minutes on the road")
    unload: StepMinutes = Field(0, description="Minutes to get out with everything")
    rides: tuple[Ride, ...] = Field(min_length=1, description="Who rides in which buses")

"""What staff measured, for planning by staff: sound levels and lifts. Never published."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.fields import Id, Number, WholeNumber, YesNo
from handbook.schema.scalars.quantities import Distance, Mass, SoundLevel
from handbook.schema.scalars.texts import PlainText

ExposureMinutes = Annotated[int, WholeNumber(0, 1440, "a number of minutes")]
Degrees = Annotated[int, WholeNumber(0, 180, "a number of degrees")]


class Grip(StrEnum):
    """How well the hands hold a load."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class LiftingTime(StrEnum):
    """For how long lifting goes on."""

    SHORT = "short"  # up to 1 hour
    MODERATE = "moderate"  # over 1 to 2 hours
    LONG = "long"  # over 2 to 8 hours


class SoundSpell(Item):
    """A stretch of an adult's working day at one measured level."""

    what: PlainText = Field(description="What was measured, and where")
    level: SoundLevel = Field(description="Level in dBA, as a meter showed it")
    minutes: ExposureMinutes = Field(description="For how long")


class Hands(Item):
    """Where an adult's hands are at one end of a lift."""

    reach: Distance = Field(description="From the middle between the ankles, forward")
    height: Distance = Field(description="Above the floor")
    twist: Degrees = Field(0, description="How far the load is to the side, in degrees")


class LiftEntry(Item):
    """One lift by one adult at work."""

    what: PlainText = Field(description="What is lifted, and where")
    equipment: Id | None = Field(None, description="The item that is lifted")
    weight: Mass | None = Field(None, description="Its weight, if it is no listed item")
    start: Hands = Field(description="Where the hands begin")
    end: Hands = Field(description="Where they end")
    guided: YesNo = Field(False, description="Yes if it must be set down with care")  # noqa: FBT003
    per_minute: Number = Field(description="Lifts a minute, such as 0.5")
    lasting: LiftingTime = Field(LiftingTime.SHORT, description="short, moderate or long")
    grip: Grip = Field(Grip.FAIR, description="good, fair or poor")


class Care(Item):
    """For `handbook plan --care` only; no page shows any of it."""

    sound: tuple[SoundSpell, ...] = Field((), description="Measured sound levels of one day")
    lifts: tuple[LiftEntry, ...] = Field((), description="Lifts by adults at work")

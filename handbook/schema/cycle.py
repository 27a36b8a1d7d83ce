"""cycles/<id>/cycle.yaml: one concert cycle's dates, stages and goals."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.domain.minutes import FixedSlots
from handbook.schema.base import Item
from handbook.schema.days import DayWishes, SlotMinutes
from handbook.schema.fields import (
    Clock,
    Day,
    HumanText,
    Id,
    Marks,
    Rounding,
    TempoBand,
    WholeNumber,
    YesNo,
)

Share = Annotated[int, WholeNumber(1, 1000, "a share")]
LongestBlock = Annotated[int, WholeNumber(4, 60, "a number of minutes")]
USUAL_SLOTS = FixedSlots(set_up=4, warm_up=6, notices=3, close=3)
USUAL_LONGEST_BLOCK = 12


class Slots(Item):
    """Minutes of the parts that every rehearsal has."""

    set_up: SlotMinutes = Field(USUAL_SLOTS.set_up, description="Chairs, instruments, music out")
    warm_up: SlotMinutes = Field(USUAL_SLOTS.warm_up, description="The warm-up")
    notices: SlotMinutes = Field(USUAL_SLOTS.notices, description="Opening thanks, then notices")
    close: SlotMinutes = Field(USUAL_SLOTS.close, description="Last words, instruments away")


class Split(Item):
    """Shares of the time left between fundamentals and music."""

    fundamentals: Share = Field(description="Share for fundamentals")
    music: Share = Field(description="Share for music")


class Stage(Item):
    """A stretch of the cycle with one purpose."""

    id: Id = Field(description="Short name")
    name: HumanText = Field(description="Name")
    purpose: HumanText = Field(description="What the stage is for, in a sentence")
    share: Share = Field(1, description="Its share of the rehearsals, beside the others")
    starts: Day | None = Field(None, description="Begin on this date, whatever the shares say")
    tempo: TempoBand = Field(description="From and to what percent of the goal tempo")
    minutes: Split = Field(description="How the time is shared")
    longest_block: LongestBlock = Field(
        USUAL_LONGEST_BLOCK, description="No block is longer, in minutes"
    )
    goals: tuple[HumanText, ...] = Field(
        min_length=1, description="What will be true at its end, in the order it is worked on"
    )
    home: HumanText | None = Field(None, description="How to practice at home in this stage")


class ExtraMeeting(DayWishes):
    """A rehearsal beside the pattern: a dress rehearsal, a sectional."""

    ensemble: Id = Field(description="The ensemble")
    date: Day = Field(description="The day")
    start: Clock = Field(description="When it begins")
    end: Clock = Field(description="When it ends")
    name: HumanText | None = Field(None, description="What it is")
    room: Id | None = Field(None, description="Where, if not the usual room")


class Cancellation(Item):
    """A rehearsal of one ensemble that is not held."""

    ensemble: Id = Field(description="The ensemble")
    date: Day = Field(description="The day")
    why: HumanText = Field(description="Why")


class DayNote(DayWishes):
    """What the director wants of one day."""

    date: Day = Field(description="The day")
    ensemble: Id | None = Field(None, description="Only this ensemble")
    start: Clock | None = Field(
        None,
        description="Only the rehearsal that begins then; else all of that day but those under "
        "extra, and on a day with none but these, these",
    )


class Cycle(Item):
    """A concert cycle, from handing out music to the concert."""

    name: HumanText = Field(description="Name, such as Winter cycle")
    year: Id = Field(description="School year: the name of a file in years/")
    draft: YesNo = Field(False, description="Yes keeps the cycle out of the site")  # noqa: FBT003
    starts: Day = Field(description="The day music is handed out")
    ends: Day | None = Field(None, description="Last day, if there is no concert.yaml")
    ensembles: tuple[Id, ...] = Field(min_length=1, description="Ensembles that take part")
    stages: tuple[Stage, ...] = Field(min_length=1, description="The stages in order")
    slots: Slots = Field(Slots(), description="Minutes of the fixed parts")
    marks: Marks = Field(
        Rounding("traditional"),
        description="Tempos are rounded down to: traditional, every 4, or exact",
    )
    notes: tuple[HumanText, ...] = Field((), description="Notes to students")
    days: tuple[DayNote, ...] = Field((), description="What is special about single days")
    extra: tuple[ExtraMeeting, ...] = Field((), description="Rehearsals beside the pattern")
    cancelled: tuple[Cancellation, ...] = Field((), description="Rehearsals that are not held")

"""cycles/<id>/cycle.yaml: one concert cycle's dates, stages and goals."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import ConfigDict, Field

from handbook.domain.ladders import USUAL_LEAP
from handbook.domain.minutes import USUAL_SHORTEST, FixedSlots
from handbook.domain.stretches import USUAL_TALK
from handbook.schema.base import Item
from handbook.schema.concert import UsualConcert
from handbook.schema.days import DayWishes, SlotMinutes
from handbook.schema.scalars.by_name import OrByName
from handbook.schema.scalars.fields import (
    Clock,
    Day,
    Id,
    Marks,
    Rounding,
    TempoBand,
    WholeNumber,
    YesNo,
)
from handbook.schema.scalars.texts import HumanText, Name, PlainText
from handbook.schema.substitute import SubstituteField
from handbook.schema.texts_for import TextsFor

Share = Annotated[int, WholeNumber(1, 1000, "a share")]
LongestBlock = Annotated[int, WholeNumber(4, 60, "a number of minutes")]
ShortestBlock = Annotated[int, WholeNumber(1, 30, "a number of minutes")]
MixShare = Annotated[int, WholeNumber(0, 1000, "a share")]
Leap = Annotated[int, WholeNumber(3, 100, "a percentage")]
AtGoal = Annotated[int, WholeNumber(2, 60, "a number of rehearsals")]
Window = Annotated[int, WholeNumber(1, 60, "a number of rehearsals")]
Talk = Annotated[int, WholeNumber(0, 200, "a percentage")]
FEWEST_MINUTES, MOST_MINUTES = 5, 120  # a day at home
MinutesAtHome = Annotated[int, WholeNumber(FEWEST_MINUTES, MOST_MINUTES, "a number of minutes")]
USUAL_SLOTS = FixedSlots(set_up=4, warm_up=6, notices=3, close=3)
USUAL_LONGEST_BLOCK = 12


MOST_STAGES = 40


class Slots(Item):
    """Minutes of the parts that every rehearsal has."""

    set_up: SlotMinutes = Field(USUAL_SLOTS.set_up, description="Chairs, instruments, music out")
    warm_up: SlotMinutes = Field(USUAL_SLOTS.warm_up, description="The warm-up")
    notices: SlotMinutes = Field(USUAL_SLOTS.notices, description="Opening thanks, then notices")
    close: SlotMinutes = Field(USUAL_SLOTS.close, description="Last words, instruments away")


SlotsField = Annotated[Slots, Field(description="Minutes of the fixed parts")]
MarksField = Annotated[
    Marks, Field(description="Tempos are rounded down to: traditional, every 4, or exact")
]
LeapField = Annotated[
    Leap, Field(description="No tempo in class is more percent above the last time's")
]
AtGoalField = Annotated[
    AtGoal | None,
    Field(
        description="Every passage is at its goal so many rehearsals before the concert; "
        "if left out, by the middle of the last stage"
    ),
]
WindowField = Annotated[
    Window | None,
    Field(
        description="Every passage comes back within so many rehearsals; if left out, as often as the hours allow"
    ),
]
TalkField = Annotated[
    Talk,
    Field(description="Percent that stops and words add to the playing time of a run or join"),
]


HomeMinutes = Annotated[
    MinutesAtHome | dict[Id, MinutesAtHome], OrByName(MinutesAtHome, dict[Id, MinutesAtHome])
]


class Split(Item):
    """Shares of the time left between fundamentals and music."""

    fundamentals: Share = Field(description="Share for fundamentals")
    music: Share = Field(description="Share for music")


class MusicMix(Item):
    """Shares of a stage's music time among passages, joins and runs."""

    passages: MixShare = Field(description="Share for passages, each by itself")
    joins: MixShare = Field(description="Share for joining neighbor passages")
    runs: MixShare = Field(description="Share for whole pieces from start to end")


class AnyStage(Item):
    """What is said of a stage, in a cycle or of all cycles."""

    id: Id = Field(description="Short name")
    name: Name | None = Field(None, description="Name")
    purpose: HumanText | None = Field(None, description="What the stage is for, in a sentence")
    share: Share = Field(1, description="Its share of the rehearsals, beside the others")
    tempo: TempoBand | None = Field(None, description="From and to what percent of the goal tempo")
    minutes: Split | None = Field(None, description="How the time is shared")
    music: MusicMix | None = Field(
        None,
        description="How music time is shared, such as {passages: 6, joins: 2, runs: 2}; "
        "if left out, more runs from stage to stage",
    )
    longest_block: LongestBlock = Field(
        USUAL_LONGEST_BLOCK, description="No block is longer, in minutes, but for a whole piece"
    )
    shortest_block: ShortestBlock = Field(
        USUAL_SHORTEST, description="The fewest minutes that are worth starting"
    )
    goals: tuple[HumanText, ...] = Field(
        (), description="What will be true at its end, in the order it is worked on"
    )
    home: TextsFor | None = Field(
        None,
        description="How to practice at home in this stage; one text, or a list of texts each with `who`",
    )

    home_minutes: HomeMinutes | None = Field(
        None,
        description="Minutes that a player practices at home each day of this stage, such as 15, "
        "or by ensemble, such as {lantern: 10, beacon: 20}; the site shares them out for each evening",
    )

    def minutes_at_home(self, *ensembles: str) -> int | None:
        """Give the minutes a day at home of a band; of several ids, of the first that has some."""
        given = self.home_minutes
        if not isinstance(given, dict):
            return given
        return next((given[name] for name in ensembles if name in given), None)


class UsualStage(AnyStage):
    """What a stage of this id has in every cycle that does not say otherwise."""


def _may_be_partial(schema: dict[str, Any]) -> None:
    """Let an editor accept a stage that takes the rest from the program's stage of its id."""
    schema["required"] = ["id"]


class Stage(AnyStage):
    """A stretch of the cycle with one purpose."""

    model_config = ConfigDict(json_schema_extra=_may_be_partial)

    name: Name = Field(description="Name")
    purpose: HumanText = Field(description="What the stage is for, in a sentence")
    tempo: TempoBand = Field(description="From and to what percent of the goal tempo")
    minutes: Split = Field(description="How the time is shared")
    goals: tuple[HumanText, ...] = Field(
        min_length=1, description="What will be true at its end, in the order it is worked on"
    )
    starts: Day | None = Field(None, description="Begin on this date, whatever the shares say")


class Usual(Item):
    """What every cycle, and every concert, has that does not say otherwise."""

    stages: tuple[UsualStage, ...] = Field(
        (), max_length=MOST_STAGES, description="The stages in order"
    )
    slots: SlotsField = Slots()
    marks: MarksField = Rounding("traditional")
    leap: LeapField = int(USUAL_LEAP)
    at_goal: AtGoalField = None
    return_within: WindowField = None
    talk: TalkField = USUAL_TALK
    concert: UsualConcert | None = Field(
        None,
        description="What every concert has that does not say otherwise: its venue, attire, minutes of each step",
    )


class ExtraMeeting(DayWishes):
    """A rehearsal beside the pattern: a dress rehearsal, a sectional."""

    ensemble: Id = Field(description="The ensemble")
    group: Id | None = Field(None, description="Only this group of it")
    date: Day = Field(description="The day")
    start: Clock = Field(description="When it begins")
    end: Clock = Field(description="When it ends")
    name: Name | None = Field(None, description="What it is")
    instead_of: Day | None = Field(
        None,
        description="The day of a class rehearsal that is not held, since it is moved here; "
        "if there are two that day, the first one",
    )
    make_up_for: Day | None = Field(
        None, description="The day of a rehearsal that was lost, which this one makes up for"
    )
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class Cancellation(Item):
    """A rehearsal of one ensemble that is not held."""

    ensemble: Id = Field(description="The ensemble")
    group: Id | None = Field(None, description="Only this group of it")
    date: Day = Field(description="The day")
    start: Clock | None = Field(
        None,
        description="Only the rehearsal that begins then, also one under extra; else all of that day but those under extra",
    )
    why: PlainText = Field(description="Why")
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )


class DayNote(DayWishes):
    """What the director wants of one day."""

    date: Day = Field(description="The day")
    ensemble: Id | None = Field(None, description="Only this ensemble")
    group: Id | None = Field(None, description="Only this group of it")
    start: Clock | None = Field(
        None,
        description="Only the rehearsal that begins then; else all of that day but those under "
        "extra, and on a day with none but these, these",
    )


def _stages_may_be_usual(schema: dict[str, Any]) -> None:
    """Let an editor accept a cycle with the program's stages, and a stage that is an id alone."""
    schema["required"].remove("stages")
    items = schema["properties"]["stages"]
    items["items"] = {"anyOf": [items["items"], schema["properties"]["year"]["anyOf"][0]]}


class Cycle(Item):
    """A concert cycle, from handing out music to the concert."""

    model_config = ConfigDict(json_schema_extra=_stages_may_be_usual)

    name: Name = Field(description="Name, such as Winter cycle")
    year: Id = Field(description="School year: the name of a file in years/")
    draft: YesNo = Field(
        default=False,
        description="Yes keeps the cycle out of the site, while serve and plan show it; what is wrong "
        "in it stops nothing",
    )
    starts: Day = Field(description="The day music is handed out")
    ends: Day | None = Field(None, description="Last day, if there is no concert")
    held_until: Day | None = Field(
        None,
        description="Rehearsals up to this day stay as they were, whatever rehearsal is lost next; "
        "later changes say under told when they became known",
    )
    ensembles: tuple[Id, ...] = Field(min_length=1, description="Ensembles that take part")
    stages: tuple[Stage, ...] = Field(
        min_length=1,
        max_length=MOST_STAGES,
        description="The stages in order; one of an id that the program has under `usual` says "
        "only what differs, or is the id alone; if left out, those of the program",
    )
    slots: SlotsField = Slots()
    marks: MarksField = Rounding("traditional")
    leap: LeapField = int(USUAL_LEAP)
    at_goal: AtGoalField = None
    return_within: WindowField = None
    talk: TalkField = USUAL_TALK
    notes: tuple[HumanText, ...] = Field((), description="Notes to students")
    substitute: SubstituteField = None
    days: tuple[DayNote, ...] = Field((), description="What is special about single days")
    extra: tuple[ExtraMeeting, ...] = Field((), description="Rehearsals beside the pattern")
    cancelled: tuple[Cancellation, ...] = Field((), description="Rehearsals that are not held")

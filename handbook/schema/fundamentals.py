"""fundamentals.yaml: what is practiced in every rehearsal, whatever the music."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.domain.scales import ScaleForm
from handbook.schema.base import Item
from handbook.schema.materials import Materials
from handbook.schema.scalars.fields import (
    RHYTHM_SIGNS,
    ConcertNote,
    ConcertNoteName,
    Id,
    KeyName,
    MeterMark,
    RhythmText,
    RudimentName,
    StickingText,
    TempoMark,
    WholeNumber,
    YesNo,
)
from handbook.schema.scalars.texts import HumanText, Name, Word
from handbook.schema.texts_for import OrText, TextsFor

Level = Annotated[int, WholeNumber(1, 50, "a level")]
Minutes = Annotated[int, WholeNumber(1, 240, "a number of minutes")]
Weight = Annotated[int, WholeNumber(1, 100, "a weight")]


class Exercise(Item):
    """One exercise of a strand."""

    id: Id = Field(description="Short name, unlike any other exercise's")
    name: Name = Field(description="What it is called in the room")
    level: Level = Field(description="Its place in the strand, 1 the first")
    rehearsals: Annotated[int, WholeNumber(1, 60, "a number of rehearsals")] = Field(
        4, description="Rehearsals before the next level"
    )
    minutes: Minutes | None = Field(None, description="How long it takes once")
    most_minutes: Minutes | None = Field(
        None,
        description="Never more minutes of it in one rehearsal, for breath or lips; it comes once a day",
    )
    tempo: TempoMark | None = Field(None, description="How fast")
    who: tuple[Id, ...] = Field((), description="Only these instruments or families, such as winds")
    how: TextsFor | None = Field(
        None, description="How it is done; one text, or a list of texts each with `who`"
    )
    listen: tuple[HumanText, ...] = Field((), description="What to listen for")
    media: Word | None = Field(None, description="A file in media/")
    materials: Materials = ()
    scale: KeyName | None = Field(None, description="Concert key of the scale that is played")
    scale_form: ScaleForm = Field(ScaleForm.OF_THE_KEY, description="Form of that scale")
    notes: tuple[ConcertNote, ...] = Field(
        (),
        description="Notes that are played, in concert pitch; without an octave each in its own",
    )
    rhythm: RhythmText | None = Field(None, description=RHYTHM_SIGNS)
    meter: MeterMark | None = Field(None, description="Meter of the rhythm; 4/4 if left out")
    sticking: StickingText | None = Field(
        None, description="Hands for the struck notes in order, such as RLRR LRLL"
    )
    rudiment: RudimentName | None = Field(
        None, description="Rudiment that is played, or that gives the rhythm its hands"
    )


class Strand(Item):
    """One line of fundamentals, such as breathing or tuning."""

    id: Id = Field(description="Short name")
    name: Name = Field(description="Name")
    why: HumanText = Field(description="Why it is worth the minutes")
    weight: Weight = Field(1, description="How often it comes, beside the others")
    who: tuple[Id, ...] = Field((), description="Only these instruments or families, such as winds")
    home: TextsFor | None = Field(
        None, description="What to do of it at home; one text, or a list of texts each with `who`"
    )
    exercises: tuple[Exercise, ...] = Field(min_length=1, description="From the first level on")


class Habit(Item):
    """A non-musical fundamental: set-up, posture, instrument care, entering and leaving."""

    id: Id = Field(description="Short name")
    name: Name = Field(description="Name")
    text: HumanText = Field(description="What everyone does")
    weight: Weight = Field(1, description="How often its turn comes, beside the others")


class WarmUpStep(Item):
    """One step of a warm-up: an exercise, a text, or both, for a time.

    What it says of tempo, meter and sound comes before what its exercise says. With a tempo
    one measure is counted in.
    """

    exercise: Id | None = Field(None, description="The exercise that is played")
    text: HumanText | None = Field(
        None, description="What is done; with an exercise, what else there is to say of it"
    )
    minutes: Minutes | None = Field(
        None, description="Minutes of it; the steps without a time share what is left"
    )
    seconds: Annotated[int, WholeNumber(1, 3600, "a number of seconds")] | None = Field(
        None, description="Seconds of it, on top of its minutes"
    )
    tempo: TempoMark | None = Field(None, description="How fast the click goes")
    meter: MeterMark | None = Field(None, description="Meter of the click; 4/4 if left out")
    click: YesNo = Field(default=True, description="no: only counted in, then without a click")
    drone: ConcertNoteName | None = Field(
        None, description="A note that is held below them, in concert pitch"
    )
    media: Word | None = Field(None, description="A sound file in media/, in place of the click")
    rest: Annotated[int, WholeNumber(0, 300, "a number of seconds")] | None = Field(
        None, description="Seconds of silence after it; 5 after a step that sounds"
    )


AnyWarmUpStep = Annotated[WarmUpStep, OrText("text", *WarmUpStep.model_fields)]


class WarmUp(Item):
    """One level of the warm-up; an ensemble rises one level a cycle."""

    level: Level = Field(description="1 the first")
    name: Name = Field(description="Name")
    steps: tuple[AnyWarmUpStep, ...] = Field(
        min_length=1, description="What is played, in order; a text alone, or an entry"
    )
    media: Word | None = Field(None, description="A file in media/")
    materials: Materials = ()


class Fundamentals(Item):
    """All strands, habits and warm-ups."""

    order: tuple[Id, ...] = Field((), description="Strands in the order they come in a rehearsal")
    strands: tuple[Strand, ...] = Field((), description="The strands")
    habits: tuple[Habit, ...] = Field((), description="The habits")
    warm_ups: tuple[WarmUp, ...] = Field((), description="The warm-up, level by level")

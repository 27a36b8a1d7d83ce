"""The entries of content files as people call them, and the fields they have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import get_args, get_origin

from handbook.schema.base import Item
from handbook.schema.calls import Booking, EarlierEntry, GroupCall, LaterEntry, Steps
from handbook.schema.care import Care, Hands, LiftEntry, SoundSpell
from handbook.schema.concert import (
    Appearance,
    Concert,
    Guest,
    GuestPiece,
    NotPlaying,
    Pause,
    UsualConcert,
)
from handbook.schema.cycle import (
    Cancellation,
    Cycle,
    DayNote,
    ExtraMeeting,
    MusicMix,
    Slots,
    Split,
    Stage,
    Usual,
    UsualStage,
)
from handbook.schema.days import DaySlots, PassageWish, Section
from handbook.schema.events import AwayTimes, Event, EventDate, EventRide, Events
from handbook.schema.fundamentals import Exercise, Fundamentals, Habit, Strand, WarmUp, WarmUpStep
from handbook.schema.loads import CarrierEntry, CrewRole, CrewTask, FurtherMove, Gear, LiftingRules
from handbook.schema.log import Log, Reached
from handbook.schema.materials import Material
from handbook.schema.music import (
    GoalByDate,
    Music,
    Part,
    Passage,
    Piece,
    RhythmLine,
    Trill,
    WatchPoint,
)
from handbook.schema.on_the_day import CallOnTheDay
from handbook.schema.program import (
    BandGroup,
    Contact,
    Ensemble,
    Look,
    MayBePublic,
    Program,
    Room,
    StaffRole,
    ThankedRole,
    Venue,
)
from handbook.schema.rain import ConcertRainPlan, RainPlan
from handbook.schema.seating import ExtraThings, Seating, SeatRule
from handbook.schema.substitute import AskedRole, Substitute
from handbook.schema.texts_for import TextFor
from handbook.schema.travel import BusEntry, Ride, Travel
from handbook.schema.year import (
    AlteredSchoolDay,
    Bells,
    MakeUp,
    Meeting,
    Period,
    SchoolClosure,
    Year,
)

ENTRY_NAMES: Mapping[type[Item], str] = {
    Look: "the look of the pages",
    AlteredSchoolDay: "an altered day",
    Appearance: "a turn on the program",
    AskedRole: "a role that may be asked",
    BandGroup: "a group of an ensemble",
    AwayTimes: "the times out of class",
    Bells: "a bell schedule",
    Booking: "a booked room",
    BusEntry: "a bus",
    CallOnTheDay: "the one to call on the day",
    Cancellation: "a cancelled rehearsal",
    Care: "the care entry",
    CarrierEntry: "a cart or truck",
    Concert: "a concert",
    Contact: "the contact",
    CrewRole: "a role of the crew",
    CrewTask: "a task of the crew",
    Cycle: "a cycle",
    DayNote: "a day's note",
    DaySlots: "the day's entry of slots",
    Ensemble: "an ensemble",
    Exercise: "an exercise",
    Event: "an event",
    EventDate: "a date of an event",
    EventRide: "a ride there and back",
    Events: "a file of events",
    ExtraMeeting: "an extra rehearsal",
    ExtraThings: "an extra on the stage",
    Fundamentals: "the fundamentals",
    FurtherMove: "a further way of equipment",
    Gear: "an item of equipment",
    GoalByDate: "a goal by a date",
    GroupCall: "an entry of `calls`",
    Guest: "an entry of guests",
    GuestPiece: "a piece of guests",
    Habit: "a habit",
    Hands: "a place of the hands",
    EarlierEntry: "a step before the warm-up",
    LaterEntry: "a step after the performance",
    LiftEntry: "a lift",
    LiftingRules: "the lifting limits",
    Log: "a log of a rehearsal",
    MakeUp: "a make-up day",
    Material: "an entry of materials",
    MayBePublic: "an entry of what may be public",
    Meeting: "a meeting",
    Music: "a file of music",
    MusicMix: "a stage's share of the music",
    NotPlaying: "an ensemble that does not play",
    Part: "a part of the form",
    Passage: "a passage",
    PassageWish: "a passage of the day",
    Pause: "a pause in the run of show",
    Period: "a period",
    Piece: "a piece",
    Program: "the program",
    Ride: "a ride",
    ConcertRainPlan: "a rain plan of a concert",
    RainPlan: "a rain plan",
    Reached: "a tempo that was reached",
    RhythmLine: "a rhythm",
    Room: "a room",
    SchoolClosure: "a closure",
    Seating: "the seating",
    SeatRule: "a rule of seating",
    Section: "a section",
    Slots: "the entry of slots",
    SoundSpell: "a stretch of sound",
    Split: "a stage's share of the minutes",
    StaffRole: "a role of the staff",
    Stage: "a stage",
    Steps: "an entry of minutes for each step",
    Strand: "a strand",
    Substitute: "the entry for a substitute",
    ThankedRole: "a role to be thanked",
    TextFor: "a text for some players",
    Travel: "the travel",
    Trill: "a trill",
    Usual: "the entry of what is usual",
    UsualConcert: "the entry of the usual concert",
    UsualStage: "a usual stage",
    Venue: "a venue",
    WarmUp: "a warm-up",
    WarmUpStep: "a step of a warm-up",
    WatchPoint: "a watch point",
    Year: "a school year",
}
"""Each model with its name and article, to be put into a sentence."""


def field_descriptions(model: type[Item]) -> dict[str, str]:
    """Give an entry's fields as they are written, in order, each with what it is."""
    return {
        field.alias or name: field.description or "" for name, field in model.model_fields.items()
    }


def entry_inside(model: type[Item], name: str) -> type[Item] | None:
    """Find the model of the entries in a field: `stages` of a cycle holds stages."""
    for own, field in model.model_fields.items():
        if name in {own, field.alias}:
            return next(_models_in(field.annotation), None)
    return None


def holds_names(model: type[Item], name: str) -> bool:
    """Whether a field holds things by names that the author gives them, as `sections` does."""
    return any(
        name in {own, field.alias} and get_origin(field.annotation) is dict
        for own, field in model.model_fields.items()
    )


def _models_in(annotation: object) -> Iterator[type[Item]]:
    if isinstance(annotation, type) and issubclass(annotation, Item):
        yield annotation
    for part in get_args(annotation):
        yield from _models_in(part)

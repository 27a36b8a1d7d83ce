"""cycles/<id>/concert.yaml, and each file of cycles/<id>/concerts/: a concert of a cycle."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any

from pydantic import ConfigDict, Field

from handbook.schema.base import Item
from handbook.schema.calls import Booking, EarlierEntry, GroupCall, LaterEntry, Steps
from handbook.schema.care import Care
from handbook.schema.loads import CarrierEntry, CrewRole, Gear, LiftingRules
from handbook.schema.on_the_day import OnTheDay
from handbook.schema.rain import ConcertRainPlan
from handbook.schema.scalars.fields import (
    Clock,
    Day,
    Id,
    LedBy,
    MovedFrom,
    WholeNumber,
    YesNo,
)
from handbook.schema.scalars.patterns import KEBAB
from handbook.schema.scalars.texts import HumanText, Name, PlainText
from handbook.schema.seating import Seating
from handbook.schema.texts_for import TextOrFor
from handbook.schema.travel import Travel

PauseMinutes = Annotated[int, WholeNumber(1, 120, "a number of minutes")]
GapSeconds = Annotated[int, WholeNumber(0, 600, "a number of seconds")]
GuestMinutes = Annotated[int, WholeNumber(1, 120, "a number of minutes")]
GuestThings = Annotated[int, WholeNumber(0, 500, "a number")]
ChangeoverMinutes = Annotated[int, WholeNumber(0, 60, "a number of minutes")]

# Applause and page turns; clearing the stage for another band (common practice, no source).
USUAL_GAP_SECONDS, USUAL_CHANGEOVER_MINUTES = 20, 4


class PauseKind(StrEnum):
    """What fills the time between two turns."""

    REMARKS = "remarks"
    CHANGEOVER = "changeover"
    INTERMISSION = "intermission"


class Pause(Item):
    """Time without music in the run of show."""

    what: PauseKind = Field(description="remarks, changeover or intermission")
    minutes: PauseMinutes = Field(description="How long")
    about: PlainText | None = Field(None, description="What it is, such as Welcome")


class GuestPiece(Item):
    """A piece that guests perform."""

    title: Name = Field(description="Title")
    by: Name | None = Field(None, description="Composer or arranger")
    minutes: GuestMinutes = Field(description="How long it lasts")


class Guest(Item):
    """Guests at the concert, such as a choir: on the program and on stage, without a timetable."""

    id: Id = Field(description="Short name, unlike that of any ensemble")
    name: Name = Field(description="Name")
    minutes: GuestMinutes | None = Field(
        None, description="How long their turn lasts, if its pieces are not listed"
    )
    pieces: tuple[GuestPiece, ...] = Field(
        (), max_length=40, description="What they perform, in order"
    )
    chairs: GuestThings | None = Field(
        None,
        description="Chairs they need on stage; if neither chairs nor stands are said, the stage stays as it is for them",
    )
    stands: GuestThings | None = Field(None, description="Music stands they need on stage")


class Appearance(Item):
    """One ensemble's turn on the program, or that of guests."""

    ensemble: Id | None = Field(None, description="Who plays")
    guest: Id | None = Field(
        None, description="In place of an ensemble: the id of one of the concert's guests"
    )
    joined_by: tuple[Id, ...] = Field(
        (), description="Who plays along, in a combined piece: ensembles, or guests"
    )
    before: tuple[Pause, ...] = Field(
        (), description="What comes before the turn, in order, in place of the usual changeover"
    )
    pieces: tuple[Id, ...] = Field(
        (),
        min_length=1,
        description="What is played, in order; what guests perform stands under guests",
    )
    first_note: Clock | None = Field(
        None,
        description="When it begins, if the turn has an hour of its own, as at a festival; else as soon as what comes before it is over",
    )
    call: Clock | None = Field(
        None, description="When its players, and those who join it, must be ready in the room"
    )
    room: Id | None = Field(
        None, description="Where its players meet and warm up: the id of a room"
    )
    led_by: LedBy = Field(
        (),
        description="Who leads its warm-up and conducts it, if not those who lead the ensemble: ids of roles under `staff`",
    )
    place: PlainText | None = Field(
        None, description="Where its players meet, in words, if it is in no room of the list"
    )

    @property
    def band(self) -> str:
        """The ensemble's id; nothing for guests."""
        return self.ensemble or ""

    @property
    def names(self) -> tuple[str, ...]:
        """The ids of all who perform, of ensembles and of guests."""
        return tuple(one for one in (self.ensemble, self.guest, *self.joined_by) if one)


class NotPlaying(Item):
    """An ensemble of the cycle that does not play at the concert."""

    ensemble: Id = Field(description="The ensemble")
    why: HumanText = Field(description="Why, or where it plays instead")


class AnyConcert(Item):
    """What is said of a concert, or of all of them."""

    venue: Id | None = Field(None, description="Where: the id of a venue")
    downbeat: Clock | None = Field(None, description="When the music starts")
    gap_seconds: GapSeconds = Field(
        USUAL_GAP_SECONDS, description="Seconds of applause between two pieces of one band"
    )
    changeover: ChangeoverMinutes = Field(
        USUAL_CHANGEOVER_MINUTES,
        description="Minutes between two bands, and of a reset in a longer pause",
    )
    attire: tuple[HumanText, ...] = Field((), description="What players wear")
    attire_note: HumanText | None = Field(
        None, description="A sentence below the attire, such as where clothes can be borrowed"
    )
    bring: tuple[TextOrFor, ...] = Field(
        (),
        description="What players bring; {who: [percussion], text: ...} for what only some of them do",
    )
    pick_up_place: PlainText | None = Field(None, description="Where families collect them")
    pick_up_rules: tuple[HumanText, ...] = Field((), description="What families must know of it")
    doors: Clock | None = Field(
        None,
        description="When the audience is let in; where it is usual, for concerts at the usual downbeat",
    )
    evening_ends: Clock | None = Field(
        None, description="The latest time at which any player may be picked up"
    )
    on_the_day: OnTheDay = None
    allowances: Steps | None = Field(None, description="Minutes of each step, for every group")
    seating: Seating | None = Field(None, description="The program's own rules of seating")
    lifting: LiftingRules | None = Field(
        None, description="The program's own limits for lifting, by the district's rules"
    )
    goes_back: YesNo = Field(
        default=False,
        description="Yes if all of the equipment goes back after the concert, by the ways on which it came",
    )


class UsualConcert(AnyConcert):
    """What every concert has that does not say otherwise."""


def _may_be_usual(schema: dict[str, Any]) -> None:
    """Let an editor accept a concert at the usual place and time."""
    schema["required"] = [name for name in schema["required"] if name not in {"venue", "downbeat"}]


class Concert(AnyConcert):
    """The concert."""

    model_config = ConfigDict(json_schema_extra=_may_be_usual)

    name: Name = Field(description="Name of the concert")
    date: Day = Field(description="The day")
    moved_from: MovedFrom = Field(
        (),
        description="The day it was to be on before, or several, the newest last; date is the day it is on now",
    )
    told: Day | None = Field(
        None,
        description="When the last move became known: rehearsals before that day stay as they were",
    )
    cancelled: PlainText | None = Field(
        None, description="Why it is not held; its page stays, and says so"
    )
    downbeat: Clock = Field(
        description="When the music starts; if left out, the first_note of the first turn"
    )
    venue: Id = Field(description="Where: the id of a venue")
    about: HumanText | None = Field(None, description="A sentence for families")
    thanks: tuple[HumanText, ...] = Field(
        (),
        max_length=20,
        description="Whom the program thanks beside the crew, such as sponsors: a sentence each",
    )
    program: tuple[Appearance, ...] = Field(
        min_length=1, max_length=100, description="Who plays what, in order"
    )
    guests: tuple[Guest, ...] = Field(
        (), max_length=40, description="Guests on the program, such as a choir"
    )
    not_playing: tuple[NotPlaying, ...] = Field(
        (), description="Ensembles of the cycle that do not play this time"
    )
    closing: tuple[Pause, ...] = Field((), description="What comes after the last piece")
    attire_for: dict[Id, tuple[HumanText, ...]] = Field(
        default_factory=dict,
        description="What players of single ensembles wear besides",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    bring_for: dict[Id, tuple[TextOrFor, ...]] = Field(
        default_factory=dict,
        description="What players of single ensembles bring besides",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    pick_up: Clock | None = Field(None, description="When families can collect their player")
    opens: Clock | None = Field(None, description="When the venue is opened for the program")
    closes: Clock | None = Field(None, description="When the program must have left the venue")
    during_school: YesNo = Field(
        False,  # noqa: FBT003
        description="Yes if players are called before school is out, and it is meant",
    )
    calls: tuple[GroupCall, ...] = Field((), description="Groups with calls of their own")
    before: tuple[EarlierEntry, ...] = Field(
        (),
        max_length=100,
        description="Steps before a band warms up, in order, such as a photo or a meal",
    )
    after: tuple[LaterEntry, ...] = Field(
        (), description="Steps after a band has played, in order, such as sight-reading or a photo"
    )
    rain: ConcertRainPlan | None = Field(
        None,
        description="What holds for an outdoor concert in bad weather, such as {venue: hall, decided: 2 pm}",
    )
    bookings: tuple[Booking, ...] = Field(
        (), max_length=100, description="Rooms in use for something else"
    )
    travel: Travel | None = Field(None, description="Buses, if the venue is elsewhere")
    equipment: tuple[Gear, ...] = Field((), description="What is moved")
    carriers: tuple[CarrierEntry, ...] = Field((), description="Carts and trucks")
    crew: tuple[CrewRole, ...] = Field((), description="Roles of the crew")
    care: Care | None = Field(None, description="For planning by staff; no page shows it")

    @property
    def players(self) -> tuple[str, ...]:
        """The ensembles that play, also those that join another one, each once."""
        guests = {guest.id for guest in self.guests}
        names = (one for turn in self.program for one in turn.names if one != turn.guest)
        return tuple(dict.fromkeys(one for one in names if one not in guests))

"""program.yaml: the school's band program as a whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import lru_cache
from typing import Annotated

from pydantic import Field, model_validator

from handbook.domain.tables.counting_systems import DEFAULT_COUNTING
from handbook.domain.tables.experience import Experience
from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import Instrument, instrument
from handbook.domain.tables.note_names import NoteNames, usual_note_names
from handbook.domain.values.paper import Paper
from handbook.domain.values.unreadable import UnreadableError
from handbook.schema.base import Item
from handbook.schema.cycle import Usual
from handbook.schema.fundamentals import Level
from handbook.schema.scalars.by_name import OrByName
from handbook.schema.scalars.fields import (
    Color,
    ConcertNoteName,
    CountingName,
    Id,
    Language,
    LedBy,
    WholeNumber,
    WrittenNote,
    YesNo,
)
from handbook.schema.scalars.patterns import KEBAB, PLACED_NOTE
from handbook.schema.scalars.texts import HumanText, Name, PlainText, Word
from handbook.schema.substitute import SubstituteField

DEFAULT_PITCH = 440
Pitch = Annotated[int, WholeNumber(415, 466, "a tuning pitch in hertz")]


Fingerings = Annotated[
    dict[WrittenNote, HumanText],
    Field(json_schema_extra={"propertyNames": {"pattern": PLACED_NOTE}}),
]


CountOfPlayers = Annotated[int, WholeNumber(1, 200, "a count of players")]


SharedPlayers = Annotated[
    tuple[Id, ...] | dict[Id, int], OrByName(tuple[Id, ...], dict[Id, CountOfPlayers])
]


class Contact(Item):
    """How families reach the program: a role, never a person."""

    role: Name = Field(description="The role that answers, such as the band office")
    email: Word | None = Field(None, description="The role's own address")
    phone: Word | None = Field(None, description="The school's number")
    hours: PlainText | None = Field(None, description="When someone answers")


class StaffRole(Item):
    """Someone of the staff, by the role: never a person's name."""

    id: Id = Field(description="Short name that other files use")
    name: Name = Field(
        description="The role, such as the assistant director; never a person's name"
    )


class ThankedRole(Item):
    """Someone beside the sections of the bands whose turn comes in the opening thanks."""

    id: Id = Field(description="Short name that `thanks_to` uses")
    name: Word = Field(
        description="The role, such as the librarians or the bus drivers; never a person's name"
    )
    does: Word | None = Field(
        None, description="What they do that few see, to be looked at before they are thanked"
    )
    ensembles: tuple[Id, ...] = Field((), description="Only these ensembles thank them")


class BandGroup(Item):
    """A part of a band that has rehearsals of its own, such as half of a class."""

    id: Id = Field(description="Short name that other files use")
    name: Name = Field(description="What its players call it, such as brass class")
    instruments: dict[Id, Annotated[int, WholeNumber(1, 200, "a count of players")]] = Field(
        default_factory=dict,
        description="Instrument to number of players in it; all of the band's if left out",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )


class Ensemble(Item):
    """One band of the program."""

    id: Id = Field(description="Short name that other files use")
    name: Name = Field(description="Full name, as a family knows it")
    level: Name | None = Field(None, description="Grade or experience, in words")
    experience: Experience = Field(
        Experience.INTERMEDIATE,
        description="How far its players are, which sets their ranges and tuning notes: beginner (first year), developing (second year), intermediate or advanced",
    )
    about: HumanText | None = Field(None, description="A sentence or two about the ensemble")
    room: Id | None = Field(None, description="Where it rehearses: the id of a room")
    instruments: dict[Id, CountOfPlayers] = Field(
        default_factory=dict,
        description="Instrument to number of players",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    led_by: LedBy = Field(
        (), description="Who leads its rehearsals: ids of roles under `staff`, such as [director]"
    )
    groups: tuple[BandGroup, ...] = Field(
        (),
        max_length=12,
        description="Groups that rehearse apart, on days of their own, and play the concert together; they count for the band that gives no instruments itself",
    )
    shares_players_with: SharedPlayers = Field(
        (),
        description="Ensembles with some of the same players, such as [harbor], or with how many: {harbor: 4}",
    )
    valves: dict[Id, Annotated[int, WholeNumber(3, 4, "a number of valves")]] = Field(
        default_factory=dict,
        description="Brass with four valves, such as euphonium: 4; three is usual",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    starts_at: Level | None = Field(
        None,
        description="Level of fundamentals and warm-up at which new players begin; 1 if left out",
    )
    strands_start_at: dict[Id, Level] = Field(
        default_factory=dict,
        description="Strands that new players begin at another level, such as {tone: 2}",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    single_horns: YesNo = Field(
        default=False, description="Whether the horns are single horns in F, without a B♭ side"
    )

    @model_validator(mode="after")
    def _count_groups(self) -> Ensemble:
        """Count the players of a band by those of its groups, where it gives no counts itself."""
        if self.instruments:
            return self
        counts: Counter[str] = Counter()
        for group in self.groups:
            counts.update(group.instruments)
        return self.model_copy(update={"instruments": dict(counts)}) if counts else self

    @property
    def players(self) -> int:
        """How many players it counts, 0 if it counts none."""
        return sum(self.instruments.values())


class Room(Item):
    """A room at school."""

    id: Id = Field(description="Short name that other files use")
    name: Name = Field(description="What the sign on the door says")
    directions: HumanText | None = Field(None, description="How to find it")


class Venue(Item):
    """A place where a concert is given."""

    id: Id = Field(description="Short name that other files use")
    name: Name = Field(description="Name of the hall")
    address: PlainText = Field(description="Street address, as a map would find it")
    parking: HumanText | None = Field(None, description="Where families park and enter")
    access: HumanText | None = Field(None, description="Step-free entry, seating, hearing help")
    rooms: tuple[Room, ...] = Field((), description="Rooms of the venue")
    stage: Id | None = Field(None, description="Its stage: the id of a room")
    stock: dict[Id, Annotated[int, WholeNumber(0, 5000, "a count")]] = Field(
        default_factory=dict,
        description="What the venue has, such as {chair: 80, stand: 50}",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )


class MayBePublic(Item):
    """Something that may stand on the site though it looks private, such as another office's phone."""

    what: Word = Field(
        description="The words as the site shows them, such as a phone number or a name"
    )
    why: Word = Field(description="Why it may be public, and who said so; shown to nobody but you")


class Look(Item):
    """How pages show whose they are."""

    color: Color = Field(
        description='The school\'s color in quotes, such as "#1f4e8c": links and lines have it, in the nearest shade that is easy to read'
    )
    emblem: Word | None = Field(
        None,
        description="A small picture beside the name on each page: a png, jpg or webp in media/, such as emblem.png, at most 100 kB",
    )


class Program(Item):
    """The school's band program."""

    name: Name = Field(description="Name of the program")
    school: Name = Field(description="Name of the school")
    place: Name | None = Field(None, description="Town")
    about: HumanText | None = Field(None, description="A sentence of welcome on the first page")
    time_zone: Word = Field(description="Zone of all clock times, such as America/Chicago")
    languages: tuple[Language, ...] = Field(
        ("en",),
        min_length=1,
        description="Languages of the site, the first one first; all pages are there in each of them, in the others in a folder of its own",
    )
    note_names: dict[Language, NoteNames] = Field(
        default_factory=dict,
        description="How the pages of a language name notes, as players hear it in class: letters (C, D, B♭), do-re-mi (do, re, si♭) or letters-with-h (C, D, B, H), such as {en: letters, es: do-re-mi}; if left out, all languages name them as is usual in the first one",
    )
    address: Word | None = Field(None, description="Web address at which the site will stand")
    contact: Contact = Field(description="Who answers questions")
    look: Look | None = Field(None, description="The school's color and emblem on each page")
    paper: Paper = Field(Paper.LETTER, description="Paper of printed sheets: letter or a4")
    pitch: Pitch = Field(DEFAULT_PITCH, description="Tuning pitch of A above middle C, in hertz")
    tuning_note: ConcertNoteName | None = Field(
        None, description="Concert note that winds tune to, such as Bb or F; Bb if left out"
    )
    counting: CountingName = Field(
        DEFAULT_COUNTING, description="How rhythms are counted out loud in every room"
    )
    staff: tuple[StaffRole, ...] = Field(
        (), max_length=60, description="Who leads rehearsals, by role, never by a person's name"
    )
    thank: tuple[ThankedRole, ...] = Field(
        (),
        max_length=40,
        description="Whom the opening thanks go to in turn beside the sections of each band: roles, never people; for you alone, on no page",
    )
    ensembles: tuple[Ensemble, ...] = Field(min_length=1, max_length=60, description="The bands")
    reads_like: dict[Id, Id] = Field(
        default_factory=dict,
        description="Instruments of your own naming, each with a known one whose part it reads like, such as trumpet-2: trumpet",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    fingerings: dict[Id, Fingerings] = Field(
        default_factory=dict,
        description="Your own fingerings: instrument, then note as the part has it, then how it is played",
        json_schema_extra={"propertyNames": {"pattern": KEBAB}},
    )
    usual: Usual | None = Field(
        None,
        description="What every cycle has that does not say otherwise: its stages, slots and ways of planning",
    )
    substitute: SubstituteField = None
    rooms: tuple[Room, ...] = Field((), description="Rooms at school")
    venues: tuple[Venue, ...] = Field((), description="Concert halls")
    words: dict[Word, HumanText] = Field(
        default_factory=dict, description="Terms and what they mean, in plain words"
    )
    pages: tuple[Word, ...] = Field(
        (),
        max_length=200,
        description="Files of the folder pages/, without .md, in the order in which families find them, such as [attendance, practice-at-home]; those that are not named follow",
    )
    host_files: tuple[Word, ...] = Field(
        (),
        max_length=20,
        description="Files and folders that your web host keeps in the folder of the site, such as [CNAME, .nojekyll, .well-known]: each new site gets them as they are",
    )
    may_be_public: tuple[MayBePublic, ...] = Field(
        (),
        max_length=100,
        description="What a publication need not stop at, each by its own words and with the reason: phone numbers, mail addresses or names that are meant to be public",
    )

    def names_notes(self, language: str) -> NoteNames:
        """Say how the pages of a language name notes: what is heard in class, if nothing else is said."""
        first = self.languages[0]
        in_class = self.note_names.get(first) or usual_note_names(first)
        return self.note_names.get(language, in_class)

    def leaders(self, roles: Iterable[str]) -> tuple[StaffRole, ...]:
        """Find those of the staff who are named, in that order."""
        return tuple(one for name in roles for one in self.staff if one.id == name)

    @property
    def rehearsal_rooms(self) -> dict[str, Room]:
        """The rooms that rehearsals may be in, by id: a venue's are named with the venue."""
        at_venues = {
            room.id: room.model_copy(update={"name": room.name.followed_by(venue.name)})
            for venue in self.venues
            for room in venue.rooms
        }
        return at_venues | {room.id: room for room in self.rooms}

    def instrument(self, name: str) -> Instrument | None:
        """Find what is known of an instrument, by the program's own word, its name or an alias."""
        return _row(self.reads_like.get(name, name))


def is_known(name: str) -> bool:
    """Whether a word names an instrument that is known here."""
    return _row(name) is not None


def is_same(one: str, other: str) -> bool:
    """Whether two words name the same instrument, such as `trumpet` and `trumpets`."""
    row = None if one in FAMILIES else _row(one)
    return row is not None and row == _row(other)


@lru_cache(maxsize=512)
def _row(name: str) -> Instrument | None:
    try:
        return instrument(name)
    except UnreadableError:
        return None

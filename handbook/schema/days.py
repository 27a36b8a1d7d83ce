"""What a director may ask of one rehearsal, in `days:` and in `extra:` of cycle.yaml."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, WithJsonSchema
from pydantic_core import core_schema

from handbook.domain.day_kinds import DayKind
from handbook.domain.values.unreadable import UnreadableError
from handbook.schema.base import Item
from handbook.schema.events import EventRide
from handbook.schema.materials import Materials
from handbook.schema.scalars import patterns
from handbook.schema.scalars.codes import UNREADABLE_ID, UNREADABLE_NUMBER
from handbook.schema.scalars.fields import Clock, Id, LedBy, ThankedIds, WholeNumber
from handbook.schema.scalars.reading import read_by
from handbook.schema.scalars.texts import HumanText, Name

MOST_MINUTES = 240  # of one rehearsal: a long evening
SlotMinutes = Annotated[int, WholeNumber(0, 60, "a number of minutes")]
PassageMinutes = Annotated[int, WholeNumber(1, MOST_MINUTES, "a number of minutes")]


def _passage_name(text: str) -> str:
    if not re.fullmatch(patterns.PLACED_ID, text):
        raise UnreadableError(
            f"`{text}` names no passage: write its id, or its piece's id, a slash and its id"
        )
    return text


def _none_or_minutes(text: str) -> int:
    """Read whole minutes, or `none` for nought."""
    if text.lower() == "none":
        return 0
    try:
        return WholeNumber(0, MOST_MINUTES).parse(text)
    except UnreadableError:
        raise UnreadableError(
            f"`{text}` is neither none nor whole minutes up to {MOST_MINUTES}", ("none", "10")
        ) from None


PassageName = Annotated[
    str,
    read_by(_passage_name, "the id of a passage", UNREADABLE_ID),
    WithJsonSchema({"type": "string", "pattern": patterns.PLACED_ID}),
]
NoneOrMinutes = Annotated[
    int,
    read_by(_none_or_minutes, "none or a number of minutes", UNREADABLE_NUMBER),
    WithJsonSchema({"anyOf": [
        {"type": "integer", "minimum": 0, "maximum": MOST_MINUTES},
        {"type": "string", "pattern": patterns.NONE_OR_NUMBER, "examples": ["none"]},
    ]}),
]  # fmt: skip


class PassageWish(Item):
    """A passage to be rehearsed that day."""

    passage: PassageName = Field(
        description="Its id, or piece/passage where two pieces have a passage of that id"
    )
    minutes: PassageMinutes | None = Field(None, description="Exactly so many minutes of it")


class _OrItsName:
    """Tells an editor that a passage may stand as its name alone."""

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [{"type": "string", "pattern": patterns.PLACED_ID}, handler(schema)]}


def _from_name(value: object) -> object:
    return {"passage": value} if isinstance(value, str) else value


WishedPassage = Annotated[PassageWish, BeforeValidator(_from_name), _OrItsName()]


class DaySlots(Item):
    """Minutes of the fixed parts of one rehearsal, where they differ from the cycle's."""

    set_up: SlotMinutes | None = Field(None, description="Chairs, instruments, music out")
    warm_up: SlotMinutes | None = Field(None, description="The warm-up")
    notices: SlotMinutes | None = Field(None, description="Opening thanks, then notices")
    close: SlotMinutes | None = Field(None, description="Last words, instruments away")


class Section(Item):
    """A section that rehearses by itself."""

    name: Name | None = Field(
        None, description="What the players call it, if not its id without hyphens"
    )
    who: tuple[Id, ...] = Field(
        min_length=1, description="Its instruments, or families such as low-brass"
    )
    room: Id | None = Field(None, description="Where, if not where the rehearsal is")
    led_by: LedBy = Field(
        (),
        description="Who leads it, if not those who lead the ensemble, such as an assistant: ids of roles under `staff`",
    )
    passages: tuple[WishedPassage, ...] = Field(
        (), description="What it works on, in order: ids of passages, or with minutes of each"
    )


class DayWishes(Item):
    """What the director asks of one rehearsal; the rest of the plan fills around it."""

    kind: DayKind | None = Field(
        None,
        description="ordinary; dress (our part of the program in order, first); sectional; "
        "sight-reading; assembly or event (no fundamentals, no music)",
    )
    purpose: HumanText | None = Field(None, description="What this rehearsal is for")
    thanks: HumanText | None = Field(
        None, description="The opening thanks: one sentence of specific appreciation"
    )
    thanks_to: ThankedIds = Field(
        (),
        description="Whom they thank, so that turns are counted: instruments, sections or families such as low-brass, and roles under `thank` in program.yaml; if left out, those whom the sentence thanks by name in English",
    )
    notices: tuple[HumanText, ...] = Field((), description="Notices of the day")
    habit: Id | None = Field(
        None, description="The habit told in its notices, in place of the next in turn"
    )
    run: tuple[Id, ...] = Field(
        (), description="Pieces to be played from start to end, in this order"
    )
    passages: tuple[WishedPassage, ...] = Field(
        (),
        description="Passages to be rehearsed whatever the plan says: ids, or "
        "{passage: uneven-wheel, minutes: 10}",
    )
    fundamentals: NoneOrMinutes | None = Field(
        None, description="none, or exactly so many minutes, if not by the stage's share"
    )
    slots: DaySlots | None = Field(
        None, description="Minutes of fixed parts that differ that day, such as {set_up: 8}"
    )
    room: Id | None = Field(None, description="Where, if not the usual room")
    materials: Materials = ()
    ride: EventRide | None = Field(
        None,
        description="The ride there and back, if it is away from school: meet, leaves and back",
    )
    pick_up: Clock | None = Field(
        None, description="When families can collect their player, if that is to be said"
    )
    led_by: LedBy = Field(
        (),
        description="Who leads it, if not those who lead the ensemble: ids of roles under `staff`",
    )
    sections: dict[Id, Section] = Field(
        default_factory=dict,
        description="Sections that rehearse by themselves: a short name, then who, room and passages",
        json_schema_extra={"propertyNames": {"pattern": patterns.KEBAB}},
    )

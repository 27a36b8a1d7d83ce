"""events.yaml, or files in events/: games, parades, contests, trips, meetings, deadlines."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from handbook.domain.event_times import Out
from handbook.domain.values.unreadable import UnreadableError
from handbook.schema.base import Item
from handbook.schema.on_the_day import OnTheDay
from handbook.schema.rain import RainPlan
from handbook.schema.scalars import patterns
from handbook.schema.scalars.codes import UNKNOWN_WHEN_AWAY
from handbook.schema.scalars.fields import Clock, Day, Id, MovedFrom
from handbook.schema.scalars.reading import reader
from handbook.schema.scalars.texts import HumanText, Name, PlainText

MOST_EVENTS, MOST_DATES, MOST_NAMES, MOST_LINES = 300, 60, 60, 40


class EventRide(Item):
    """The way there and back."""

    meet: PlainText | None = Field(
        None,
        description="Where players get on, and are brought back to: the id of a room, or words",
    )
    leaves: Clock | None = Field(None, description="When the ride leaves")
    back: Clock | None = Field(None, description="When it is back, about")


class AwayTimes(Item):
    """When players are out of class for an event."""

    from_: Clock = Field(alias="from", description="From when, on the first day")
    to: Clock = Field(description="Until when, on the last day")


class _OrInWords:
    """Reads `none` and `all day` as they are, and all else as times."""

    def __get_pydantic_core_schema__(
        self, _source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        words = reader(_out, "none, all day, or an entry with `from` and `to`", UNKNOWN_WHEN_AWAY)

        def read(value: Any, times: Callable[[Any], Any]) -> Any:
            return words(value) if isinstance(value, str) else times(value)

        return core_schema.no_info_wrap_validator_function(read, handler.generate_schema(AwayTimes))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        words = {"type": "string", "pattern": patterns.OUT, "examples": [*Out]}
        return {"anyOf": [words, handler(schema)]}


def _out(text: str) -> Out:
    try:
        return Out(" ".join(text.lower().split()))
    except ValueError:
        raise UnreadableError(
            f"`{text}` does not say when players are away",
            ("none", "all day", "{from: 1 pm, to: 4 pm}"),
        ) from None


WhenAway = Annotated[AwayTimes | Out, _OrInWords()]


class EventFacts(Item):
    """What is said of an event, or of one of its dates where that differs."""

    call: Clock | None = Field(None, description="When its players must be there")
    starts: Clock | None = Field(None, description="When it starts")
    ends: Clock | None = Field(None, description="When it ends")
    pick_up: Clock | None = Field(None, description="When families can collect their player")
    venue: Id | None = Field(None, description="Where: the id of a venue")
    room: Id | None = Field(None, description="Where: the id of a room, at school or of a venue")
    place: PlainText | None = Field(
        None, description="Where, in words, if it is in no room or venue of the program"
    )
    attire: tuple[HumanText, ...] = Field(
        (), max_length=MOST_LINES, description="What players wear"
    )
    bring: tuple[HumanText, ...] = Field(
        (), max_length=MOST_LINES, description="What players bring"
    )
    ride: EventRide | None = Field(
        None, description="The ride there and back: meet, leaves and back"
    )
    rain: RainPlan | None = Field(
        None, description="What holds in bad weather, such as {decided: 2 pm, room: gym}"
    )
    on_the_day: OnTheDay = None
    away: WhenAway | None = Field(
        None,
        description="When its players are out of class: {from: 1 pm, to: 4 pm}, all day, or none; "
        "if left out, from the call, ride or start to the end, the ride back or the pick-up",
    )
    told: Day | None = Field(
        None, description="When it became known: rehearsals before that day stay as they were"
    )
    cancelled: PlainText | None = Field(
        None, description="Why it is not held; it stays on all pages, as cancelled"
    )
    about: HumanText | None = Field(None, description="A sentence or two for families")


class EventDate(EventFacts):
    """One of several dates of an event, with what differs on it."""

    date: Day = Field(description="The day")
    name: Name | None = Field(None, description="What it is that day, such as the other team")
    moved_from: MovedFrom = Field(
        (), description="The day it was to be on before, or several, the newest last"
    )


class _OrItsDate:
    """Tells an editor that a date may stand alone."""

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [{"type": "string", "pattern": patterns.DATE}, handler(schema)]}


def _from_date(value: object) -> object:
    return {"date": value} if isinstance(value, str) else value


DateOfEvent = Annotated[EventDate, BeforeValidator(_from_date), _OrItsDate()]


class Event(EventFacts):
    """Something beside rehearsals and concerts: a game, a parade, a contest, a meeting, a deadline."""

    id: Id = Field(description="Short name, which becomes the address of its page")
    name: Name | None = Field(None, description="Name")
    kind: Name | None = Field(
        None, description="What it is, in your own word: Game, Parade, Contest, Deadline"
    )
    like: Id | None = Field(
        None,
        description="The id of an event above this one: what is not said here is said there",
    )
    date: Day | None = Field(None, description="The day, if there is one")
    from_: Day | None = Field(None, alias="from", description="First day, if there are several")
    to: Day | None = Field(None, description="Last day")
    on: tuple[DateOfEvent, ...] = Field(
        (),
        max_length=MOST_DATES,
        description="Dates, if it comes again: days, or {date: 2026-12-11, starts: 6 pm} with what differs",
    )
    due: Day | None = Field(
        None, description="The last day of a deadline, in place of the days of an event"
    )
    moved_from: MovedFrom = Field(
        (),
        description="The day it was to be on, to begin on or to be due before, or several, the newest last; "
        "where it has several dates under on, it stands with its date there",
    )
    who: tuple[Id, ...] = Field(
        (), max_length=MOST_NAMES, description="Ensembles it is for; everyone, if left out"
    )
    players: tuple[Id, ...] = Field(
        (),
        max_length=MOST_NAMES,
        description="Only these instruments or families of the ensembles, such as [percussion]",
    )


class Events(Item):
    """The events of the program."""

    events: tuple[Event, ...] = Field(
        min_length=1, max_length=MOST_EVENTS, description="The events, in any order"
    )

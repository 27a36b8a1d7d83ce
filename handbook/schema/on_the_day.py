"""Whom families and crew call on the day itself, when the office does not answer."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.texts import Name, Word


class CallOnTheDay(Item):
    """Whom to call on the day: a role with its number, never a person."""

    role: Name = Field(
        description="Who answers, by the role, such as the lead parent at the hall; never a name"
    )
    phone: Word = Field(
        description="The number, which anyone can read on the site. If you can, give one that belongs to "
        "the school, such as a phone that the office lends for the evening; a person's own number only if that person "
        "has said yes to this. Take it out when the day is over"
    )


OnTheDay = Annotated[
    CallOnTheDay | None,
    Field(
        description="Whom to call on the day itself, such as {role: The lead parent, phone: 555-0142}; "
        "stands beside the call, on the sheets and in calendars, and is public"
    ),
]

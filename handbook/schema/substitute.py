"""What is told to whoever leads a rehearsal in the director's place: for the binder's own page alone.

Its texts are in the director's language and are never asked for in another, since no page of the
site has them.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.texts import Word

MOST_LINES = 20
Lines = Annotated[tuple[Word, ...], Field(max_length=MOST_LINES)]


class AskedRole(Item):
    """Someone whom a substitute may ask: a role, never a person."""

    role: Word = Field(description="The role, such as the teacher in room 114; never a name")
    phone: Word | None = Field(None, description="The number to call, such as extension 14")
    about: Word | None = Field(None, description="What to ask them about")


class Substitute(Item):
    """What a substitute is told beside what follows from the plan."""

    before: Lines = Field((), description="What to do before the bell, such as where the roll lies")
    during: Lines = Field((), description="How to lead the hour, and what to know about the band")
    time_left: Lines = Field(
        (), description="What the band does if the plan is done before the bell"
    )
    after: Lines = Field((), description="What to do at the end, such as which doors to lock")
    never: Lines = Field((), description="What is not to be done, touched, moved or lifted")
    ask: Annotated[tuple[AskedRole, ...], Field(max_length=MOST_LINES)] = Field(
        (), description="Whom to ask, by role, never by name; if left out, the program's contact"
    )


SubstituteField = Annotated[
    Substitute | None,
    Field(
        description="What someone who leads a rehearsal in your place is told, beside its plan by the clock; on a page of the binder alone"
    ),
]

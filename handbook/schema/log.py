"""cycles/<id>/log/*.yaml: what single rehearsals really reached; for the director alone."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.days import PassageName
from handbook.schema.scalars.fields import Clock, Day, Id, TempoMark, ThankedIds, WholeNumber
from handbook.schema.scalars.texts import PlainText

MOST_PASSAGES = 200  # of one rehearsal: far more than any has minutes for
MinutesOver = Annotated[int, WholeNumber(0, 120, "a number of minutes")]


class Reached(Item):
    """How fast a passage went at the end of a rehearsal."""

    passage: PassageName = Field(
        description="Its id, or piece/passage where two pieces have a passage of that id"
    )
    tempo: TempoMark = Field(description="The fastest tempo at which it was secure")


class Log(Item):
    """What one rehearsal really reached. Nothing of it is published but the tempos that follow."""

    date: Day = Field(description="The day of the rehearsal")
    ensemble: Id = Field(description="The ensemble")
    group: Id | None = Field(None, description="Only this group of it")
    start: Clock | None = Field(
        None,
        description="Only the rehearsal that began then; needed if there were several that day",
    )
    reached: tuple[Reached, ...] = Field(
        (),
        max_length=MOST_PASSAGES,
        description="Tempos that were reached; a passage that is not named here went as planned",
    )
    not_done: tuple[PassageName, ...] = Field(
        (),
        max_length=MOST_PASSAGES,
        description="Passages that were planned and not played, by their ids",
    )
    thanked: ThankedIds = Field(
        (),
        description="Whom the opening thanks went to, if not those who were planned: ids as under `thanks_to` of a day",
    )
    over: MinutesOver = Field(0, description="Minutes that the rehearsal ran over its end")
    note: PlainText | None = Field(None, description="A note for the director alone")

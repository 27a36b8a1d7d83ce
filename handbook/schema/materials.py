"""What must lie ready for a rehearsal, and where it lies: for the director's own sheets alone.

Its texts are in the director's language and are never asked for in another, since no page of the
site has them.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handbook.schema.base import Item
from handbook.schema.scalars.texts import WORD_SCHEMA, Word
from handbook.schema.texts_for import OrText

MOST_MATERIALS = 40


class Material(Item):
    """A thing that is needed in the room."""

    text: Word = Field(description="What is needed, such as Copies of the rhythm sheet")
    where: Word | None = Field(None, description="Where it lies, such as second drawer")
    media: Word | None = Field(
        None,
        description="A file in media/ that is played or shown in class; this entry does not put it on the site",
    )


Materials = Annotated[
    tuple[Annotated[Material, OrText("text", "where", "media", schema=WORD_SCHEMA)], ...],
    Field(
        max_length=MOST_MATERIALS,
        description="What must lie ready for it, on the director's own sheets alone: texts, or "
        "{text: Rhythm sheets, where: second drawer}",
    ),
]

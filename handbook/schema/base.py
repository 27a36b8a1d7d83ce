"""What all content models share."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Item(BaseModel):
    """One entry of a content file: nothing unknown in it, nothing changed after reading.

    The key `private` may stand in any entry; it is taken out before models see it.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)

"""What all content models share."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, model_validator


class Item(BaseModel):
    """One entry of a content file: nothing unknown in it, nothing changed after reading.

    The key `private` may stand in any entry; it is taken out before models see it. A field
    that may be left out may also be left empty.
    """

    # Only the model of a whole file is ever asked to read; it builds what it holds as it is.
    model_config = ConfigDict(
        frozen=True, extra="forbid", str_strip_whitespace=True, defer_build=True
    )

    @model_validator(mode="before")
    @classmethod
    def _leave_out_empty(cls, data: Any) -> Any:
        if not isinstance(data, dict) or None not in data.values():
            return data
        optional = {
            field.alias or name
            for name, field in cls.model_fields.items()
            if not field.is_required()
        }
        return {
            name: value for name, value in data.items() if value is not None or name not in optional
        }

"""Lists that may be written without brackets if they have one item."""

from __future__ import annotations

from typing import Any

from pydantic import BeforeValidator, GetJsonSchemaHandler
from pydantic_core import core_schema


class OrOne:
    """Tells an editor that an item may stand without brackets; `pattern` is what it looks like."""

    def __init__(self, pattern: str) -> None:
        self._pattern = pattern

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [{"type": "string", "pattern": self._pattern}, handler(schema)]}


def _as_list(value: object) -> object:
    return [value] if isinstance(value, str) else value


as_list = BeforeValidator(_as_list)
"""Marks a list as one whose only item may stand alone."""

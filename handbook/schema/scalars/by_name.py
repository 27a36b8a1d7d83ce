"""Values that are either one for all, or one for each of the names that have one."""

from __future__ import annotations

from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from handbook.schema.scalars.patterns import KEBAB


class OrByName:
    """Reads names with a value each as `each`, which is a mapping, and all else as `one`."""

    def __init__(self, one: Any, each: Any) -> None:
        self._one, self._each = one, each

    def __get_pydantic_core_schema__(
        self, _source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.tagged_union_schema(
            {
                "one": handler.generate_schema(self._one),
                "each": handler.generate_schema(self._each),
            },
            discriminator=lambda value: "each" if isinstance(value, dict) else "one",
        )

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        one, each = handler(schema)["oneOf"]
        return {"anyOf": [one, {**each, "propertyNames": {"pattern": KEBAB}}]}

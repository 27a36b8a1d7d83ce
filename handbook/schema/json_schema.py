"""The content models as JSON Schema, for the editor's completion and hover help.

Draft-07, since editors' YAML support knows no later one. An editor finds a schema by a
comment on the first line of a content file, with a path relative to that file:
`# yaml-language-server: $schema=../.schema/year.json`.
"""

from __future__ import annotations

import json
import warnings
from typing import Any

from pydantic.json_schema import PydanticJsonSchemaWarning

from handbook.schema.base import Item
from handbook.schema.handbook import MODELS

DRAFT = "http://json-schema.org/draft-07/schema#"

_PRIVATE = {"description": "Notes for the director; nothing under this is ever published"}
_NOTHING = {"type": "null"}

Schema = dict[str, Any]


def schemas() -> dict[str, Schema]:
    """Give one JSON Schema for each topic: program, year, fundamentals, cycle, music, concert, events."""
    return {topic: _schema(model) for topic, model in MODELS.items()}


def schema_texts() -> dict[str, str]:
    """Give the schemas as text that is the same on every run, ending with a line end."""
    return {
        topic: json.dumps(schema, indent=2, sort_keys=True, ensure_ascii=False) + "\n"
        for topic, schema in schemas().items()
    }


def _schema(model: type[Item]) -> Schema:
    with warnings.catch_warnings():
        # Defaults are values of the trade and have no JSON; they are left out below.
        warnings.simplefilter("ignore", PydanticJsonSchemaWarning)
        raw = model.model_json_schema(by_alias=True, ref_template="#/definitions/{model}")
    definitions = {name: _object(part) for name, part in raw.pop("$defs", {}).items()}
    return {"$schema": DRAFT, **_object(raw), "title": model.__name__, "definitions": definitions}


def _object(schema: Schema) -> Schema:
    """Finish the schema of one model; an enumeration passes through."""
    if "properties" not in schema:
        return _plain(schema)
    required = set(schema.get("required", ()))
    properties = {
        name: _property(part, optional=name not in required)
        for name, part in schema["properties"].items()
    }
    return {**_plain(schema), "properties": {**properties, "private": _PRIVATE}}


def _property(schema: Schema, *, optional: bool) -> Schema:
    """Finish a field: its description stands beside what it may be, and an optional one may be empty.

    Draft-07 (8.3) ignores whatever stands beside `$ref`, so references are wrapped.
    """
    description = schema["description"]
    bare = _with_private(
        {key: value for key, value in _plain(schema).items() if key != "description"}
    )
    choices = bare["anyOf"] if set(bare) == {"anyOf"} else [bare]
    if optional and _NOTHING not in choices:
        choices = [*choices, _NOTHING]
    return {"anyOf": choices, "description": description}


def _plain(schema: Schema) -> Schema:
    """Leave out what helps no director: defaults as code writes them and titles made of names."""
    return {key: value for key, value in schema.items() if key not in {"default", "title"}}


def _with_private(schema: Any) -> Any:
    """Let `private` stand in the maps of a field too: texts by language, words, instruments."""
    if isinstance(schema, list):
        return [_with_private(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    inside = {key: _with_private(value) for key, value in schema.items()}
    if schema.get("type") != "object":
        return inside
    if "propertyNames" in inside:
        inside["propertyNames"] = {"anyOf": [inside["propertyNames"], {"const": "private"}]}
    if inside.get("minProperties") == 1:
        # `private` alone is no text: something must stand beside it.
        inside["anyOf"] = [{"not": {"required": ["private"]}}, {"minProperties": 2}]
    return {**inside, "properties": {"private": _PRIVATE}}

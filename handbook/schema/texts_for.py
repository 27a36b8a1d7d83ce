"""What players do: one text for all, or a list of texts with those they are for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Annotated, Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from handbook.domain.values.text import Text
from handbook.schema.base import Item
from handbook.schema.scalars.fields import Id
from handbook.schema.scalars.texts import HumanText, human_text, text_schema


class TextFor(Item):
    """What some of the players do."""

    who: tuple[Id, ...] = Field((), description="Only these instruments or families, such as winds")
    text: HumanText = Field(description="What they do")


class _TextOrList:
    """Reads a list as texts for some and all else as a text for everyone."""

    def __get_pydantic_core_schema__(
        self, _source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        def read(value: Any, lines: Callable[[Any], Any]) -> Any:
            return lines(value) if isinstance(value, list) else human_text(value)

        lines = handler.generate_schema(tuple[TextFor, ...])
        return core_schema.no_info_wrap_validator_function(read, lines)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [*text_schema()["anyOf"], handler(schema)]}


class OrText:
    """Lets a text stand for an entry that has no more than its `field`.

    What has that field or one of `others` is a whole entry. The text may be plain or by language,
    unless a `schema` says what else the field takes.
    """

    def __init__(self, field: str, *others: str, schema: dict[str, Any] | None = None) -> None:
        self._field, self._fields = field, {field, *others}
        self._schema = schema

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        def read(value: object) -> object:
            whole = isinstance(value, dict) and not self._fields.isdisjoint(value)
            return value if whole else {self._field: value}

        return core_schema.no_info_before_validator_function(read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        text = self._schema or text_schema()
        return {"anyOf": [*text["anyOf"], handler(schema)]}


TextOrFor = Annotated[TextFor, OrText("text", "who")]
"""A text for all, or `{who: [percussion], text: ...}`."""
Texts = Text | tuple[TextFor, ...]
TextsFor = Annotated[Texts, _TextOrList()]


def texts_for(given: Texts | None) -> Iterator[tuple[tuple[str, ...], Text]]:
    """Give each text with those it is for, nobody by name for all."""
    if isinstance(given, Text):
        yield (), given
    else:
        yield from ((line.who, line.text) for line in given or ())

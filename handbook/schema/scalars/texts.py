"""Field types of texts that people read: sentences, names, and words as they are."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from handbook.domain.values.text import Text
from handbook.domain.values.unreadable import UnreadableError
from handbook.problems import COLON_IN_TEXT, TEXT_TOO_LONG
from handbook.schema.scalars import patterns
from handbook.schema.scalars.codes import (
    MISSING_VALUE,
    TEXT_WANTED,
    UNKNOWN_LANGUAGE,
    UNREADABLE_VALUE,
)
from handbook.schema.scalars.languages import parse_language
from handbook.schema.scalars.reading import read_by, too_long, unreadable

# Our own limits: three pages of type, and a title that still fits a printed line or two.
MOST_LETTERS, MOST_LETTERS_OF_NAME, MOST_LETTERS_OF_WORD = 5000, 200, 200
MOST_SIGNS = 400  # of Markdown, in a text: reading them takes the square of their number
_SIGN = re.compile(r"[][*_`<!~]")


def human_text(value: object, most: int = MOST_LETTERS, *, markdown: bool = True) -> Text:
    """Take a text in one language, or a mapping of language codes to texts; refuses all else.

    `most` letters are the most that any version may have.
    """
    if isinstance(value, str) and value.strip():
        return Text((("", _short(value.strip(), most)),), markdown)
    if isinstance(value, dict) and value:
        versions = (_version(code, text, value, most) for code, text in value.items())
        return Text(tuple(versions), markdown)
    if isinstance(value, list):
        raise unreadable(TEXT_WANTED, "one text is wanted here, not a list")
    raise unreadable(MISSING_VALUE, "a text is missing here")


def _version(code: str, text: object, versions: dict[str, object], most: int) -> tuple[str, str]:
    try:
        parse_language(code)
    except UnreadableError as error:
        if len(versions) == 1 and isinstance(text, str) and not re.fullmatch("[a-z]+", code):
            raise unreadable(
                COLON_IN_TEXT,
                "a colon inside a text looks like the start of another field",
                (f'"{code}: {text}"',),
                inside=(code,),
            ) from None
        raise unreadable(UNKNOWN_LANGUAGE, str(error), error.suggestions, inside=(code,)) from None
    if isinstance(text, str) and text.strip():
        return code, _short(text.strip(), most, inside=(code,))
    if isinstance(text, (list, dict)):
        raise unreadable(TEXT_WANTED, f"one text is wanted for `{code}`", inside=(code,))
    raise unreadable(MISSING_VALUE, f"the text for `{code}` is missing", inside=(code,))


def _short(text: str, most: int, *, inside: tuple[str, ...] = ()) -> str:
    if len(text) > most:
        raise too_long(text, most, inside=inside)
    if len(text) > MOST_SIGNS and (signs := len(_SIGN.findall(text))) > MOST_SIGNS:
        message = f"this text has {signs:,} signs such as `*` and `[`, and {MOST_SIGNS} are the most that are read"
        raise unreadable(TEXT_TOO_LONG, message, inside=inside)
    return text


def _name(value: object) -> Text:
    return human_text(value, MOST_LETTERS_OF_NAME, markdown=False)


def _plain(value: object) -> Text:
    return human_text(value, markdown=False)


# An editor reads these texts as numbers or as true and false; to a text it is all one.
def _filled(most: int) -> dict[str, Any]:
    written = {"type": "string", "pattern": patterns.FILLED, "maxLength": most}
    return {"anyOf": [written, {"type": ["number", "boolean"]}]}


def text_schema(most: int = MOST_LETTERS) -> dict[str, Any]:
    """Give the JSON Schema of a text, plain or by language."""
    versions = {
        "type": "object",
        "minProperties": 1,
        "propertyNames": {"pattern": patterns.LANGUAGE},
        "additionalProperties": _filled(most),
    }
    return {"anyOf": [*_filled(most)["anyOf"], versions]}


HumanText = Annotated[Text, BeforeValidator(human_text), WithJsonSchema(text_schema())]
"""A text that may hold links and emphasis."""
PlainText = Annotated[Text, BeforeValidator(_plain), WithJsonSchema(text_schema())]
"""A text that stands within a line of ours, and is shown letter by letter."""
Name = Annotated[Text, BeforeValidator(_name), WithJsonSchema(text_schema(MOST_LETTERS_OF_NAME))]
"""A name or a title, which stands in headings and lists."""
WORD_SCHEMA = _filled(MOST_LETTERS_OF_WORD)
Word = Annotated[
    str,
    read_by(str, "a text", UNREADABLE_VALUE, most=MOST_LETTERS_OF_WORD),
    WithJsonSchema(WORD_SCHEMA),
]

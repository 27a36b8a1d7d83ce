"""How a field reads what was written, and how it refuses it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from handbook.domain.values.unreadable import UnreadableError
from handbook.problems import TEXT_TOO_LONG
from handbook.schema.scalars.codes import MISSING_VALUE, TEXT_WANTED

T = TypeVar("T")
CodeOf = Callable[[str], str]
MOST_LETTERS = 100  # of a date, a tempo, a name of a note: none that can be read is as long


def unreadable(
    code: str,
    message: str,
    suggestions: tuple[str, ...] = (),
    *,
    inside: tuple[str | int, ...] = (),
    sure: bool = False,
) -> PydanticCustomError:
    """Make the error by which a field refuses a value; the loader turns it into a problem.

    `suggestions` are spellings that would be read, best first, and `sure` if the first may
    be written unasked; `inside` leads from the field to the part of its value that is at
    fault.
    """
    context = {
        "code": code,
        "sentence": message,
        "suggestions": suggestions,
        "inside": inside,
        "sure": sure,
    }
    return PydanticCustomError("unreadable", "{sentence}", context)


def too_long(text: str, most: int, *, inside: tuple[str | int, ...] = ()) -> PydanticCustomError:
    """Make the error by which a field refuses a text of more than `most` letters."""
    sentence = f"this text has {len(text):,} letters, and {most:,} are the most that fit here"
    return unreadable(TEXT_TOO_LONG, sentence, inside=inside)


def read_by(
    parse: Callable[[str], T], what: str, code: str | CodeOf, *, most: int = MOST_LETTERS
) -> BeforeValidator:
    """Mark a type as read by `parse`; see `reader`."""
    return BeforeValidator(reader(parse, what, code, most=most))


def reader(
    parse: Callable[[str], T], what: str, code: str | CodeOf, *, most: int = MOST_LETTERS
) -> Callable[[object], T]:
    """Make a function that reads one text of at most `most` letters by `parse` and refuses all else.

    `what` names what is wanted, with its article; `code` is the problem's code for a text
    that `parse` refuses, or finds it from the text.
    """

    def read(value: object) -> T:
        if isinstance(value, str):
            text = value.strip()
            if not text:
                raise unreadable(
                    MISSING_VALUE, f"{what} is wanted here, but the quotes hold nothing"
                )
            if len(text) > most:
                raise too_long(text, most)
            try:
                return parse(text)
            except UnreadableError as error:
                found = code if isinstance(code, str) else code(text)
                raise unreadable(found, error.message, error.suggestions, sure=error.sure) from None
        raise _no_text(value, what)

    return read


def _no_text(value: object, what: str) -> PydanticCustomError:
    if value is None:
        return unreadable(MISSING_VALUE, f"{what} is missing here")
    kind = "a list" if isinstance(value, list) else "an entry with fields of its own"
    return unreadable(TEXT_WANTED, f"{what} is wanted here, not {kind}")

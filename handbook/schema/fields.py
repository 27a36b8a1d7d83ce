"""Field types of the content models: text in, values of the trade out.

Each type carries the JSON Schema an editor needs: an editor sees YAML 1.2 scalars
(numbers are numbers there), the models see text, and both must take the same files.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, time
from fractions import Fraction
from typing import Annotated, Any, TypeVar

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from handbook.domain.ladders import Band
from handbook.domain.values.clock import parse_clock
from handbook.domain.values.dates import parse_date, parse_weekday
from handbook.domain.values.keys import ConcertKey, parse_concert_key
from handbook.domain.values.measures import MeasureSpan, parse_measures
from handbook.domain.values.meter import Meter, parse_meter
from handbook.domain.values.tempo import Tempo, parse_tempo
from handbook.domain.values.text import Text
from handbook.domain.values.unreadable import UnreadableError

T = TypeVar("T")

_KEBAB = r"^[a-z0-9]+(-[a-z0-9]+)*$"
_LANGUAGE = r"^[a-z]{2,3}(-[A-Za-z0-9]+)*$"
_WHOLE = r"^[0-9]+$"
_BAND = re.compile(r"(\d+(?:\.\d+)?)\s*(?:-|–|to)\s*(\d+(?:\.\d+)?)\s*%?")
_EVERY = re.compile(r"every\s+(\d+)")
_YES = ("yes", "true", "on")
_NO = ("no", "false", "off")
_MOST_PERCENT = 100
_MOST_STEP = 20


def unreadable(message: str, suggestions: tuple[str, ...] = ()) -> PydanticCustomError:
    """Make the error by which a field refuses a value; the loader turns it into a problem."""
    return PydanticCustomError("unreadable", "{sentence}", {"sentence": message, "suggestions": suggestions})


def _read(parse: Callable[[str], T], what: str) -> BeforeValidator:
    """Make a validator that reads one scalar by `parse`."""

    def validate(value: object) -> object:
        if value is None:
            raise unreadable(f"{what} is missing after the colon")
        if not isinstance(value, str):
            if isinstance(value, (dict, list)):
                raise unreadable(f"{what} is wanted here, not a list or an entry of its own")
            return value
        try:
            return parse(value)
        except UnreadableError as error:
            raise unreadable(error.message, error.suggestions) from None

    return BeforeValidator(validate)


def _identifier(text: str) -> str:
    if not re.fullmatch(_KEBAB, text):
        kebab = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
        raise UnreadableError(
            f"`{text}` is no id: ids are small letters, digits and single hyphens",
            (kebab,) if kebab else (),
        )
    return text


def _language(text: str) -> str:
    if not re.fullmatch(_LANGUAGE, text):
        raise UnreadableError(f"`{text}` is no language code", ("en", "es"))
    return text


def _whole(low: int, high: int) -> Callable[[str], int]:
    def parse(text: str) -> int:
        if not re.fullmatch(_WHOLE, text) or not low <= int(text) <= high:
            raise UnreadableError(f"`{text}` is no whole number from {low} to {high}")
        return int(text)

    return parse


def whole_number(low: int, high: int, what: str = "a whole number") -> Any:
    """Make the type of a whole number from `low` to `high`, both included."""
    return Annotated[
        int,
        _read(_whole(low, high), what),
        WithJsonSchema(
            {"anyOf": [
                {"type": "integer", "minimum": low, "maximum": high},
                {"type": "string", "pattern": _WHOLE},
            ]}
        ),
    ]  # fmt: skip


def _decimal(text: str) -> Fraction:
    try:
        if not re.fullmatch(r"\d+(\.\d+)?", text):
            raise ValueError  # noqa: TRY301 - one answer for every text that is no number
        return Fraction(text)
    except ValueError:
        raise UnreadableError(f"`{text}` is no number") from None


def _yes_no(text: str) -> bool:
    if text.lower() in _YES:
        return True
    if text.lower() in _NO:
        return False
    raise UnreadableError(f"`{text}` is neither yes nor no", ("yes", "no"))


def _tempo(text: str) -> Tempo:
    if re.fullmatch(r"\d+(\.\d+)?", text.strip()):
        raise UnreadableError(
            f"`{text}` does not say which note it counts",
            (f"quarter = {text.strip()}", f"dotted quarter = {text.strip()}"),
        )
    return parse_tempo(text)


def _band(text: str) -> Band:
    found = _BAND.fullmatch(text.strip())
    if not found:
        raise UnreadableError(f"`{text}` is no band of percents", ("50-65",))
    low, high = Fraction(found[1]), Fraction(found[2])
    if not 0 < low <= high <= _MOST_PERCENT:
        raise UnreadableError(f"`{text}` does not run upward between 1 and 100 percent", ("50-65",))
    return Band(low, high)


@dataclass(frozen=True, slots=True)
class Rounding:
    """How rungs are rounded down: to `traditional` marks, every `step` beats, or `exact`."""

    kind: str
    step: int = 0


def _rounding(text: str) -> Rounding:
    words = " ".join(text.lower().split())
    if words in {"traditional", "exact"}:
        return Rounding(words)
    found = _EVERY.fullmatch(words)
    if found and 1 <= int(found[1]) <= _MOST_STEP:
        return Rounding("every", int(found[1]))
    raise UnreadableError(f"`{text}` names no set of marks", ("traditional", "every 4", "exact"))


def _text(value: object) -> object:
    """Take a plain text, or a mapping of language codes to texts."""
    if isinstance(value, str) and value.strip():
        return Text.plain(value.strip())
    if isinstance(value, dict):
        if not value:
            raise unreadable("this text is empty")
        for code, text in value.items():
            if not re.fullmatch(_LANGUAGE, str(code)):
                raise unreadable(f"`{code}` is no language code", ("en", "es"))
            if not isinstance(text, str) or not text.strip():
                raise unreadable(f"the text for `{code}` is empty")
        return Text(tuple((str(code), text.strip()) for code, text in value.items()))
    if isinstance(value, Text):
        return value
    if isinstance(value, list):
        raise unreadable("one text is wanted here, not a list")
    raise unreadable("this text is empty")


_SCALAR_TYPES = ["string", "number", "boolean"]
_TEXT_SCHEMA: dict[str, Any] = {
    "anyOf": [
        {"type": _SCALAR_TYPES, "minLength": 1},
        {
            "type": "object",
            "minProperties": 1,
            "propertyNames": {"pattern": _LANGUAGE},
            "additionalProperties": {"type": _SCALAR_TYPES, "minLength": 1},
        },
    ]
}


def _scalar_schema(pattern: str, example: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": pattern, "examples": [example]})


HumanText = Annotated[Text, BeforeValidator(_text), WithJsonSchema(_TEXT_SCHEMA)]
Id = Annotated[
    str,
    _read(_identifier, "an id"),
    WithJsonSchema({"anyOf": [{"type": "string", "pattern": _KEBAB}, {"type": "integer", "minimum": 0}]}),
]
Language = Annotated[str, _read(_language, "a language code"), _scalar_schema(_LANGUAGE, "en")]
Word = Annotated[
    str,
    _read(lambda text: text, "a word"),
    WithJsonSchema({"type": _SCALAR_TYPES, "minLength": 1}),
]
Day = Annotated[date, _read(parse_date, "a date"), _scalar_schema(r"\d{4}-\d{2}-\d{2}$", "Thu 2026-12-10")]
Weekday = Annotated[int, _read(parse_weekday, "a weekday"), _scalar_schema("^[A-Za-z]+$", "Mon")]
Clock = Annotated[
    time,
    _read(parse_clock, "a clock time"),
    _scalar_schema(r"^(\d{2}:\d{2}|\d{1,2}(:\d{2})? ?[AaPp]\.?[Mm]\.?|[Nn]oon)$", "6:30 pm"),
]
TempoMark = Annotated[Tempo, _read(_tempo, "a tempo"), _scalar_schema(r"=\s*\d+(\.\d+)?", "quarter = 96")]
TempoBand = Annotated[Band, _read(_band, "a band of percents"), _scalar_schema(r"^\d+(\.\d+)? ?(-|–|to) ?\d+(\.\d+)? ?%?$", "50-65")]
MeterMark = Annotated[Meter, _read(parse_meter, "a meter"), _scalar_schema(r"^(C|c|cut|[0-9+]+/[0-9]+.*)$", "4/4")]
Measures = Annotated[
    MeasureSpan,
    _read(parse_measures, "a span of measures"),
    WithJsonSchema({"anyOf": [
        {"type": "string", "pattern": r"^\d+( ?(-|–|to) ?\d+)?$", "examples": ["1-16"]},
        {"type": "integer", "minimum": 1},
    ]}),
]  # fmt: skip
KeyName = Annotated[ConcertKey, _read(parse_concert_key, "a key"), _scalar_schema("^[A-Ga-g]", "Bb major")]
Marks = Annotated[Rounding, _read(_rounding, "a way of rounding"), _scalar_schema("^(traditional|exact|every +[0-9]+)$", "traditional")]
Number = Annotated[
    Fraction,
    _read(_decimal, "a number"),
    WithJsonSchema({"anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "pattern": r"^\d+(\.\d+)?$"}]}),
]
YesNo = Annotated[
    bool,
    _read(_yes_no, "yes or no"),
    WithJsonSchema({"anyOf": [{"type": "boolean"}, {"type": "string", "enum": [*_YES, *_NO]}]}),
]

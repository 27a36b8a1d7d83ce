"""Field types of the content models: text in, values of the trade out.

Each type carries the JSON Schema an editor needs: an editor sees YAML 1.2 values
(numbers are numbers there), the models see text, and both must take the same files.
"""

from __future__ import annotations

import re
from datetime import date, time
from fractions import Fraction
from typing import Annotated, Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, InstanceOf, WithJsonSchema
from pydantic_core import core_schema

from handbook.domain.ladders import Band
from handbook.domain.rhythm import Rhythm
from handbook.domain.rhythm_notation import new_form, parse_rhythm
from handbook.domain.road_map import OrderStep, parse_order_step
from handbook.domain.rudiments import Stroke, parse_sticking, rudiment
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS
from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment
from handbook.domain.values.clock import parse_bell, parse_clock
from handbook.domain.values.dates import parse_date, parse_weekday
from handbook.domain.values.keys import ConcertKey, parse_concert_key
from handbook.domain.values.measures import MeasureSpan, parse_measures
from handbook.domain.values.meter import Meter, parse_meter
from handbook.domain.values.moments import StatedMoment, parse_moment, parts_of_moment
from handbook.domain.values.pitch import (
    ConcertPitch,
    NoteName,
    WrittenPitch,
    parse_concert_note,
    parse_note_name,
    parse_written_pitch,
)
from handbook.domain.values.tempo import Tempo, parse_part_tempo, parse_tempo
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass
from handbook.schema.scalars import patterns
from handbook.schema.scalars.codes import (
    RHYTHM_IN_OLD_FORM,
    TEMPO_WITHOUT_NOTE,
    TIME_WITHOUT_AM_OR_PM,
    UNKNOWN_COUNTING,
    UNKNOWN_LANGUAGE,
    UNKNOWN_RUDIMENT,
    UNREADABLE_BAND,
    UNREADABLE_COLOR,
    UNREADABLE_DATE,
    UNREADABLE_ID,
    UNREADABLE_KEY,
    UNREADABLE_MARKS,
    UNREADABLE_MEASURES,
    UNREADABLE_METER,
    UNREADABLE_NOTE,
    UNREADABLE_NUMBER,
    UNREADABLE_ORDER,
    UNREADABLE_RHYTHM,
    UNREADABLE_STICKING,
    UNREADABLE_TEMPO,
    UNREADABLE_TIME,
    UNREADABLE_WEEKDAY,
    UNREADABLE_YES_NO,
    WRONG_WEEKDAY,
)
from handbook.schema.scalars.languages import parse_language
from handbook.schema.scalars.lists import OrOne, as_list
from handbook.schema.scalars.reading import read_by, reader
from handbook.schema.site_names import MOST_LETTERS, NO_FOLDERS

_BAND = re.compile(r"(\d+(?:\.\d+)?)\s*(?:-|–|to)\s*(\d+(?:\.\d+)?)\s*%?", re.IGNORECASE)
_EVERY = re.compile(r"every\s+(\d+)")
_COLOR, _SHORT_COLOR = re.compile("[0-9a-f]{6}"), re.compile("[0-9a-f]{3}")
# CSS Color Module Level 4, section 6.1, those that schools have.
_COLOR_NAMES = {
    "black": "#000000",
    "blue": "#0000ff",
    "crimson": "#dc143c",
    "darkgreen": "#006400",
    "forestgreen": "#228b22",
    "gold": "#ffd700",
    "gray": "#808080",
    "green": "#008000",
    "maroon": "#800000",
    "midnightblue": "#191970",
    "navy": "#000080",
    "navyblue": "#000080",
    "orange": "#ffa500",
    "purple": "#800080",
    "red": "#ff0000",
    "royalblue": "#4169e1",
    "skyblue": "#87ceeb",
    "teal": "#008080",
    "white": "#ffffff",
    "yellow": "#ffff00",
}
_KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_MINUTES = re.compile(r"([0-9]{1,4}) ?(?:min|mins|minutes?|')\.?", re.IGNORECASE)
_BARE_TEMPO = re.compile(r"(\d+(?:\.\d+)?)(?:\s*bpm)?", re.IGNORECASE)
YES = ("yes", "true", "on")
_NO = ("no", "false", "off")
_MOST_PERCENT = 100
MOST_SIGNS = 1000  # of a rhythm or a sticking: several lines of music
_MOST_STEP = 20
MOST_NUMBER = 600  # seconds of a held note, lifts a minute: far more than anyone can mean


def _identifier(text: str) -> str:
    if text in {"true", "false"}:
        raise UnreadableError(f"`{text}` means yes or no, and so cannot be an id")
    if not _KEBAB.fullmatch(text):
        kebab = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
        raise UnreadableError(
            f"`{text}` is no id: ids are small letters, digits and single hyphens",
            (kebab,) if kebab else (),
            sure=text.isascii(),
        )
    if len(text) > MOST_LETTERS:
        raise UnreadableError(
            f"this id has {len(text)} letters, and {MOST_LETTERS} are the most that fit an address"
        )
    if text in NO_FOLDERS:
        raise UnreadableError(
            f"`{text}` cannot be an id, since some computers keep it for themselves", (f"{text}-1",)
        )
    return text


@dataclass(frozen=True, slots=True)
class WholeNumber:
    """Marks an int as a whole number from `low` to `high`, both included."""

    low: int
    high: int
    what: str = "a whole number"

    def parse(self, text: str) -> int:
        """Read decimal digits; raises UnreadableError for other text and for numbers out of range."""
        if not re.fullmatch("[0-9]{1,9}", text) or not self.low <= int(text) <= self.high:
            raise UnreadableError(
                f"`{text}` is no whole number from {self.low} to {self.high}",
                self._without_unit(text),
                sure=True,
            )
        return int(text)

    def _without_unit(self, text: str) -> tuple[str, ...]:
        """Give the number of `10 min`, where minutes are wanted."""
        found = _MINUTES.fullmatch(text) if "minutes" in self.what else None
        return (found[1],) if found and self.low <= int(found[1]) <= self.high else ()

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        read = reader(self.parse, self.what, UNREADABLE_NUMBER)
        return core_schema.no_info_before_validator_function(read, handler(source))

    def __get_pydantic_json_schema__(
        self, _schema: core_schema.CoreSchema, _handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {
            "anyOf": [
                {"type": "integer", "minimum": self.low, "maximum": self.high},
                {"type": "string", "pattern": patterns.WHOLE_NUMBER},
            ]
        }


def _decimal(text: str) -> Fraction:
    if not re.fullmatch(r"[0-9]+(\.[0-9]+)?", text) or Fraction(text) > MOST_NUMBER:
        raise UnreadableError(f"`{text}` is no number from 0 to {MOST_NUMBER}")
    return Fraction(text)


def _color(text: str) -> str:
    digits = text.lower().removeprefix("#")
    if _SHORT_COLOR.fullmatch(digits):
        digits = "".join(digit * 2 for digit in digits)
    if not _COLOR.fullmatch(digits):
        known = _COLOR_NAMES.get(text.lower().replace(" ", ""), "#1f4e8c")
        raise UnreadableError(f'`{text}` is no color: write # and six digits, such as `"{known}"`')
    return f"#{digits}"


def _yes_no(text: str) -> bool:
    if text.lower() in YES:
        return True
    if text.lower() in _NO:
        return False
    raise UnreadableError(f"`{text}` is neither yes nor no", ("yes", "no"))


def _clock_code(text: str) -> str:
    return TIME_WITHOUT_AM_OR_PM if re.fullmatch(r"\d:[0-5]\d", text) else UNREADABLE_TIME


def _moment_code(text: str) -> str:
    day, clock = parts_of_moment(text)
    try:
        parse_clock(clock)
    except UnreadableError:
        return _clock_code(clock)
    return _date_code(day)


def _date_code(text: str) -> str:
    stated = re.match(r"[^\W\d]+\.?,?\s+(\d{4}-\d{2}-\d{2})$", text)
    try:
        return WRONG_WEEKDAY if stated and parse_date(stated[1]) else UNREADABLE_DATE
    except UnreadableError:
        return UNREADABLE_DATE


def _tempo(text: str) -> Tempo:
    bare = _BARE_TEMPO.fullmatch(text)
    if bare:
        raise UnreadableError(
            f"`{text}` does not say which note it counts",
            (f"quarter = {bare[1]}", f"dotted quarter = {bare[1]}"),
        )
    return parse_tempo(text)


def _part_tempo(text: str) -> Tempo:
    return parse_part_tempo(text, _tempo)


def _tempo_code(text: str) -> str:
    return TEMPO_WITHOUT_NOTE if _BARE_TEMPO.fullmatch(text) else UNREADABLE_TEMPO


def _band(text: str) -> Band:
    found = _BAND.fullmatch(text)
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


def _rhythm_code(text: str) -> str:
    return RHYTHM_IN_OLD_FORM if new_form(text) else UNREADABLE_RHYTHM


def _counting(text: str) -> str:
    if text not in COUNTING_SYSTEMS:
        raise UnreadableError(
            f"`{text}` names no way of counting that is known here", tuple(COUNTING_SYSTEMS)
        )
    return text


def _date_or_id(text: str) -> date | str:
    """Read a date if it looks like one, else an id."""
    looks_like_date = re.search(r"\d{4}[-/. ]\d|\d[-/. ]\d{4}|^\w+\.?,? \d{4}-", text)
    return parse_date(text) if looks_like_date else _identifier(text)


def _date_or_id_code(text: str) -> str:
    return _date_code(text) if re.search(r"\d{4}", text) else UNREADABLE_ID


def _written(pattern: str, *examples: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": pattern, "examples": list(examples)})


def _id_schema(pattern: str) -> WithJsonSchema:
    return WithJsonSchema(
        {"anyOf": [{"type": "string", "pattern": pattern}, {"type": "integer", "minimum": 0}]}
    )


Id = Annotated[str, read_by(_identifier, "an id", UNREADABLE_ID), _id_schema(patterns.KEBAB)]
Language = Annotated[
    str,
    read_by(parse_language, "a language code", UNKNOWN_LANGUAGE),
    _written(patterns.LANGUAGE, "en"),
]
Day = Annotated[
    date, read_by(parse_date, "a date", _date_code), _written(patterns.DATE, "Thu 2026-12-10")
]
MovedFrom = Annotated[
    tuple[Day, ...], as_list, OrOne(patterns.DATE), Field(min_length=1, max_length=20)
]
DayOrId = Annotated[
    date | str,
    read_by(_date_or_id, "a date or an id", _date_or_id_code),
    _id_schema(f"{patterns.DATE}|{patterns.KEBAB}"),
]
LedBy = Annotated[tuple[Id, ...], Field(max_length=12)]  # roles of the staff
ThankedIds = Annotated[
    tuple[Id, ...], as_list, OrOne(patterns.KEBAB), Field(max_length=12)
]  # sections and roles
Weekday = Annotated[
    int,
    read_by(parse_weekday, "a weekday", UNREADABLE_WEEKDAY),
    _written(patterns.WEEKDAY, "Mon"),
]
Clock = Annotated[
    time,
    read_by(parse_clock, "a clock time", _clock_code),
    _written(patterns.CLOCK, "6:30 pm", "18:30"),
]
Bell = Annotated[
    time,
    read_by(parse_bell, "a clock time", _clock_code),
    _written(patterns.CLOCK, "8:05 am", "08:05"),
]
Moment = Annotated[
    InstanceOf[StatedMoment],
    read_by(parse_moment, "a clock time, with or without its date", _moment_code),
    _written(patterns.MOMENT, "2 pm", "Fri 2027-05-14, 2 pm"),
]
TempoMark = Annotated[
    Tempo,
    read_by(_tempo, "a tempo", _tempo_code),
    _written(patterns.TEMPO, "quarter = 96", "dotted quarter = 80"),
]
Color = Annotated[
    str,
    read_by(_color, "a color", UNREADABLE_COLOR),
    WithJsonSchema({"anyOf": [
        {"type": "string", "pattern": patterns.COLOR, "examples": ["#1f4e8c"]},
        {"type": "integer", "minimum": 0, "maximum": 999999},
    ]}),
]  # fmt: skip
TempoBand = Annotated[
    Band,
    read_by(_band, "a band of percents", UNREADABLE_BAND),
    _written(patterns.BAND, "50-65"),
]
PartTempo = Annotated[
    Tempo,
    read_by(_part_tempo, "a tempo", _tempo_code),
    _written(
        patterns.PART_TEMPO, "quarter = 96", "quarter = 72-80", "free", "free, about quarter = 60"
    ),
]
OrderEntry = Annotated[
    OrderStep,
    read_by(parse_order_step, "a part or a jump", UNREADABLE_ORDER),
    _written(patterns.ORDER, "verse x2", "D.S. al Coda"),
]
MeterMark = Annotated[
    Meter,
    read_by(parse_meter, "a meter", UNREADABLE_METER),
    _written(patterns.METER, "4/4", "7/8 (2+2+3)"),
]
Measures = Annotated[
    MeasureSpan,
    read_by(parse_measures, "a span of measures", UNREADABLE_MEASURES),
    WithJsonSchema({"anyOf": [
        {"type": "string", "pattern": patterns.MEASURES, "examples": ["1-16"]},
        {"type": "integer", "minimum": 1, "maximum": 9999},
    ]}),
]  # fmt: skip
KeyName = Annotated[
    ConcertKey,
    read_by(parse_concert_key, "a key", UNREADABLE_KEY),
    _written(patterns.KEY, "Bb major"),
]
Marks = Annotated[
    Rounding,
    read_by(_rounding, "a way of rounding", UNREADABLE_MARKS),
    _written(patterns.MARKS, "traditional", "every 4", "exact"),
]
Number = Annotated[
    Fraction,
    read_by(_decimal, "a number", UNREADABLE_NUMBER),
    WithJsonSchema({"anyOf": [
        {"type": "number", "minimum": 0, "maximum": MOST_NUMBER},
        {"type": "string", "pattern": patterns.NUMBER},
    ]}),
]  # fmt: skip
YesNo = Annotated[
    bool,
    read_by(_yes_no, "yes or no", UNREADABLE_YES_NO),
    WithJsonSchema(
        {"anyOf": [{"type": "boolean"}, {"type": "string", "pattern": patterns.YES_NO}]}
    ),
]
ConcertNote = Annotated[
    ConcertPitch | NoteName,
    read_by(parse_concert_note, "a note", UNREADABLE_NOTE),
    _written(patterns.NOTE, "Eb", "Eb4"),
]
ConcertNoteName = Annotated[
    NoteName,
    read_by(parse_note_name, "the name of a note", UNREADABLE_NOTE),
    _written(patterns.NOTE_NAME, "Bb"),
]
WrittenNote = Annotated[
    WrittenPitch,
    read_by(parse_written_pitch, "a note with its octave", UNREADABLE_NOTE),
    _written(patterns.PLACED_NOTE, "Bb4"),
]
RhythmText = Annotated[
    Rhythm,
    read_by(parse_rhythm, "a rhythm", _rhythm_code, most=MOST_SIGNS),
    _written(patterns.RHYTHM, "q q e e q", "q. e h | 3(e e e) q -h"),
]
RHYTHM_SIGNS = (
    "The notes by the initials of their values: w h q e s t. After a note . dots it, * is "
    "staccato, = tenuto, > an accent, _ a tie and + a slur to the next; - before it makes a rest; "
    "| is a bar line, 3(e e e) a triplet"
)
StickingText = Annotated[
    tuple[Stroke, ...],
    read_by(parse_sticking, "a sticking", UNREADABLE_STICKING, most=MOST_SIGNS),
    _written(patterns.STICKING, "RLRR LRLL", "lR rL"),
]
RudimentName = Annotated[
    Rudiment,
    read_by(rudiment, "a rudiment", UNKNOWN_RUDIMENT),
    WithJsonSchema({"anyOf": [
        {"enum": [row.typed for row in RUDIMENTS]},
        {"type": "string", "pattern": patterns.FILLED},
    ]}),
]  # fmt: skip
CountingName = Annotated[
    str,
    read_by(_counting, "a way of counting", UNKNOWN_COUNTING),
    WithJsonSchema({"enum": list(COUNTING_SYSTEMS)}),
]

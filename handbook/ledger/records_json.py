"""Records as JSON and back: whatever is not just what a record may hold is refused.

Reads the fields of a record from its class, so that no field can be forgotten. A field that
has its default is left out. Moments are in UTC and whole seconds, `2026-11-20T18:03:00Z`.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, fields
from datetime import UTC, date, datetime
from enum import Enum
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from handbook.domain.values.dates import FIRST_YEAR, LAST_YEAR

RecordT = TypeVar("RecordT")
DayT = TypeVar("DayT", bound=date)
Reading = Callable[[Any, str], Any]

_MOMENT = "%Y-%m-%dT%H:%M:%SZ"
_MOST = 2**31 - 1  # the largest INTEGER of RFC 5545 3.3.8, which a sequence is


class OddRecordError(ValueError):
    """Something that no record holds; the text says where, such as `facts[3].topic`."""


_FIRST_YEAR, _LAST_YEAR = FIRST_YEAR - 1, LAST_YEAR + 1  # a day more in another zone


def to_json(value: Any) -> Any:
    """Turn a record, or what a record holds, into what the module `json` writes.

    Raises ValueError for a moment without a zone: a fault of ours.
    """
    if isinstance(value, Enum):
        return value.name.lower()
    if isinstance(value, date):
        return _told(value)
    if isinstance(value, Mapping):
        return {key: to_json(value[key]) for key in sorted(value)}
    if isinstance(value, tuple):
        return [to_json(one) for one in value]
    if hasattr(value, "__dataclass_fields__"):
        return {
            one.name: to_json(held)
            for one in fields(value)
            if not _is_default(one, held := getattr(value, one.name))
        }
    return value


def from_json(kind: type[RecordT], found: Any, where: str) -> RecordT:
    """Make the record of a class; raises OddRecordError."""
    made: RecordT = _reading(kind)(found, where)
    return made


def tuple_from_json(kind: type[RecordT], found: Any, where: str) -> tuple[RecordT, ...]:
    """Make records of a class from a list; raises OddRecordError."""
    made: tuple[RecordT, ...] = _list_of(_reading(kind))(found, where)
    return made


def mapping_from_json(kind: type[RecordT], found: Any, where: str) -> dict[str, RecordT]:
    """Make records of a class by their keys; raises OddRecordError."""
    made: dict[str, RecordT] = _by_key(_reading(kind))(found, where)
    return made


def text_from_json(found: Any, where: str) -> str:
    """Give a text that can be written in UTF-8; raises OddRecordError."""
    if not isinstance(found, str):
        raise OddRecordError(where)
    try:
        found.encode()
    except UnicodeEncodeError:  # half of a pair, which no page could show
        raise OddRecordError(where) from None
    return found


def _told(value: date) -> str:
    if not isinstance(value, datetime):
        return value.isoformat()
    if value.tzinfo is None:
        raise ValueError(f"{value} has no zone")
    return value.astimezone(UTC).strftime(_MOMENT)


def _is_default(one: Field[Any], value: Any) -> bool:
    if one.default_factory is not MISSING:
        return bool(value == one.default_factory())
    return bool(value == one.default)


def _reading(kind: Any) -> Reading:
    if kind in _PLAIN:
        return _PLAIN[kind]
    if kind not in _MADE:
        _MADE[kind] = _made(kind)
    return _MADE[kind]


def _made(kind: Any) -> Reading:
    if get_origin(kind) is tuple:
        return _list_of(_reading(get_args(kind)[0]))
    if get_origin(kind) in {Union, types.UnionType}:
        return _one_of(tuple(map(_reading, get_args(kind))))
    if get_origin(kind) is not None and issubclass(get_origin(kind), Mapping):
        return _by_key(_reading(get_args(kind)[1]))
    if issubclass(kind, Enum):
        return _member_of(kind)
    return _record_of(kind)


def _record_of(kind: Any) -> Reading:
    hints = get_type_hints(kind)
    readings = {one.name: _reading(hints[one.name]) for one in fields(kind)}
    needed = {
        one.name
        for one in fields(kind)
        if one.default is MISSING and one.default_factory is MISSING
    }

    def read(found: Any, where: str) -> Any:
        if not isinstance(found, dict) or not needed <= found.keys() <= readings.keys():
            raise OddRecordError(where)
        given = {name: readings[name](value, f"{where}.{name}") for name, value in found.items()}
        return kind(**given)

    return read


def _list_of(reading: Reading) -> Reading:
    def read(found: Any, where: str) -> Any:
        if not isinstance(found, list):
            raise OddRecordError(where)
        return tuple(reading(one, f"{where}[{place}]") for place, one in enumerate(found))

    return read


def _by_key(reading: Reading) -> Reading:
    def read(found: Any, where: str) -> Any:
        if not isinstance(found, dict):
            raise OddRecordError(where)
        return {
            text_from_json(key, where): reading(one, f"{where}[{key}]")
            for key, one in found.items()
        }

    return read


def _one_of(readings: tuple[Reading, ...]) -> Reading:
    def read(found: Any, where: str) -> Any:
        for reading in readings:
            try:
                return reading(found, where)
            except OddRecordError as error:
                refused = error
        raise refused

    return read


def _member_of(kind: type[Enum]) -> Reading:
    by_name = {member.name.lower(): member for member in kind}

    def read(found: Any, where: str) -> Any:
        if not isinstance(found, str) or found not in by_name:
            raise OddRecordError(where)
        return by_name[found]

    return read


def _nothing(found: Any, where: str) -> None:
    if found is not None:
        raise OddRecordError(where)


def _truth(found: Any, where: str) -> bool:
    if not isinstance(found, bool):
        raise OddRecordError(where)
    return found


def _number(found: Any, where: str) -> int:
    if not isinstance(found, int) or isinstance(found, bool) or not 0 <= found <= _MOST:
        raise OddRecordError(where)
    return found


def _day(found: Any, where: str) -> date:
    try:
        day = date.fromisoformat(text_from_json(found, where))
    except ValueError:
        raise OddRecordError(where) from None
    return _within(day, where)


def _moment(found: Any, where: str) -> datetime:
    try:
        moment = datetime.strptime(text_from_json(found, where), _MOMENT).replace(tzinfo=UTC)
    except ValueError:
        raise OddRecordError(where) from None
    return _within(moment, where)


def _within(day: DayT, where: str) -> DayT:
    """Refuse a year so near the ends of the calendar that its days cannot be reckoned with."""
    if not _FIRST_YEAR <= day.year <= _LAST_YEAR:
        raise OddRecordError(where)
    return day


_MADE: dict[Any, Reading] = {}
_PLAIN: Mapping[Any, Reading] = {
    str: text_from_json,
    bool: _truth,
    int: _number,
    date: _day,
    datetime: _moment,
    type(None): _nothing,
}

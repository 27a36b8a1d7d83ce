"""Rules of repeated entries that could be followed for thousands of years without a day (RFC 5545, 3.3.10)."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Mapping, Sequence
from typing import Any

_LEAP_YEAR = 2024
_NTH = re.compile(r"[+-]?(\d*)[A-Z]{2}")
_MOST_NTH = 5  # such as the fifth Monday of a month, which there is in some months alone
_MOST_PLACE = 4
_RARE = {"BYYEARDAY", "BYWEEKNO", "BYEASTER"}
# What may stand in a rule that leaves out periods, so that none of the rest can miss them all.
_WITH_INTERVAL: Mapping[str, frozenset[str]] = {
    "DAILY": frozenset(),
    "WEEKLY": frozenset({"BYDAY"}),
    "MONTHLY": frozenset({"BYDAY", "BYSETPOS"}),
    "YEARLY": frozenset({"BYDAY", "BYMONTH", "BYSETPOS"}),
}


def may_never_come(rule: Mapping[str, Sequence[Any]]) -> bool:
    """Whether the parts of a rule could exclude each other, as on the thirtieth of February.

    Some rules that do come are among these: all with days of the year, numbers of weeks, a
    place beyond the fourth, or every second period with conditions that could miss it. No
    calendar of a school has use for them.
    """
    parts = {name for name in rule if name.startswith("BY")}
    frequency = str(rule.get("FREQ", [""])[0]).upper()
    interval = int(rule.get("INTERVAL", [1])[0])
    if (
        parts & _RARE
        or interval < 1
        or (interval != 1 and not parts <= _WITH_INTERVAL.get(frequency, frozenset()))
    ):
        return True
    if "BYSETPOS" in parts and (
        parts - {"BYSETPOS", "BYDAY", "BYMONTH"}
        or "BYDAY" not in parts
        or any(not 1 <= abs(int(place)) <= _MOST_PLACE for place in rule["BYSETPOS"])
        or frequency not in {"MONTHLY", "YEARLY"}
    ):
        return True
    return _mixed(rule, frequency) or _no_such_day(rule)


def _mixed(rule: Mapping[str, Sequence[Any]], frequency: str) -> bool:
    """Whether days such as the first Monday are told of in a way, or together with days, that could miss them."""
    found = [_NTH.fullmatch(str(day).upper()) for day in rule.get("BYDAY", [])]
    numbers = [int(one[1] or 0) if one else _MOST_NTH + 1 for one in found]
    if not any(numbers):
        return False
    most = _MOST_NTH if int(rule.get("INTERVAL", [1])[0]) == 1 else _MOST_NTH - 1
    return (
        not all(numbers)  # dateutil takes such a mixture for days that are both
        or max(numbers) > most
        or frequency not in {"MONTHLY", "YEARLY"}
        or "BYMONTHDAY" in rule
    )


def _no_such_day(rule: Mapping[str, Sequence[Any]]) -> bool:
    months = [int(month) for month in rule.get("BYMONTH", [])] or list(range(1, 13))
    if any(not 1 <= month <= 12 for month in months):  # noqa: PLR2004 - months of a year
        return True
    longest = max(monthrange(_LEAP_YEAR, month)[1] for month in months)
    days = [abs(int(day)) for day in rule.get("BYMONTHDAY", [])]
    return bool(days) and not any(1 <= day <= longest for day in days)

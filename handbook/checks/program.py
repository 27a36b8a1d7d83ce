"""The program's own particulars: zone, web address, e-mail."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import re
from collections.abc import Iterator
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from handbook.checks.check import check, finding
from handbook.problems import Problem
from handbook.schema.handbook import Handbook
from handbook.source.names import listed, nearest

_ADDRESS = re.compile(r"https?://[^\s/?#]+\.[^\s?#]*", re.IGNORECASE)
_EMAIL = re.compile(r"[^\s@]+@[^\s@]+\.[^\s@.]+")
_SURELY = 0.8  # a zone is likelier unknown than so misspelt
_CITY = re.compile(r".*/")
# The zones of the United States by the names people use for them: common practice, no source.
_EVERYDAY = {
    "eastern": "America/New_York",
    "central": "America/Chicago",
    "mountain": "America/Denver",
    "arizona": "America/Phoenix",
    "pacific": "America/Los_Angeles",
    "alaska": "America/Anchorage",
    "hawaii": "Pacific/Honolulu",
}


@check
def unknown_time_zone(handbook: Handbook) -> Iterator[Problem]:
    """The time zone is not one of the IANA time zone database.

    Zones are named by a continent and a large city in them, so that clock changes are
    known. In the United States: America/New_York, America/Chicago, America/Denver,
    America/Phoenix, America/Los_Angeles, America/Anchorage, Pacific/Honolulu.

    Bad:

        time_zone: Central

    Good:

        time_zone: America/Chicago
    """
    name = handbook.program.item.time_zone
    if not _is_zone(name):
        yield finding(
            f"no time zone is called `{name}`",
            (handbook.program.file, "time_zone"),
            f"did you mean {listed(_likely_zones(name, available_timezones()), 'or')}?",
        )


def _is_zone(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):  # the last for a folder of zones
        return False
    return True


def _likely_zones(name: str, zones: set[str]) -> tuple[str, ...]:
    words = re.findall(r"[a-z]+", name.lower())
    everyday = [_EVERYDAY[word] for word in words if word in _EVERYDAY]
    if everyday:
        return tuple(everyday[:1])
    by_city = {_CITY.sub("", zone): zone for zone in sorted(zones) if "/" in zone}
    city = nearest(_CITY.sub("", name), by_city, most=1, alike=_SURELY)
    if city:
        return (by_city[city[0]],)
    return ("America/New_York", "America/Chicago", "America/Los_Angeles")


@check
def unreadable_address(handbook: Handbook) -> Iterator[Problem]:
    """The site's web address is not a whole one.

    Links in calendars and on printed sheets need all of it, from https:// on.

    Bad:

        address: bands.quillhaven.example

    Good:

        address: https://bands.quillhaven.example
    """
    address = handbook.program.item.address
    if address is not None and not _ADDRESS.fullmatch(address):
        bare = re.sub(r"^[A-Za-z]+:/*", "", address)
        yield finding(
            f"`{address}` is no whole web address",
            (handbook.program.file, "address"),
            f"write `https://{bare}`" if "." in bare else "write it from https:// on",
        )


@check
def unreadable_email(handbook: Handbook) -> Iterator[Problem]:
    """The contact's e-mail address is not one.

    Bad:

        email: band-office at quillhaven.example

    Good:

        email: band-office@quillhaven.example
    """
    email = handbook.program.item.contact.email
    if email is not None and not _EMAIL.fullmatch(email):
        yield finding(
            f"`{email}` is no e-mail address",
            (handbook.program.file, "contact", "email"),
            "write it with one @ and no spaces, such as band-office@school.example",
        )

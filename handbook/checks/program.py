"""The program's own particulars: zone, web address, e-mail, players in common."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import re
from collections.abc import Iterator
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import unknown
from handbook.domain.school_colors import readable_ground
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.source.names import listed, nearest

_ADDRESS = re.compile(r"https?://[^\s/?#]+\.[^\s?#]*", re.IGNORECASE)
_HOST_FILE = re.compile(r"(?!\.{1,2}$)[A-Za-z0-9._-]{1,100}")
# What stands at the top of every site; whatever else its pages are called, a build finds out.
_OF_THE_SITE = (
    *("index.html", "404.html", "sitemap.xml", "assets", "media", "search", "calendar", "changes"),
    *(
        "events",
        "families",
        "fundamentals",
        "languages",
        "past",
        "words",
        ".handbook-site",
        ".handbook-site.part",
    ),
)
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
def unusable_host_file(handbook: Handbook) -> Iterator[Problem]:
    """A name under `host_files` cannot be that of a file of the web host.

    It is one file or folder at the top of the site's folder. What the site itself has there,
    such as `index.html` or the folder of a cycle, is not the host's.

    Bad:

        host_files: [.well-known/security.txt, index.html]

    Good:

        host_files: [.well-known, CNAME]
    """
    taken = {name.casefold() for name in (*_OF_THE_SITE, *(one.id for one in handbook.cycles))}
    seen = set[str]()
    for place, name in enumerate(handbook.program.item.host_files):
        at = (handbook.program.file, "host_files", place)
        first = name.split("/", 1)[0]
        if not _HOST_FILE.fullmatch(name):
            hint = f"write `{first}`" if "/" in name and _HOST_FILE.fullmatch(first) else ""
            yield finding(
                f"`{name}` is no name of a file or folder at the top of the site",
                at,
                hint or "name it as the host does, with letters, digits, dots, hyphens",
            )
        elif name.casefold() in taken:
            yield finding(
                f"`{name}` is a name that the site itself has", at, "take it out of `host_files`"
            )
        elif name.casefold() in seen:
            yield finding(f"`{name}` stands here twice", at, "leave one of them")
        seen.add(name.casefold())


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
def color_hard_to_read(handbook: Handbook) -> Iterator[Problem]:
    """Text on the school's color could not be read easily, neither white nor dark.

    Text stands out if its contrast is 7 to 1 (WCAG 2.2, success criterion 1.4.6), and on a
    color of middle brightness nothing has that. Where text stands on it, pages show the
    nearest shade that can; lines keep the color as it is.

    Bad:

        look: {color: "#c8102e"}

    Good:

        look: {color: "#b40025"}
    """
    look = handbook.program.item.look
    nearest_shade = readable_ground(look.color) if look else ""
    if look and nearest_shade != look.color:
        yield finding(
            f"on `{look.color}` neither white nor dark text can be read easily, so a ground with text on it is shown as `{nearest_shade}`",
            (handbook.program.file, "look", "color"),
            f'nothing is lost; write `"{nearest_shade}"` to have one color everywhere',
            Severity.WARNING,
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


@check
def shared_players_miscounted(handbook: Handbook) -> Iterator[Problem]:
    """More players are shared than a band has, or two bands give different numbers.

    Said by one of the two bands, a number holds for both.

    Bad:

        ensembles:
          - {id: lantern, name: Lantern Band, instruments: {trumpet: 6}}
          - {id: jazz, name: Jazz Band, instruments: {trumpet: 4}, shares_players_with: {lantern: 5}}

    Good:

        ensembles:
          - {id: lantern, name: Lantern Band, instruments: {trumpet: 6}}
          - {id: jazz, name: Jazz Band, instruments: {trumpet: 4}, shares_players_with: {lantern: 3}}
    """
    bands = traversal.ensemble_by_id(handbook)
    said: dict[frozenset[str], tuple[int, Address]] = {}
    for address, ensemble in traversal.ensembles(handbook):
        if not isinstance(ensemble.shares_players_with, dict):
            continue
        for name, number in ensemble.shares_players_with.items():
            at = (*address, "shares_players_with", name)
            other = bands.get(name)
            if other is None or name == ensemble.id:
                continue
            for one in (ensemble, other):
                if 0 < one.players < number:
                    yield finding(
                        f"{number} players are shared here, and `{one.id}` has {one.players}",
                        at,
                        "give the number of players who are in both bands",
                    )
            pair = frozenset((ensemble.id, name))
            before = said.setdefault(pair, (number, at))
            if before[0] != number:
                yield finding(
                    f"`{name}` says that it shares {before[0]} players with `{ensemble.id}`, and here are {number}",
                    at,
                    "give the number once, or the same at both bands",
                    notes=(Note("the other number is here", before[1]),),
                )


@check
def unknown_page(handbook: Handbook) -> Iterator[Problem]:
    """A page is named that is not in the folder pages/.

    Bad:

        pages: [atendance]

    Good:

        pages: [attendance]
    """
    known = [page.slug for page in handbook.pages]
    for place, name in enumerate(handbook.program.item.pages):
        if name not in known:
            at = (handbook.program.file, "pages", place)
            yield unknown("file in pages/", name, at, known, "to pages/")

"""Where a link in a text or on a free page leads, as its author counts."""

from __future__ import annotations

import posixpath
import re
from enum import StrEnum
from urllib.parse import unquote

from handbook.problems import Code
from handbook.records import dataclass

UNSAFE_LINK = Code(
    "unsafe-link",
    "A link could run a script.",
    "Links lead to pages and files of your own, or begin with https:, http:, mailto:, tel:, sms: or webcal:.",
    bad="[Forms](javascript:open())",
    good="[Forms](https://forms.quillhaven.example/)",
)
"""Raised for free pages where they are read, and for texts by a check."""

SAFE_SCHEMES = frozenset({"http", "https", "mailto", "tel", "sms", "webcal"})
PAGES, MEDIA, FAMILIES = "pages", "media", "families"

_SCHEME = re.compile(r"([A-Za-z][A-Za-z0-9+.-]*):")
_MONTH = re.compile(r"calendar/.+")  # which months have a page of their own changes with the dates


class Leads(StrEnum):
    """What a link leads to."""

    ELSEWHERE = "an address of the web, of mail or of a phone"
    UNSAFE = "an address that could run a script"
    HERE = "the page itself"
    PAGE = "a free page"
    MEDIA = "a file in media/"
    HANDBOOK = "a page that the handbook makes"
    ODD = "nothing that can be linked to"


@dataclass(frozen=True, slots=True)
class Target:
    """Where a link leads: the slug of a page, the name of a file in media/, or an address.

    An address is counted from the site's root and ends with a slash. `place` is a heading
    on the page, as it was written after `#`.
    """

    leads: Leads
    path: str = ""
    place: str = ""

    @property
    def heading(self) -> str:
        """The place as the page has it."""
        return unquote(self.place)


def scheme_of(link: str) -> str:
    """Give the scheme of an address as a browser takes it, in small letters; else nothing."""
    scheme = _SCHEME.match("".join(link.split()))
    return scheme[1].lower() if scheme else ""


def target_of(link: str, slug: str | None = None) -> Target:
    """Read a link of the free page `slug`, or of a text in a YAML file.

    On a free page, files are counted from the page's own (`other.md`, `../media/map.pdf`) and
    pages of the handbook from its address; in a text, both from the top (`pages/other.md`,
    `media/map.pdf`, `calendar/`).
    """
    scheme = scheme_of(link)
    if scheme or link.startswith("//"):
        safe = not scheme or scheme in SAFE_SCHEMES
        return Target(Leads.ELSEWHERE if safe else Leads.UNSAFE)
    path, _, place = link.partition("#")
    if slug is not None and not path:
        return Target(Leads.HERE, slug, place)
    if not path or "?" in path or path.startswith("/"):
        return Target(Leads.ODD)
    written = unquote(path)
    file = posixpath.normpath(
        posixpath.join("" if slug is None else posixpath.dirname(f"{PAGES}/{slug}"), written)
    )
    address = file if slug is None else posixpath.normpath(f"{FAMILIES}/{slug}/{written}")
    is_page = written.rpartition("/")[2] in {"", ".", ".."}
    return _within(file, address, place, is_page=is_page)


def _within(file: str, address: str, place: str, *, is_page: bool) -> Target:
    slug = file.removeprefix(f"{PAGES}/").removesuffix(".md")
    if file == f"{PAGES}/{slug}.md" and slug.rpartition("/")[2].strip("."):
        return Target(Leads.PAGE, slug, place)
    for name in (file, address):
        if name.startswith(f"{MEDIA}/") and not place and not is_page:
            return Target(Leads.MEDIA, name.removeprefix(f"{MEDIA}/"))
    if not is_page or address.startswith("..") or _MONTH.match(address):
        return Target(Leads.ODD)
    if address.startswith(f"{FAMILIES}/"):
        return Target(Leads.PAGE, address.removeprefix(f"{FAMILIES}/"), place)
    if place:
        return Target(Leads.ODD)
    return Target(Leads.HANDBOOK, "" if address == "." else f"{address}/")

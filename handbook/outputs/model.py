"""What outputs hand on: files and pages as values; nothing here writes."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from handbook.records import dataclass

if TYPE_CHECKING:
    from handbook.outputs.search.entry import SearchEntry


@dataclass(frozen=True, slots=True)
class OutputFile:
    """A file of the site; `path` is relative to the site's root, with forward slashes."""

    path: str
    content: bytes


@dataclass(frozen=True, slots=True)
class RenderedPage:
    """A page, ready but for the outermost frame.

    `path` is its address relative to the root: `""` for the first page, else with a
    slash at its end. `spoken` is the language of our own words if the page is of a language
    beside the site's first. `head` goes inside the head element after title and description,
    `body` inside the body element.
    """

    path: str
    title: str
    description: str
    language: str
    head: str
    body: str
    search: tuple[SearchEntry, ...] = ()
    spoken: str = ""


@dataclass(frozen=True, slots=True)
class Site:
    """All that is published: pages, and the files beside them (styles, fonts, search index).

    `media` are paths under the content folder's media/ that are copied as they are.
    """

    pages: tuple[RenderedPage, ...]
    files: tuple[OutputFile, ...]
    media: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LinkFacts:
    """What one file links to, what of that it loads by itself, both sorted, and the places it has."""

    links: tuple[str, ...]
    loads: tuple[str, ...]
    places: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class SiteFile:
    """A finished file of the site, whose bytes are read only by whoever needs them.

    `path` is relative to the site's root, with forward slashes; `digest` is the SHA-256 of
    the content in hex.
    """

    path: str
    digest: str
    read: Callable[[], bytes]

"""Whether every link of a site leads somewhere, and no page fetches from elsewhere.

Reads the bytes as they would be published. Attributes are found by their look, not by
parsing, so that hundreds of pages take a moment: our templates always quote them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from html import unescape
from sys import intern
from urllib.parse import unquote, urlsplit

from handbook.outputs.model import LinkFacts
from handbook.records import dataclass
from handbook.source.links import SAFE_SCHEMES, scheme_of

ERROR_PAGE = "404.html"
_ELSEWHERE = SAFE_SCHEMES | {"data", "blob"}
_STYLE_URL = re.compile(r"url\(\s*['\"]?([^'\")]+)")
_ATTRIBUTE = re.compile(rb' (href|src|id)="([^"]*)"')
_LOADING_LINK = re.compile(
    rb"<link\b[^>]*\brel=\"?[^\">]*\b(?:stylesheet|icon|preload|manifest)\b[^>]*>"
)


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known of the site; `base` is its path on its host."""

    files: Mapping[str, LinkFacts | None]
    base: str


def link_facts(path: str, content: bytes) -> LinkFacts | None:
    """Read what a page or a style links to; other kinds of file have None."""
    kind = path.lower()
    if not kind.endswith((".html", ".css")):
        return None
    if kind.endswith(".css"):
        named = _STYLE_URL.findall(content.decode(errors="replace"))
        fetched = tuple(sorted({link for link in named if not link.startswith("#")}))
        return LinkFacts(fetched, fetched)
    values = _values(content)
    loads = values[b"src"].union(*(_values(tag)[b"href"] for tag in _LOADING_LINK.findall(content)))
    links = tuple(sorted(loads | values[b"href"]))
    return LinkFacts(links, tuple(sorted(loads)), values[b"id"])


def link_findings(
    files: Mapping[str, LinkFacts | None], address: str | None = None
) -> tuple[str, ...]:
    """Name each link that leads nowhere as `page: link: reason`, in order.

    `address` is where the site will stand: the error page, which a host shows at any
    depth, may use links from the root of the host.
    """
    known = _Known(files, urlsplit(address or "").path.rstrip("/"))
    return tuple(
        f"{name}: {link}: {why}"
        for name in sorted(files)
        if (facts := files[name])
        for link, why in _findings(known, name, facts)
    )


def _findings(known: _Known, name: str, facts: LinkFacts) -> Iterator[tuple[str, str]]:
    for link in facts.links:
        if link in facts.loads and urlsplit(link).netloc:
            yield link, "is fetched from another host"
        elif why := _fault(known, name, link):
            yield link, why


def _values(content: bytes) -> Mapping[bytes, frozenset[str]]:
    """Collect what stands in quotation marks after each of the three attributes.

    Most pages have most of them in common, so one copy of each is kept.
    """
    raw: Mapping[bytes, set[bytes]] = {b"href": set(), b"src": set(), b"id": set()}
    for name, value in _ATTRIBUTE.findall(content):
        raw[name].add(value)
    return {
        name: frozenset(intern(unescape(value.decode(errors="replace"))) for value in values)
        for name, values in raw.items()
    }


def _fault(known: _Known, name: str, link: str) -> str | None:
    """Say what is wrong with a link, or give None."""
    scheme = scheme_of(link)
    if scheme in _ELSEWHERE or link.startswith("//"):
        return None
    if scheme:
        return "is a kind of link that is not published"
    path, _, fragment = link.partition("#")
    path = unquote(path.partition("?")[0])
    if not path.startswith("/"):
        target = _joined(name, path) if path else name
    elif name.rpartition("/")[2] == ERROR_PAGE:
        target = path.removeprefix(known.base).removeprefix("/")
    else:
        return "counts from the root of the host, so it breaks where the site stands in a folder"
    return _place_fault(known, target, unquote(fragment))


def _place_fault(known: _Known, target: str | None, fragment: str) -> str | None:
    if target is None:
        return "leads outside the site"
    if not target or target.endswith("/"):
        target = f"{target}index.html"
    if target not in known.files:
        return "leads to no page"
    facts = known.files[target]
    if fragment and (facts is None or fragment not in facts.places):
        return "leads to no such place on its page"
    return None


def _joined(name: str, path: str) -> str | None:
    """Resolve `path` against the file `name`; None if it leaves the site."""
    parts = name.split("/")[:-1]
    *steps, last = path.split("/")
    if last in {".", ".."}:
        steps, last = [*steps, last], ""
    for step in steps:
        if step == "..":
            if not parts:
                return None
            parts.pop()
        elif step not in {"", "."}:
            parts.append(step)
    return "/".join((*parts, last))

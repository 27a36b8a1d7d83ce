"""Whether every link of a staged site leads somewhere, and no page fetches from elsewhere.

Reads the bytes as they would be published. Attributes are found by splitting, not by
parsing, so that hundreds of pages take a moment: our templates always quote them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from urllib.parse import unquote, urlsplit

ERROR_PAGE = "404.html"
_ELSEWHERE = frozenset({"http", "https", "mailto", "tel", "webcal", "sms"})
_INLINE = frozenset({"data", "blob"})
_STYLE_URL = re.compile(r"url\(\s*['\"]?([^'\")]+)")
_LOADING_LINK = re.compile(
    r"<link\b[^>]*\brel=\"?[^\">]*\b(?:stylesheet|icon|preload|manifest)\b[^>]*>"
)


@dataclass(frozen=True, slots=True)
class _Linked:
    """What one file links to, what of that it loads by itself, and the places it has."""

    links: frozenset[str]
    loads: frozenset[str]
    places: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class _Staged:
    """What is known of a staged site; `base` is the path of the site on its host."""

    files: frozenset[str]
    linked: dict[str, _Linked]
    base: str


def link_findings(root: Path, files: frozenset[str], address: str | None = None) -> tuple[str, ...]:
    """Name each link that leads nowhere as `page: link: reason`, in order.

    `address` is where the site will stand: the error page, which a host shows at any
    depth, may use links from the root of the host.
    """
    linked = {name: _read(root / name) for name in files if name.endswith((".html", ".css"))}
    staged = _Staged(files, linked, urlsplit(address or "").path.rstrip("/"))
    return tuple(
        f"{name}: {link}: {why}"
        for name in sorted(linked)
        for link, why in _findings(staged, name, linked[name])
    )


def _findings(staged: _Staged, name: str, linked: _Linked) -> Iterator[tuple[str, str]]:
    for link in sorted(linked.links):
        if link in linked.loads and urlsplit(link).netloc:
            yield link, "is fetched from another host"
        elif why := _fault(staged, name, link):
            yield link, why


def _read(file: Path) -> _Linked:
    text = file.read_text(encoding="utf-8")
    if file.suffix == ".css":
        loads = frozenset(link for link in _STYLE_URL.findall(text) if not link.startswith("#"))
        return _Linked(loads, loads)
    loads = _values(text, "src").union(
        *(_values(tag, "href") for tag in _LOADING_LINK.findall(text))
    )
    return _Linked(loads | _values(text, "href"), loads, _values(text, "id"))


def _values(text: str, attribute: str) -> frozenset[str]:
    """Collect the values of an attribute written as `attribute="value"`."""
    raw = {piece.partition('"')[0] for piece in text.split(f' {attribute}="')[1:]}
    return frozenset(unescape(value) if "&" in value else value for value in raw)


def _fault(staged: _Staged, name: str, link: str) -> str | None:
    """Say what is wrong with a link, or give None."""
    scheme = link.partition(":")[0].lower() if ":" in link.partition("/")[0] else ""
    if scheme in _ELSEWHERE or scheme in _INLINE or link.startswith("//"):
        return None
    if scheme:
        return "is a kind of link that is not published"
    path, _, fragment = link.partition("#")
    path = unquote(path.partition("?")[0])
    if not path.startswith("/"):
        target = _joined(name, path) if path else name
    elif name == ERROR_PAGE:
        target = path.removeprefix(staged.base).removeprefix("/")
    else:
        return "counts from the root of the host, so it breaks where the site stands in a folder"
    return _place_fault(staged, target, unquote(fragment))


def _place_fault(staged: _Staged, target: str | None, fragment: str) -> str | None:
    if target is None:
        return "leads outside the site"
    if not target or target.endswith("/"):
        target = f"{target}index.html"
    if target not in staged.files:
        return "leads to no page"
    if fragment and (target not in staged.linked or fragment not in staged.linked[target].places):
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

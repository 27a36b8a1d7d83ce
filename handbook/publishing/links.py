"""Whether every link of a staged site leads somewhere, and no page fetches from elsewhere.

Reads the bytes as they would be published. Each address is looked up once, and a
fragment by searching the page it leads to, so that hundreds of pages take a moment.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
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


@dataclass(slots=True)
class _Staged:
    """The files of a staged site, each read at most once."""

    root: Path
    files: frozenset[str]
    base: str
    texts: dict[str, str] = field(default_factory=dict)
    known: dict[tuple[str, str], bool] = field(default_factory=dict)

    def text(self, name: str) -> str:
        if name not in self.texts:
            self.texts[name] = (self.root / name).read_text(encoding="utf-8")
        return self.texts[name]

    def has_place(self, name: str, fragment: str) -> bool:
        """Whether the page has an element of this id; the top of a page always is there."""
        if (name, fragment) not in self.known:
            text = self.text(name) if name.endswith(".html") else ""
            self.known[name, fragment] = any(
                mark in text
                for mark in (f' id="{fragment}"', f" id={fragment}>", f" id={fragment} ")
            )
        return self.known[name, fragment]


def link_findings(root: Path, files: frozenset[str], address: str | None = None) -> tuple[str, ...]:
    """Name each link that leads nowhere as `page: link: reason`, in order.

    `address` is where the site will stand: the error page, which a host shows at any
    depth, may use links from the root of the host.
    """
    staged = _Staged(root, files, urlsplit(address or "").path.rstrip("/"))
    findings = []
    for name in sorted(files):
        if name.endswith(".html"):
            findings += [f"{name}: {link}: {why}" for link, why in _page_findings(staged, name)]
        elif name.endswith(".css"):
            findings += [f"{name}: {link}: {why}" for link, why in _style_findings(staged, name)]
    return tuple(findings)


def _page_findings(staged: _Staged, name: str) -> Iterator[tuple[str, str]]:
    text = staged.text(name)
    loads = _values(text, "src")
    for tag in _LOADING_LINK.findall(text):
        loads |= _values(tag, "href")
    for link in sorted(loads):
        if urlsplit(link).netloc:
            yield link, "is fetched from another host"
    for link in sorted(loads | _values(text, "href")):
        if why := _fault(staged, name, link):
            yield link, why


def _style_findings(staged: _Staged, name: str) -> Iterator[tuple[str, str]]:
    for link in sorted(set(_STYLE_URL.findall(staged.text(name)))):
        if urlsplit(link).netloc:
            yield link, "is fetched from another host"
        elif not link.startswith("#") and (why := _fault(staged, name, link)):
            yield link, why


def _values(text: str, attribute: str) -> set[str]:
    """Collect the values of an attribute written as `attribute="value"`."""
    pieces = text.split(f' {attribute}="')
    return {unescape(piece[: piece.index('"')]) for piece in pieces[1:] if '"' in piece}


def _fault(staged: _Staged, name: str, link: str) -> str | None:
    """Say what is wrong with a link, or give None."""
    scheme = link.partition(":")[0].lower() if ":" in link.partition("/")[0] else ""
    if scheme in _ELSEWHERE or scheme in _INLINE or link.startswith("//"):
        return None
    if scheme:
        return "is a kind of link that is not published"
    path, _, fragment = link.partition("#")
    path = unquote(path.partition("?")[0])
    if path.startswith("/"):
        if name != ERROR_PAGE:
            return (
                "counts from the root of the host, so it breaks where the site stands in a folder"
            )
        path = path.removeprefix(staged.base).removeprefix("/")
        target: str | None = path
    else:
        target = _joined(name, path)
    return _place_fault(staged, name if not path else target, unquote(fragment))


def _place_fault(staged: _Staged, target: str | None, fragment: str) -> str | None:
    if target is None:
        return "leads outside the site"
    if target in {"", "."} or target.endswith("/"):
        target = f"{target.removeprefix('.')}index.html"
    if target not in staged.files:
        return "leads to no page"
    if fragment and not staged.has_place(target, fragment):
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

"""The addresses and places of the built pages, read from their files without a browser."""

from __future__ import annotations

from functools import cache
from html.parser import HTMLParser
from pathlib import Path


class _LinkReader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.links: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if found := told.get("id"):
            self.ids.add(found)
        if tag == "a" and (link := told.get("href")):
            self.links.add(link)


@cache
def _read(file: Path) -> _LinkReader:
    reader = _LinkReader()
    reader.feed(file.read_text("utf-8"))
    return reader


def leads_nowhere(folder: Path, page: str, link: str) -> bool:
    """Whether a link within the site, on a page below its folder, misses its file or its place."""
    path, _, anchor = link.partition("#")
    file = folder / page / path if path else folder / page
    if file.is_dir():
        if path and not path.endswith("/"):
            return True  # a folder's address ends with a slash
        file /= "index.html"
    if not file.is_file():
        return True
    return bool(anchor) and anchor not in _read(file).ids


def file_at(folder: Path, page: str) -> Path:
    """The file of a page, given by its address below the site's."""
    return folder / page / ("" if page.endswith(".html") else "index.html")


def lost_links(folder: Path, page: str) -> list[str]:
    """The links of a page, given by its address, that lead to no file or place of the site."""
    within = (
        link
        for link in _read(file_at(folder, page)).links
        if not link.startswith(("mailto:", "https://", "http://", "tel:", "webcal:"))
    )
    return sorted(link for link in within if leads_nowhere(folder, page, link))

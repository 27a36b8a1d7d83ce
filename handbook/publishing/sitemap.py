"""The list of pages for search engines, which needs the address at which the site will stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from html import escape
from urllib.parse import quote

from handbook.outputs import addresses
from handbook.outputs.model import OutputFile, Site
from handbook.outputs.web_address import LEFT_IN_ADDRESSES

SITEMAP = "sitemap.xml"
_XHTML = "http://www.w3.org/1999/xhtml"
_ANY = "x-default"


Trees = Mapping[str, str]
"""Where the pages of each language stand: its code to a folder with a slash at its end, or to nothing."""


def with_sitemap(site: Site, address: str | None) -> Site:
    """Add the sitemap, if `address`, with a slash at its end, is known."""
    if address is None:
        return site
    languages = [*dict.fromkeys(page.language for page in site.pages)]
    trees = {language: addresses.tree(language, languages) for language in languages}
    made = sitemap([page.path for page in site.pages], address, trees)
    return replace(site, files=(*site.files, made))


def sitemap(paths: Iterable[str], address: str, trees: Trees) -> OutputFile:
    """List pages by their paths (sitemaps.org protocol 0.9), each address escaped as it asks.

    Where there are several languages each page names its versions, and the first language for
    readers of any other ("Localized versions of your pages", Google Search Central). It carries
    no dates: a rebuild of the same content is to change no byte.
    """
    start, known = quote(address, safe=LEFT_IN_ADDRESSES), sorted(paths)
    versions = _versions(known, trees) if len(trees) > 1 else {}
    rows = (
        f"<url><loc>{_escaped(start + quote(path))}</loc>{_links(start, versions.get(path, ()))}</url>"
        for path in known
    )
    more = f' xmlns:xhtml="{_XHTML}"' if versions else ""
    lines = (
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9"{more}>',
        *rows,
        "</urlset>",
        "",
    )
    return OutputFile(SITEMAP, "\n".join(lines).encode())


def _versions(paths: Iterable[str], trees: Trees) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Give for each page that stands in several languages all of them, with where it does."""
    pages: dict[str, dict[str, str]] = {}
    for path in paths:
        language = max(
            (code for code, tree in trees.items() if path.startswith(tree)),
            key=lambda code: len(trees[code]),
        )
        pages.setdefault(path.removeprefix(trees[language]), {})[language] = path
    found: dict[str, tuple[tuple[str, str], ...]] = {}
    for page, by_language in pages.items():
        if len(by_language) > 1:
            listed = [(code, by_language[code]) for code in trees if code in by_language]
            if page in by_language.values():  # in the first language
                listed.append((_ANY, page))
            found |= dict.fromkeys(by_language.values(), tuple(listed))
    return found


def _links(start: str, versions: Iterable[tuple[str, str]]) -> str:
    return "".join(
        f'<xhtml:link rel="alternate" hreflang="{code}" href="{_escaped(start + quote(path))}"/>'
        for code, path in versions
    )


def _escaped(text: str) -> str:
    """Escape for XML, by name as the protocol lists them; the library's own way loads all of HTTP."""
    return escape(text, quote=False).replace("'", "&apos;").replace('"', "&quot;")

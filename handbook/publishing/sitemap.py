"""The list of pages for search engines, which needs the address at which the site will stand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from html import escape
from urllib.parse import quote

from handbook.outputs.model import OutputFile, Site
from handbook.outputs.web_address import LEFT_IN_ADDRESSES

SITEMAP = "sitemap.xml"


def with_sitemap(site: Site, address: str | None) -> Site:
    """Add the sitemap, if `address`, with a slash at its end, is known."""
    if address is None:
        return site
    return replace(site, files=(*site.files, sitemap([page.path for page in site.pages], address)))


def sitemap(paths: Iterable[str], address: str) -> OutputFile:
    """List pages by their paths (sitemaps.org protocol 0.9), each address escaped as it asks.

    It carries no dates: a rebuild of the same content is to change no byte.
    """
    start = quote(address, safe=LEFT_IN_ADDRESSES)
    rows = (f"<url><loc>{_escaped(start + quote(path))}</loc></url>" for path in sorted(paths))
    lines = (
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">',
        *rows,
        "</urlset>",
        "",
    )
    return OutputFile(SITEMAP, "\n".join(lines).encode())


def _escaped(text: str) -> str:
    """Escape for XML, by name as the protocol lists them; the library's own way loads all of HTTP."""
    return escape(text, quote=False).replace("'", "&apos;").replace('"', "&quot;")

"""The list of pages for search engines, which needs the address at which the site will stand."""

from __future__ import annotations

from dataclasses import replace
from urllib.parse import quote, urljoin, urlsplit
from xml.sax.saxutils import escape

from handbook.outputs.model import OutputFile, Site

SITEMAP = "sitemap.xml"


def web_address(text: str | None) -> str | None:
    """Give a full http or https address with a slash at its end, else None."""
    parts = urlsplit(text or "")
    if parts.scheme not in {"http", "https"} or not parts.netloc:
        return None
    return f"{parts.scheme}://{parts.netloc}{parts.path.rstrip('/')}/"


def with_sitemap(site: Site, address: str | None) -> Site:
    """Add the sitemap (sitemaps.org protocol 0.9), if `address`, with a slash at its end, is known.

    It carries no dates: a rebuild of the same content is to change no byte.
    """
    if address is None:
        return site
    rows = (
        f"<url><loc>{escape(urljoin(address, quote(page.path)))}</loc></url>" for page in site.pages
    )
    lines = (
        '<?xml version="1.0" encoding="UTF-8"?>',
        '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">',
        *rows,
        "</urlset>",
        "",
    )
    return replace(site, files=(*site.files, OutputFile(SITEMAP, "\n".join(lines).encode())))

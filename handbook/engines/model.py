"""What every engine is given and gives back; knows none of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Protocol
from urllib.parse import quote, urljoin

from handbook.outputs.i18n.languages import direction
from handbook.outputs.model import RenderedPage
from handbook.outputs.web_address import web_address
from handbook.plan.model import Plan
from handbook.records import dataclass
from handbook.resources import templates_folder

FRAME = "handbook.html"
"""The outermost template, in the folder that `frame_folder` gives; every engine renders it."""


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """What pages say of the whole site.

    `address` is the full address where it will stand, with a slash at its end, or None.
    """

    name: str
    address: str | None = None
    language: str = "en"


class Engine(Protocol):
    """Finishes pages in memory; writes nothing."""

    def finish(self, pages: Sequence[RenderedPage], site: SiteFacts) -> Mapping[str, bytes]:
        """Give the bytes of each page by the path of its file, `a/b/index.html`.

        A page's bytes depend on nothing but the page and `site`, and are the same for
        every engine.
        """


@dataclass(frozen=True, slots=True)
class FramedPage:
    """What the outermost template reads of a page."""

    ready: RenderedPage
    direction: str
    canonical: str | None
    content: str


def framed(page: RenderedPage, site: SiteFacts) -> FramedPage:
    """Add to a page what the outermost template says of its place and language."""
    address = urljoin(site.address, quote(page.path)) if site.address else None
    return FramedPage(page, direction(page.language), address, page.body)


def file_of(page: RenderedPage) -> str:
    """Give the path of a page's file, relative to the root of the site."""
    return f"{page.path}index.html"


def frame_folder() -> Path:
    """Give the folder of the outermost template."""
    return templates_folder() / "theme"


def facts_of(plan: Plan) -> SiteFacts:
    """Give what pages say of the whole site."""
    program, language = plan.program, plan.languages[0]
    return SiteFacts(program.name.read(language), web_address(program.address), language)

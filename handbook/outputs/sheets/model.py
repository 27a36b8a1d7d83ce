"""A sheet from its view to the bytes of its PDF."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from handbook.domain.values.paper import Paper
from handbook.records import dataclass

FAMILY_POINTS = 12
"""The smallest letters of a sheet for families or students, in points."""
CREW_POINTS = 14
"""The smallest letters of what is read while standing, at arm's length."""


class Layout(StrEnum):
    """How a sheet is laid out.

    From top to bottom; as pages, each of them a section of the template that begins on a new
    page and is made to fit one; as leaves of half a sheet, one a page; or these side by side
    on sheets that are printed on both sides and folded.
    """

    FLOW = "flow"
    PAGES = "pages"
    LEAVES = "leaves"
    FOLDED = "folded"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet before it is made: its template `kind` and its `view`.

    `path` is its address below the root of its language, `page` that of the page that says the
    same. With `one_page` lines and gaps are set closer, down to a bound, as long as it is longer
    than a page; letters are never smaller than `points`. A `notice` stands at the head of each page.
    """

    path: str
    kind: str
    title: str
    view: object
    page: str = ""
    points: int = FAMILY_POINTS
    one_page: bool = True
    landscape: bool = False
    notice: str = ""
    layout: Layout = Layout.FLOW


@dataclass(frozen=True, slots=True)
class MadeSheet:
    """A sheet whose words are there: `html` is what the template wrote, in `language`.

    `path` and `page` are addresses below the root of the site.
    """

    path: str
    title: str
    language: str
    spoken: str
    html: str
    page: str
    paper: Paper
    points: int
    one_page: bool
    landscape: bool
    layout: Layout
    head: str
    notice: str
    languages: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Imprint:
    """What is set at the foot.

    The address of the `site`, number and day of the publication that first had it so. A sheet that
    is never published has instead what it is `of`, such as its cycle, and `marks` of its words: one
    for each page of the layout `pages`, else one.
    """

    site: str = ""
    number: int | None = None
    day: date | None = None
    of: str = ""
    marks: tuple[str, ...] = ()

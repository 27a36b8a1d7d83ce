"""What goes in at one end of the line and what comes out at the other; needs no model, no template."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from handbook.loader.contents import Contents
from handbook.making.media import Media
from handbook.outputs.model import SiteFile
from handbook.publishing.refusal import NotPublishedError
from handbook.records import dataclass
from handbook.store import key_of


class NotSoundError(Exception):
    """Something in the content is an error; which, and what else, is found by reading all of it."""


class LostLinkError(NotPublishedError):
    """A link leads nowhere; its place in the content is found by reading all of it."""


@dataclass(frozen=True, slots=True)
class SeenContent:
    """A content folder as it is at one moment; `program` is the digest of the program that reads it."""

    contents: Contents
    media: Mapping[str, Media]
    program: str

    @property
    def key(self) -> str:
        """The key of the site that it makes."""
        problems = self.contents.found.problems
        media = sorted(self.media.items())
        return key_of("site", self.program, self.contents.digests(), problems, media)


@dataclass(frozen=True, slots=True)
class FinishedSite:
    """A finished site; `warnings` counts those of the content, `address` is where it will stand.

    `page_digests` are those of each page's own words, by its address, as `PageRecord` keeps
    them; there are none where no publication is known or coming. `hosts` are the names of
    the host's own files in its folder. `fonts` is the digest of the machine's fonts, if any
    sheet has letters of these.
    """

    files: tuple[SiteFile, ...]
    warnings: int
    address: str | None
    page_digests: Mapping[str, str] = field(default_factory=dict)
    hosts: frozenset[str] = frozenset()
    fonts: str = ""

    @property
    def pages(self) -> int:
        """The number of its pages."""
        return sum(file.path.endswith("index.html") for file in self.files)

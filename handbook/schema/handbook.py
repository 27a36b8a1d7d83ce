"""The whole content folder as typed values, each with the file it came from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date, time
from typing import Generic, TypeVar

from handbook.domain.values.text import Text
from handbook.records import dataclass
from handbook.schema.base import Item
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.events import Events
from handbook.schema.fundamentals import Fundamentals
from handbook.schema.log import Log
from handbook.schema.music import Music
from handbook.schema.program import Program
from handbook.schema.year import Year

ItemT = TypeVar("ItemT", bound=Item)
MAIN_CONCERT = "concert"
"""The id of the concert in concert.yaml; each other one is called by its file in concerts/."""

MODELS: Mapping[str, type[Item]] = {
    "program": Program,
    "year": Year,
    "fundamentals": Fundamentals,
    "cycle": Cycle,
    "music": Music,
    "concert": Concert,
    "log": Log,
    "events": Events,
}
"""Topic to the model of its file; also the names of the published JSON Schemas."""


@dataclass(frozen=True, slots=True)
class Sourced(Generic[ItemT]):
    """An item and the content file (relative, with forward slashes) that it was read from."""

    file: str
    item: ItemT


def concert_id(file: str) -> str:
    """Give the id of a concert by its file."""
    return file.rpartition("/")[2].removesuffix(".yaml")


@dataclass(frozen=True, slots=True)
class CycleContent:
    """One folder under cycles/; `concerts` in order of their downbeats, `logs` in order of the rehearsals."""

    id: str
    cycle: Sourced[Cycle]
    music: tuple[Sourced[Music], ...] = ()
    concerts: tuple[Sourced[Concert], ...] = ()
    logs: tuple[Sourced[Log], ...] = ()

    @property
    def concert(self) -> Sourced[Concert] | None:
        """The concert that ends the cycle."""
        return self.concerts[-1] if self.concerts else None


@dataclass(frozen=True, slots=True)
class ConcertAhead:
    """A concert of a cycle as the program of an earlier one tells of it; `venue` is the id of one."""

    cycle: str
    name: Text
    date: date
    downbeat: time
    venue: str


def concerts_ahead(content: CycleContent) -> tuple[ConcertAhead, ...]:
    """Give the concerts of a cycle that are held."""
    items = (one.item for one in content.concerts if not one.item.cancelled)
    return tuple(
        ConcertAhead(content.id, one.name, one.date, one.downbeat, one.venue) for one in items
    )


@dataclass(frozen=True, slots=True)
class FreePage:
    """A Markdown page under pages/; `slug` is its path without the ending.

    `body` begins at `line` of the file, counted from 1.
    """

    file: str
    slug: str
    title: str
    body: str
    line: int = 1


@dataclass(frozen=True, slots=True)
class MediaFile:
    """What is known of a file under media/: its size in bytes as published, and of a sound its length.

    `seconds` is None for pictures, and for sounds whose length cannot be read. `fault` says
    why it cannot be published, to go on after its name; empty if it can.
    """

    size: int
    seconds: float | None = None
    fault: str = ""


@dataclass(frozen=True, slots=True)
class Handbook:
    """All content that was read without a problem in its shape, or some cycles of it.

    `elsewhere` are the meanings of terms that stand in cycles which are not here, `ahead` the
    concerts of such cycles.
    """

    program: Sourced[Program]
    years: Mapping[str, Sourced[Year]]
    fundamentals: tuple[Sourced[Fundamentals], ...] = ()
    events: tuple[Sourced[Events], ...] = ()
    cycles: tuple[CycleContent, ...] = ()
    pages: tuple[FreePage, ...] = ()
    media: frozenset[str] = frozenset()
    media_files: Mapping[str, MediaFile] = field(default_factory=dict)
    elsewhere: Mapping[str, Text] = field(default_factory=dict)
    ahead: tuple[ConcertAhead, ...] = ()

"""What a page offers to be put into one's own calendar."""

from __future__ import annotations

from handbook.outputs import addresses
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class EntryFile:
    """A file for one band; `n` is the band's number in the page's filter."""

    name: str
    path: str
    n: int


@dataclass(frozen=True, slots=True)
class ToCalendar:
    """The file for everyone, and those `of_bands` where they have hours of their own."""

    path: str
    of_bands: tuple[EntryFile, ...] = ()
    subscribe: str = addresses.SUBSCRIBE

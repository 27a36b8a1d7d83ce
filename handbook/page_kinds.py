"""The kinds of pages, once: menu, addresses, kept ids, modules and templates follow from here."""

from __future__ import annotations

from enum import StrEnum

from handbook.records import dataclass


class Of(StrEnum):
    """What a page is about, and so what it may show."""

    HANDBOOK = "the whole handbook"
    CYCLE = "a cycle"
    ENSEMBLE = "an ensemble in a cycle"


@dataclass(frozen=True, slots=True)
class PageKind:
    """A kind: its pages are made by `outputs/pages/<name>.py` with `pages/<name>.html.j2`.

    `folder` is kept for it and may be no id: beside the cycles, or beside the ensembles of a
    cycle, or beside the pieces of an ensemble. `menu` is its entry in the menu, "" for none;
    what is about a cycle stands there for the newest one.
    """

    name: str
    of: Of
    folder: str = ""
    menu: str = ""


KINDS: tuple[PageKind, ...] = (
    PageKind("today", Of.HANDBOOK, "", "Today"),
    PageKind("cycle", Of.CYCLE),
    PageKind("ensemble", Of.ENSEMBLE),
    PageKind("piece", Of.ENSEMBLE),
    PageKind("part", Of.ENSEMBLE, "part"),
    PageKind("concert", Of.CYCLE, "concert"),
    PageKind("crew", Of.CYCLE),
    PageKind("fundamentals", Of.HANDBOOK, "fundamentals", "Fundamentals"),
    PageKind("events", Of.HANDBOOK, "events", "Events"),
    PageKind("calendar", Of.HANDBOOK, "calendar", "Calendar"),
    PageKind("subscribe", Of.HANDBOOK),
    PageKind("changes", Of.HANDBOOK, "changes", "Changes"),
    PageKind("words", Of.HANDBOOK, "words", "Words"),
    PageKind("families", Of.HANDBOOK, "families", "Families"),
    PageKind("past", Of.HANDBOOK, "past", "All cycles"),
    PageKind("languages", Of.HANDBOOK, "languages"),
)
"""In the order of the menu."""


def kept_folders(of: Of) -> frozenset[str]:
    """Give the folders that are kept for pages of some scope."""
    return frozenset(kind.folder for kind in KINDS if kind.of is of and kind.folder)

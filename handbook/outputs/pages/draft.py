"""What every page view hands to the frame."""

from __future__ import annotations

from dataclasses import dataclass, field

from handbook.domain.values.text import Text
from handbook.outputs.base import SearchEntry
from handbook.plan.model import Plan


@dataclass(frozen=True, slots=True)
class Link:
    """A link to a page of the site; `path` is relative to the root."""

    title: str
    path: str


@dataclass(frozen=True, slots=True)
class PageDraft:
    """A page before rendering: its template `kind`, its `view`, its place in the navigation."""

    path: str
    kind: str
    title: str
    description: str
    section: str
    view: object
    crumbs: tuple[Link, ...] = ()
    search: tuple[SearchEntry, ...] = field(default=(), repr=False)


@dataclass(frozen=True, slots=True)
class Context:
    """The plan and the language its pages are written in."""

    plan: Plan
    language: str

    def say(self, text: Text | None) -> str:
        """Give the words of a text in the page's language; nothing for no text."""
        return text.read(self.language) if text else ""

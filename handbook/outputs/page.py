"""What every page view hands to the frame."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import field
from functools import cache, partial
from typing import TypeVar, cast

from handbook.domain.note_words import Naming, as_read, in_concert_pitch
from handbook.domain.tables.instruments import Instrument
from handbook.domain.values.keys import ConcertKey
from handbook.domain.values.text import Text
from handbook.outputs import addresses
from handbook.outputs.i18n import Speech, speaking
from handbook.outputs.i18n.languages import spoken
from handbook.outputs.i18n.other_language import marked
from handbook.outputs.note_names import concert_sign, sign
from handbook.outputs.search.entry import SearchEntry
from handbook.outputs.sheets.model import Sheet
from handbook.plan.model import Plan
from handbook.records import dataclass
from handbook.schema.handbook import MAIN_CONCERT

MadeT = TypeVar("MadeT")
_NAMING = Naming(sign, concert_sign)


@dataclass(frozen=True, slots=True)
class Link:
    """A link to a page of the site; `path` is relative to the root."""

    title: str
    path: str


@dataclass(frozen=True, slots=True)
class Page:
    """A page before rendering: its template `kind`, its `view`, its place in the navigation.

    `path` is its address below the root of its language, `languages` are those in which it
    stands, none for all of the site's. Its `sheets` are what of it is printed.
    """

    path: str
    kind: str
    title: str
    description: str
    section: str
    view: object
    crumbs: tuple[Link, ...] = ()
    search: tuple[SearchEntry, ...] = field(default=(), repr=False)
    languages: tuple[str, ...] = ()
    sheets: tuple[Sheet, ...] = field(default=(), repr=False)


def section_of(concert_id: str) -> str:
    """Give the place of a concert's pages in the navigation."""
    return "concert" if concert_id == MAIN_CONCERT else f"concert-{concert_id}"


@dataclass(frozen=True, slots=True)
class Context:
    """The plan and the language its pages are written in; `published` if earlier publications are told of."""

    plan: Plan
    language: str
    published: bool = False
    _made: dict[tuple[str, int], tuple[object, object]] = field(
        default_factory=dict, repr=False, compare=False
    )

    @property
    def tree(self) -> str:
        """The folder of all pages in the page's language; nothing for the site's first language."""
        return addresses.tree(self.language, self.plan.languages)

    def say(self, text: Text | None) -> str:
        """Give the words of a text in the page's language; nothing for no text.

        Notes that it names in braces are told as they sound. Where it is not given in that
        language it comes in the site's first one, with a mark.
        """
        if text is None:
            return ""
        words, language = self._words(text)
        if "{" in words:
            words = self._naming(language, partial(in_concert_pitch, words))
        return self.marked(words, language)

    def say_to(self, player: Instrument | None, key: ConcertKey | None, text: Text | None) -> str:
        """Give the words of a text with the notes in it as a player's part has them.

        `key` is the concert key of what it is about, which spells them.
        """
        if text is None:
            return ""
        words, language = self._words(text)
        if "{" in words:
            said = words
            words = self._naming(language, lambda naming: as_read(said, naming, player, key))
        return self.marked(words, language)

    def _naming(self, language: str, tell: Callable[[Naming], str]) -> str:
        """Tell a text with its notes named as in its own language, which may not be the page's."""
        with speaking(language, notes=self.plan.program.names_notes(language)):
            return tell(_NAMING)

    def speaking(self) -> AbstractContextManager[Speech]:
        """Say our own words in the page's language within, or in English if they are not translated."""
        notes = self.plan.program.names_notes(self.language)
        return speaking(spoken(self.language), notes=notes)

    def marked(self, words: str, language: str = "") -> str:
        """Mark words that are in another language than the page's own, the site's first if none is given."""
        first = self.plan.languages[0]
        if self.language == first or not _is_other(language or first, self.language):
            return words
        return marked(words, language or first)

    def _words(self, text: Text) -> tuple[str, str]:
        """Give the words of a text and their language: the page's, else the site's first."""
        code, words = text.version(self.language)
        if code == self.language:
            return words, code
        if code:
            code, words = text.version(self.plan.languages[0])
        return words, code or self.plan.languages[0]

    def once(self, what: str, subject: object, make: Callable[[], MadeT]) -> MadeT:
        """Make what several pages show of a part of the plan, and give the same again later.

        `what` names it; it may depend on nothing but the subject, the plan and the language.
        """
        key = what, id(subject)
        if key not in self._made:  # the subject is kept beside, so that its id stays its own
            self._made[key] = subject, make()
        return cast("MadeT", self._made[key][1])


@cache
def _is_other(language: str, page_language: str) -> bool:
    """Whether words in a language stand out on a page: its own words may be English ones."""
    own = spoken(page_language)
    if own == page_language:
        return language != own
    return language.partition("-")[0] != own

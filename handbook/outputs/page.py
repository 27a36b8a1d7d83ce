"""What every page view hands to the frame."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field
from functools import partial
from typing import TypeVar, cast

from handbook.domain.note_words import Naming, as_read, in_concert_pitch
from handbook.domain.tables.instruments import Instrument
from handbook.domain.values.keys import ConcertKey
from handbook.domain.values.text import Text
from handbook.outputs.i18n import speaking
from handbook.outputs.note_names import concert_sign, sign
from handbook.outputs.search.entry import SearchEntry
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
    """A page before rendering: its template `kind`, its `view`, its place in the navigation."""

    path: str
    kind: str
    title: str
    description: str
    section: str
    view: object
    crumbs: tuple[Link, ...] = ()
    search: tuple[SearchEntry, ...] = field(default=(), repr=False)


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

    def say(self, text: Text | None) -> str:
        """Give the words of a text in the page's language; nothing for no text.

        Notes that it names in braces are told as they sound.
        """
        words, language = self._words(text)
        return self._naming(language, partial(in_concert_pitch, words)) if language else words

    def say_to(self, player: Instrument | None, key: ConcertKey | None, text: Text | None) -> str:
        """Give the words of a text with the notes in it as a player's part has them.

        `key` is the concert key of what it is about, which spells them.
        """
        words, language = self._words(text)
        if not language:
            return words
        return self._naming(language, lambda naming: as_read(words, naming, player, key))

    def _naming(self, language: str, tell: Callable[[Naming], str]) -> str:
        """Tell a text with its notes named as in its own language, which may not be the page's."""
        with speaking(language, notes=self.plan.program.names_notes(language)):
            return tell(_NAMING)

    def _words(self, text: Text | None) -> tuple[str, str]:
        """Give the words of a text, and their language if they hold braces."""
        if text is None:
            return "", ""
        code, words = text.version(self.language)
        return words, (code or self.plan.languages[0]) if "{" in words else ""

    def once(self, what: str, subject: object, make: Callable[[], MadeT]) -> MadeT:
        """Make what several pages show of a part of the plan, and give the same again later.

        `what` names it; it may depend on nothing but the subject, the plan and the language.
        """
        key = what, id(subject)
        if key not in self._made:  # the subject is kept beside, so that its id stays its own
            self._made[key] = subject, make()
        return cast("MadeT", self._made[key][1])

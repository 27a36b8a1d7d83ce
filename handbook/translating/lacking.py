"""The texts of the content that a language lacks, those that families need most first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import count

from handbook.checks.texts import lacks
from handbook.checks.traversal import items, texts
from handbook.domain.values.text import Text
from handbook.problems import Address
from handbook.records import dataclass
from handbook.schema.handbook import FreePage, Handbook
from handbook.source.source_map import Homes, home_of

_LATER = 99
# What a family has to know before it has to be somewhere; then whom to ask; then the music.
_FILES = ("concert", "events", "program", "years", "cycle", "music", "fundamentals")
_FIELDS = (
    *("cancelled", "moved", "told", "place", "address", "parking", "access"),
    *("attire", "attire_note", "bring", "bring_for", "pick_up_rules", "not_playing", "about"),
    *("rain", "travel", "hours", "role", "crew", "purpose", "goals", "notes"),
)


@dataclass(frozen=True, slots=True)
class LackingText:
    """A text that a language lacks: where it stands, and its words in the first language given.

    `has` are the languages it is given in, an empty code for the program's first one.
    """

    address: Address
    words: str
    has: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Lack:
    """What a language lacks: its texts, and of how many; free pages that have no version in it."""

    language: str
    lacking: tuple[LackingText, ...]
    texts: int
    pages: tuple[FreePage, ...]

    def by_file(self) -> Mapping[str, tuple[LackingText, ...]]:
        """Give the texts of each file, in the order of the files."""
        files: dict[str, list[LackingText]] = {}
        for text in self.lacking:
            files.setdefault(str(text.address[0]), []).append(text)
        return {file: tuple(files[file]) for file in sorted(files)}


def lack_of(handbook: Handbook, language: str, homes: Homes) -> Lack:
    """Find what a language lacks; what stands once for several files is one text."""
    languages = tuple(dict.fromkeys(handbook.program.item.languages))
    place = languages.index(language) if language in languages else len(languages)
    told: dict[Address, Text] = {}
    for file, item in items(handbook):
        for address, text in texts(item, (file,)):
            told.setdefault(home_of(address, homes), text)
    lacking = [
        LackingText(address, text.read(languages[0]), text.languages)
        for address, text in told.items()
        if lacks(text, address, language, place)
    ]
    number = count()
    lacking.sort(key=lambda one: (*_rank(one.address), next(number)))
    pages = tuple(_without_version(handbook.pages, languages, language)) if place else ()
    return Lack(language, tuple(lacking), len(told), pages)


def lacks_of(handbook: Handbook, homes: Homes) -> tuple[Lack, ...]:
    """Find what each language of the program lacks, without those that lack nothing."""
    found = (
        lack_of(handbook, language, homes)
        for language in dict.fromkeys(handbook.program.item.languages)
    )
    return tuple(lack for lack in found if lack.lacking or lack.pages)


def _rank(address: Address) -> tuple[int, int]:
    """Give how soon a family needs a text: by the kind of its file, then by its field."""
    file = str(address[0])
    kind = next((at for at, name in enumerate(_FILES) if name in file), _LATER)
    fields = [step for step in address[1:] if isinstance(step, str)]
    return kind, min((_FIELDS.index(one) for one in fields if one in _FIELDS), default=_LATER)


def _without_version(
    pages: Iterable[FreePage], languages: tuple[str, ...], language: str
) -> Iterator[FreePage]:
    """Give the pages of the first language that another has no version of, by their names."""
    known = list(pages)
    versions = {page.slug for page in known}
    for page in known:
        folder = page.slug.partition("/")[0] if "/" in page.slug else ""
        if folder not in languages and f"{language}/{page.slug}" not in versions:
            yield page

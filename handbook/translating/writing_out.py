"""Which texts are to be translated, in the order in which families need them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from handbook.problems import Address
from handbook.source.source_map import SourceMap
from handbook.translating.lacking import Lack
from handbook.translating.paragraphs import paragraphs
from handbook.translating.po_text import Wanted

_WHERE = (
    ("concert", "on the concert's page"),
    ("events", "on the page of events"),
    ("program", "about the program"),
    ("years", "in the calendar"),
    ("cycle", "about the weeks of the cycle"),
    ("music", "about the music"),
    ("fundamentals", "about fundamentals"),
)


def wanted_texts(lack: Lack, sources: SourceMap, pages: Mapping[str, str]) -> tuple[Wanted, ...]:
    """List what a language lacks: texts of the files, then pages by paragraphs.

    `pages` are the texts of free pages by the names of their files. Equal texts are one.
    """
    found: dict[str, Wanted] = {}
    for text in lack.lacking:
        at = sources.position(text.address)
        place = (str(text.address[0]), at.line if at else 1)
        _put(found, Wanted(text.words, (place,), _told(text.address)))
    for page in lack.pages:
        for one in paragraphs(pages.get(page.file, "")):
            told = f"on the page “{page.title}”"
            _put(found, Wanted(one.words, ((page.file, one.line),), told))
    return tuple(found.values())


def _put(found: dict[str, Wanted], one: Wanted) -> None:
    known = found.get(one.words)
    places = (*known.places, *one.places) if known else one.places
    found[one.words] = Wanted(one.words, places, known.told if known else one.told)


def _told(address: Address) -> str:
    """Say in plain words what a text is: the name of its field, and the page it stands on."""
    fields = list(_fields(address))
    where = next((told for name, told in _WHERE if name in str(address[0])), "")
    return f"{' > '.join(fields)} ({where})" if where else " > ".join(fields)


def _fields(address: Address) -> Iterator[str]:
    for step in address[1:]:
        if isinstance(step, str):
            yield step.replace("_", " ")

"""Names of instruments and of families of them, in the language of the moment."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS, Instrument
from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment
from handbook.outputs.i18n import pgettext

_BY_ITSELF, _AMONG_WORDS, _RUDIMENT = "instrument", "instrument among words", "rudiment"
_KNOWN = frozenset([*FAMILIES, *(row.id for row in INSTRUMENTS)])


def instrument_name(row: Instrument) -> str:
    """Name an instrument by itself, as a title does: `Alto saxophone`."""
    return pgettext(_BY_ITSELF, row.name)


def called(name: str) -> str:
    """Name an instrument or a family by its id, among words: `alto saxophone`, `low brass`.

    An id that no table has is written with spaces.
    """
    words = name.replace("-", " ")
    return pgettext(_AMONG_WORDS, words) if name in _KNOWN else words


def rudiment_name(rudiment: Rudiment) -> str:
    """Name a rudiment as its list does."""
    return pgettext(_RUDIMENT, rudiment.name)


def name_messages() -> Iterator[tuple[str, str]]:
    """Give each name of the tables with its context, for the catalogues."""
    for row in INSTRUMENTS:
        yield _BY_ITSELF, row.name
    for name in dict.fromkeys([*(row.id for row in INSTRUMENTS), *FAMILIES]):
        yield _AMONG_WORDS, name.replace("-", " ")
    for rudiment in RUDIMENTS:
        yield _RUDIMENT, rudiment.name

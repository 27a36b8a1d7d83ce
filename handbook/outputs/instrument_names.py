"""Names of instruments and of families of them, in the language of the moment."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS, Family, Instrument
from handbook.domain.tables.rudiments import RUDIMENTS, Rudiment
from handbook.domain.tables.sections import SECTIONS
from handbook.outputs.i18n import pgettext

_BY_ITSELF, _AMONG_WORDS, _RUDIMENT = "instrument", "instrument among words", "rudiment"
# Players of percussion are given single instruments, so files name those of a row by themselves.
_MEMBERS = [
    alias.replace(" ", "-")
    for row in INSTRUMENTS
    if row.family is Family.PERCUSSION
    for alias in row.aliases
]
_KNOWN = dict.fromkeys([*(row.id for row in INSTRUMENTS), *_MEMBERS, *FAMILIES, *SECTIONS])


def instrument_name(row: Instrument) -> str:
    """Name an instrument by itself, as a title does: `Alto saxophone`."""
    return pgettext(_BY_ITSELF, row.name)


def called(name: str) -> str:
    """Name an instrument or a family by its id, among words: `alto saxophone`, `low brass`.

    An id that no table has is written with spaces.
    """
    words = name.replace("-", " ")
    return pgettext(_AMONG_WORDS, words) if name in _KNOWN else words


def called_alone(name: str) -> str:
    """Name an instrument by its id, by itself: `Crash cymbals`."""
    words = name.replace("-", " ").capitalize()
    return pgettext(_BY_ITSELF, words) if name in _MEMBERS else words


def rudiment_name(rudiment: Rudiment) -> str:
    """Name a rudiment as its list does."""
    return pgettext(_RUDIMENT, rudiment.name)


def name_messages() -> Iterator[tuple[str, str]]:
    """Give each name of the tables with its context, for the catalogues."""
    for row in INSTRUMENTS:
        yield _BY_ITSELF, row.name
    for name in _MEMBERS:
        yield _BY_ITSELF, name.replace("-", " ").capitalize()
    for name in _KNOWN:
        yield _AMONG_WORDS, name.replace("-", " ")
    for rudiment in RUDIMENTS:
        yield _RUDIMENT, rudiment.name

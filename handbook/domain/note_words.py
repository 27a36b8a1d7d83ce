"""Notes named inside a sentence, written as `{Bb}` or `{F#4}`, for each who reads it.

A player reads the note of the part; a page for all names the note that sounds and says
that it is concert pitch. `concert {Bb}` (in Spanish `{Bb} real`) is the sounding note for
everyone. How a note is called is for the caller to say.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from handbook.domain.tables.instruments import Instrument
from handbook.domain.transposition import written_name, written_pitch
from handbook.domain.values.keys import ConcertKey
from handbook.domain.values.pitch import (
    ConcertPitch,
    NoteName,
    SpelledPitch,
    parse_concert_note,
)
from handbook.domain.values.unreadable import UnreadableError
from handbook.records import dataclass

Named = ConcertPitch | NoteName
Call = Callable[[SpelledPitch | NoteName], str]


@dataclass(frozen=True, slots=True)
class Naming:
    """What writes a note in a sentence: by itself, and with the word that it is concert pitch."""

    note: Call
    concert: Call


_BRACES = re.compile(
    r"(?P<concert>\bconcert\s+)?\{(?P<note>[^{}]*)(?P<end>\}?)(?P<real>\s+real\b)?", re.IGNORECASE
)
_BETWEEN = re.compile(r"\s*[,;/&]\s*|\s+(?:and|or|y|o)\s+")
_STARTS_SENTENCE = re.compile(r"(?:^|[.!?:]\s+|[¡¿“\"])$")


def unreadable_notes(words: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Give each text in braces that is no note, with its braces, and what would be read.

    That is nothing where no note is near, or several texts where several notes are meant.
    """
    for found in _BRACES.finditer(words):
        inside = found["note"]
        shown = f"{{{inside}{found['end']}"
        try:
            parse_concert_note(inside)
        except UnreadableError:
            yield shown, _notes_in(inside)
        else:
            if not found["end"]:
                yield shown, (f"{{{inside.strip()}}}",)


def names_notes(words: str) -> bool:
    """Whether a text has a note in braces."""
    return any(_is_note(found["note"]) for found in _BRACES.finditer(words))


def _is_note(inside: str) -> bool:
    try:
        parse_concert_note(inside)
    except UnreadableError:
        return False
    return True


def _notes_in(inside: str) -> tuple[str, ...]:
    """Give several notes each in braces of its own, if all of it is notes."""
    for parts in (_BETWEEN.split(inside), inside.split()):
        try:
            for part in parts:
                parse_concert_note(part)
        except UnreadableError:
            continue
        return tuple(f"{{{part.strip()}}}" for part in parts)
    return ()


def in_concert_pitch(words: str, naming: Naming) -> str:
    """Name the notes of a sentence as they sound, and say so."""
    return _replaced(words, naming, lambda note: note, concert=True)


def as_read(
    words: str, naming: Naming, instrument: Instrument | None, key: ConcertKey | None
) -> str:
    """Name the notes of a sentence as an instrument's part in a concert key has them.

    Without an instrument of definite pitch they are named as they sound.
    """
    if instrument is None or not instrument.pitched:
        return in_concert_pitch(words, naming)

    def read(note: Named) -> SpelledPitch | NoteName:
        if isinstance(note, NoteName):
            return written_name(note, instrument, key)
        return written_pitch(note, instrument, key)

    return _replaced(words, naming, read, concert=False)


def _replaced(
    words: str,
    naming: Naming,
    read: Callable[[Named], SpelledPitch | NoteName],
    *,
    concert: bool,
) -> str:
    """Put names in place of braces; those that hold no note stay, since a check tells of them."""

    def name(found: re.Match[str]) -> str:
        try:
            note = parse_concert_note(found["note"])
        except UnreadableError:
            return found[0]
        if found["concert"]:
            return f"{found['concert']}{naming.note(note)}"
        if found["real"]:
            named = f"{naming.note(note)}{found['real']}"
        else:
            named = naming.concert(note) if concert else naming.note(read(note))
        if _STARTS_SENTENCE.search(words[: found.start()]):
            named = named[:1].upper() + named[1:]
        return named

    return _BRACES.sub(name, words)

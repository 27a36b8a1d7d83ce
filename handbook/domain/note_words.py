"""Notes named inside a sentence, written as `{Bb}` or `{F#4}`, for each who reads it.

A player reads the note of the part; a page for all names the note that sounds and says
that it is concert pitch. `concert {Bb}` (in Spanish `{Bb} real`) is the sounding note for
everyone. Note names in Spanish are do re mi fa sol la si: common practice, no source.
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

Named = ConcertPitch | NoteName

_BRACES = re.compile(
    r"(?P<concert>\bconcert\s+)?\{(?P<note>[^{}]*)(?P<end>\}?)(?P<real>\s+real\b)?", re.IGNORECASE
)
_BETWEEN = re.compile(r"\s*[,;/&]\s*|\s+(?:and|or|y|o)\s+")
_STARTS_SENTENCE = re.compile(r"(?:^|[.!?:]\s+|[¡¿“\"])$")
_SPANISH = "es"
_DO_RE_MI = {
    "C": "do", "D": "re", "E": "mi", "F": "fa", "G": "sol", "A": "la", "B": "si",
}  # fmt: skip


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


def in_concert_pitch(words: str, language: str) -> str:
    """Name the notes of a sentence as they sound, and say so."""
    return _replaced(words, language, lambda note: note, concert=True)


def as_read(
    words: str, language: str, instrument: Instrument | None, key: ConcertKey | None
) -> str:
    """Name the notes of a sentence as an instrument's part in a concert key has them.

    Without an instrument of definite pitch they are named as they sound.
    """
    if instrument is None or not instrument.pitched:
        return in_concert_pitch(words, language)

    def read(note: Named) -> SpelledPitch | NoteName:
        if isinstance(note, NoteName):
            return written_name(note, instrument, key)
        return written_pitch(note, instrument, key)

    return _replaced(words, language, read, concert=False)


def _replaced(
    words: str,
    language: str,
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
        sounding = concert or bool(found["concert"] or found["real"])
        named = _named(note if sounding else read(note), language, sounding=sounding)
        if _STARTS_SENTENCE.search(words[: found.start()]):
            return named[:1].upper() + named[1:]
        return named

    return _BRACES.sub(name, words)


def _named(note: SpelledPitch | NoteName, language: str, *, sounding: bool) -> str:
    name, octave = (note, "") if isinstance(note, NoteName) else (note.name, str(note.octave))
    shown = f"{name}{octave}"
    if language.split("-", maxsplit=1)[0] == _SPANISH:
        shown = _DO_RE_MI[name.letter] + shown[1:]
        return f"{shown} real" if sounding else shown
    return f"concert {shown}" if sounding else shown

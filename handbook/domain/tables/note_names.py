"""How notes are named in words, by language.

Which system a language uses: English Wikipedia, "Key signature names and translations"; where
that gives it two, the one that needs no letter H. Haitian Creole, of a country whose schools
learned music in French, is common practice, no source. Names with H are those of German.
"""

from __future__ import annotations

from enum import StrEnum

from handbook.domain.values.pitch import NoteName


class NoteNames(StrEnum):
    """A system of names for notes."""

    LETTERS = "letters"
    DO_RE_MI = "do-re-mi"
    LETTERS_WITH_H = "letters-with-h"


_LANGUAGES = {
    NoteNames.DO_RE_MI: "it fr es pt ca oc br eu ru uk be bg lv lt ro el he ar fa vi ht nl-be",
    NoteNames.LETTERS_WITH_H: "de da sv no nb nn is fi et hr bs sl hu pl cs sk",
}
USUAL = {code: system for system, codes in _LANGUAGES.items() for code in codes.split()}
"""Language (lower case) to the system that is usual in it; all others use letters."""

SYLLABLES = {"C": "do", "D": "re", "E": "mi", "F": "fa", "G": "sol", "A": "la", "B": "si"}


def usual_note_names(language: str) -> NoteNames:
    """Give the system of a language by its BCP 47 code: letters, if nothing is known of it."""
    code = language.lower()
    return USUAL.get(code) or USUAL.get(code.partition("-")[0], NoteNames.LETTERS)


def with_h(note: NoteName) -> str:
    """Name a note with H for B: `H`, `B` for B♭, `Fis`, `Es`, `As`, `Heses`."""
    if note.letter == "B":
        return "B" if note.alter == -1 else "H" + _ending(note.alter)
    if note.letter in "EA" and note.alter < 0:  # the vowel of the ending is left out once
        return note.letter + _ending(note.alter)[1:]
    return note.letter + _ending(note.alter)


def _ending(alter: int) -> str:
    return ("is" if alter > 0 else "es") * abs(alter)

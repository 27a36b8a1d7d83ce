"""Names of notes in German and Italian, compared with music21's; which language has which."""

from __future__ import annotations

import pytest
from music21 import pitch

from handbook.domain.tables.note_names import SYLLABLES, NoteNames, usual_note_names, with_h
from handbook.domain.values.pitch import LETTERS, NoteName

ALTERS = {-3: "---", -2: "--", -1: "-", 0: "", 1: "#", 2: "##", 3: "###"}


@pytest.mark.parametrize("letter", LETTERS)
@pytest.mark.parametrize("alter", ALTERS)
def test_names_with_h_are_those_of_music21(letter: str, alter: int) -> None:
    assert with_h(NoteName(letter, alter)) == pitch.Pitch(letter + ALTERS[alter]).german


@pytest.mark.parametrize("letter", LETTERS)
def test_syllables_are_those_of_music21(letter: str) -> None:
    assert SYLLABLES[letter] == pitch.Pitch(letter).italian


@pytest.mark.parametrize(
    ("languages", "names"),
    [
        # English Wikipedia, "Key signature names and translations", its lists of languages.
        ("en zh-Hans zh-Hant ja ko hi th id fil sw cy", NoteNames.LETTERS),
        ("it fr es es-MX pt-BR ca ru uk ro el he ar fa vi nl-BE", NoteNames.DO_RE_MI),
        ("de de-AT da sv nb fi et hr hu pl cs sk", NoteNames.LETTERS_WITH_H),
        # Common practice, no source.
        ("ht", NoteNames.DO_RE_MI),
        # Of no known use.
        ("xx so", NoteNames.LETTERS),
    ],
)
def test_what_is_usual_in_a_language(languages: str, names: NoteNames) -> None:
    assert {usual_note_names(one) for one in languages.split()} == {names}

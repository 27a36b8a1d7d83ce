"""Where notes stand, and that none is lost; the texts are written for these tests."""

from __future__ import annotations

import pytest

from handbook.source.private_notes import PrivateNote, private_notes
from handbook.source.source_map import SourceFile, SourceMap
from handbook.source.yaml_reader import read_yaml

FILE = "cycles/winter/music.yaml"


def notes_of(text: str) -> tuple[PrivateNote, ...]:
    read = read_yaml(FILE, text.encode())
    assert not read.problems, read.problems
    return private_notes(SourceMap({FILE: SourceFile(read.lines, read.root)})).notes


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("private: one", ("one",)),
        ("private: |\n  one\n\n  two\n", ("one", "two")),
        ("private: >-\n  one\n  and more\n", ("one and more",)),
        ("private: [one, two]", ("one", "two")),
        ("private: {en: one, es: uno}", ("en: one", "es: uno")),
        ("private: {buy: [reeds, oil], when: Monday}", ("buy:", "reeds", "oil", "when: Monday")),
        ("private: [{note: one}, two]", ("note: one", "two")),
        ("private: {private: one}", ("private: one",)),
    ],
)
def test_every_shape_becomes_lines(text: str, lines: tuple[str, ...]) -> None:
    (note,) = notes_of(text)
    assert (note.address, note.lines) == ((FILE,), lines)


@pytest.mark.parametrize("text", ["name: x", "private:", "private: ''", "private: []"])
def test_what_says_nothing_is_no_note(text: str) -> None:
    assert notes_of(text) == ()


MUSIC = """\
private: of the file
pieces:
  - id: boats
    title: {en: "Puddle Boat Waltz", es: "Barcos"}
    private: of the piece
    passages:
      - id: rowing
        watch: [{text: Breathe, private: of the point}]
        private: of the passage
words:
  tutti: {en: All, private: of the word}
"""


def test_a_note_is_known_by_the_entry_that_holds_it() -> None:
    found = {note.text: (note.address[1:], note.line, note.place) for note in notes_of(MUSIC)}
    boats = ("pieces", "Puddle Boat Waltz")
    assert found == {
        "of the file": ((), 1, ()),
        "of the piece": (("pieces", 0), 5, boats),
        "of the point": (
            ("pieces", 0, "passages", 0, "watch", 0),
            8,
            (*boats, "passages", "rowing", "watch", "Breathe"),
        ),
        "of the passage": (("pieces", 0, "passages", 0), 9, (*boats, "passages", "rowing")),
        "of the word": (("words", "tutti"), 11, ("words", "tutti")),
    }


def test_notes_are_asked_for_by_address() -> None:
    read = read_yaml(FILE, MUSIC.encode())
    notes = private_notes(SourceMap({FILE: SourceFile(read.lines, read.root)}))
    piece = (FILE, "pieces", 0)
    assert [note.text for note in notes.at(piece)] == ["of the piece"]
    assert [note.text for note in notes.within(piece)] == [
        "of the piece",
        "of the point",
        "of the passage",
    ]
    assert notes.at((FILE, "pieces", 1)) == ()

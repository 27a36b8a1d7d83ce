"""The circle of fifths, against music21 10.5.1."""

from __future__ import annotations

import pytest
from music21 import key as m21_key

from handbook.domain.circle_of_fifths import (
    in_key,
    signature,
    signature_text,
    sounding_alike,
    written_round,
)
from handbook.domain.values.keys import Mode, WrittenKey
from handbook.domain.values.pitch import parse_note_name
from tests.oracles.keys import parse_written_key

# Common practice, no source; music21 agrees below.
MAJORS = ["Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"]
MINORS = ["Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "D#", "A#"]


@pytest.mark.parametrize(
    ("fifths", "major", "minor"), list(zip(range(-7, 8), MAJORS, MINORS, strict=True))
)
def test_circle(fifths: int, major: str, minor: str) -> None:
    assert WrittenKey.from_fifths(fifths) == parse_written_key(f"{major} major")
    assert WrittenKey.from_fifths(fifths, Mode.MINOR) == parse_written_key(f"{minor} minor")
    oracle = m21_key.KeySignature(fifths)
    for mode, tonic in (("major", major), ("minor", minor)):
        assert oracle.asKey(mode).tonic.name == tonic.replace("b", "-")


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_signature_is_written_in_order(fifths: int) -> None:
    notes = [note.typed for note in signature(WrittenKey.from_fifths(fifths))]
    assert notes == [
        pitch.name.replace("-", "b") for pitch in m21_key.KeySignature(fifths).alteredPitches
    ]
    order = "FCGDAEB" if fifths > 0 else "BEADGCF"
    assert "".join(note[0] for note in notes) == order[: abs(fifths)]


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("C major", "no sharps or flats"),
        ("G major", "1 sharp: F♯"),
        ("D minor", "1 flat: B♭"),
        ("Bb major", "2 flats: B♭, E♭"),
        ("A dorian", "1 sharp: F♯"),
    ],
)
def test_signature_in_words(key: str, text: str) -> None:
    assert signature_text(parse_written_key(key)) == text


@pytest.mark.parametrize(
    ("letter", "key", "note"),
    [
        ("B", "F major", "Bb"),
        ("E", "F major", "E"),
        ("F", "E minor", "F#"),
        ("C", "Cb major", "Cb"),
    ],
)
def test_letter_under_the_signature(letter: str, key: str, note: str) -> None:
    assert in_key(letter, parse_written_key(key)) == parse_note_name(note)


# Common practice, no source: a signature holds seven accidentals.
@pytest.mark.parametrize(
    ("reckoned", "written"),
    [(8, -4), (9, -3), (10, -2), (-8, 4), (-9, 3), (-10, 2), (7, 7), (-7, -7), (6, 6), (-6, -6)],
)
def test_signature_past_seven_comes_round(reckoned: int, written: int) -> None:
    assert written_round(reckoned) == written


@pytest.mark.parametrize(
    ("key", "other"),
    [
        ("C# major", "Db major"),
        ("Db major", "C# major"),
        ("Gb major", "F# major"),
        ("F# major", "Gb major"),
        ("B major", "Cb major"),
        ("Bb minor", "A# minor"),
        ("E major", None),
        ("C major", None),
    ],
)
def test_keys_that_sound_alike(key: str, other: str | None) -> None:
    found = sounding_alike(parse_written_key(key))
    assert found == (parse_written_key(other) if other else None)

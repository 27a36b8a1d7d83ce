"""Concert to written and back, against published teaching charts and music21 10.5.1."""

from __future__ import annotations

import importlib
from typing import Any

import pytest

from handbook.domain.tables.instruments import instrument
from handbook.domain.transposition import concert_pitch, written_key, written_name, written_pitch
from handbook.domain.values.keys import parse_concert_key
from handbook.domain.values.pitch import parse_concert_pitch, parse_note_name, parse_written_pitch
from tests.oracles.keys import parse_written_key
from tests.oracles.transposition import concert_key

m21: Any = importlib.import_module("music21")  # its own hints are partial

# The key each instrument reads for concert B flat major: two teaching charts a row.
READS_FOR_CONCERT_B_FLAT = [
    ("flute", "Bb"),
    ("oboe", "Bb"),
    ("bassoon", "Bb"),
    ("piccolo", "Bb"),
    ("e-flat-clarinet", "G"),
    ("clarinet", "C"),
    ("soprano-saxophone", "C"),
    ("alto-clarinet", "G"),
    ("bass-clarinet", "C"),
    ("alto-saxophone", "G"),
    ("tenor-saxophone", "C"),
    ("baritone-saxophone", "G"),
    ("trumpet", "C"),
    ("cornet", "C"),
    ("horn", "F"),
    ("english-horn", "F"),
    ("trombone", "Bb"),
    ("euphonium", "Bb"),
    ("tuba", "Bb"),
    ("euphonium-treble-clef", "C"),
    ("contrabassoon", "Bb"),
    ("string-bass", "Bb"),
    ("glockenspiel", "Bb"),
    ("xylophone", "Bb"),
    ("celesta", "Bb"),
    ("vibraphone", "Bb"),
    ("marimba", "Bb"),
    ("chimes", "Bb"),
    ("timpani", "Bb"),
]


@pytest.mark.parametrize(("name", "tonic"), READS_FOR_CONCERT_B_FLAT)
def test_key_read_for_concert_b_flat_major(name: str, tonic: str) -> None:
    key = parse_concert_key("Bb major")
    assert written_key(key, instrument(name)) == parse_written_key(f"{tonic} major")


# Key rule, common practice, no source: B flat instruments add 2 fifths, F 1, E flat 3, C 0.
@pytest.mark.parametrize(
    ("concert", "name", "written"),
    [
        ("Eb major", "trumpet", "F major"),
        ("Eb major", "alto-saxophone", "C major"),
        ("Eb major", "horn", "Bb major"),
        ("F major", "clarinet", "G major"),
        ("F major", "baritone-saxophone", "D major"),
        ("Ab major", "tenor-saxophone", "Bb major"),
        ("G minor", "clarinet", "A minor"),
        ("G minor", "alto-saxophone", "E minor"),
        ("C minor", "horn", "G minor"),
        ("D dorian", "trumpet", "E dorian"),
        ("F lydian", "alto-saxophone", "D lydian"),
        ("B major", "alto-saxophone", "Ab major"),  # 8 sharps wrap to 4 flats
        ("F# major", "trumpet", "Ab major"),  # 8 sharps
        ("C# major", "alto-saxophone", "Bb major"),  # 10 sharps
        ("C# major", "horn", "Ab major"),  # 8 sharps
        ("E major", "trumpet", "F# major"),  # six sharps stay
        ("Gb major", "flute", "Gb major"),  # six flats stay
        ("E major", "alto-saxophone", "C# major"),  # seven stay
        ("A# minor", "clarinet", "C minor"),  # 9 sharps
    ],
)
def test_written_key(concert: str, name: str, written: str) -> None:
    assert written_key(parse_concert_key(concert), instrument(name)) == parse_written_key(written)


@pytest.mark.parametrize(
    ("written", "name", "concert"),
    [
        ("C major", "trumpet", "Bb major"),
        ("G major", "alto-saxophone", "Bb major"),
        ("Cb major", "trumpet", "A major"),  # 9 flats wrap to 3 sharps
        ("E minor", "baritone-saxophone", "G minor"),
    ],
)
def test_concert_key(written: str, name: str, concert: str) -> None:
    assert concert_key(parse_written_key(written), instrument(name)) == parse_concert_key(concert)


@pytest.mark.parametrize(
    ("concert", "name", "written"),
    [
        ("Bb4", "trumpet", "C5"),
        ("Bb3", "tenor-saxophone", "C5"),
        ("Eb3", "baritone-saxophone", "C5"),
        ("F4", "horn", "C5"),
        ("Ab4", "clarinet", "Bb4"),
        ("Ab4", "alto-saxophone", "F5"),
        ("F#4", "clarinet", "G#4"),  # not A flat: letters are counted
        ("Gb4", "clarinet", "Ab4"),
        ("E4", "alto-saxophone", "C#5"),
        ("Bb1", "string-bass", "Bb2"),
        ("Bb6", "glockenspiel", "Bb4"),
        ("B#3", "flute", "B#3"),
        ("Cb5", "trumpet", "Db5"),
    ],
)
def test_written_pitch(concert: str, name: str, written: str) -> None:
    found = written_pitch(parse_concert_pitch(concert), instrument(name))
    assert found == parse_written_pitch(written)
    assert concert_pitch(found, instrument(name)) == parse_concert_pitch(concert)


def test_tenor_saxophone_sounds_a_major_ninth_lower() -> None:
    """Named trap: one arranging textbook prints a minor ninth; two charts and music21 do not."""
    tenor = instrument("tenor-saxophone")
    assert concert_pitch(parse_written_pitch("C5"), tenor) == parse_concert_pitch("Bb3")
    library = m21.pitch.Pitch("C5").transpose(m21.instrument.TenorSaxophone().transposition)
    assert library.nameWithOctave == "B-3"


# Concert B major is five sharps; an alto saxophone would read eight and so reads A flat.
@pytest.mark.parametrize(
    ("concert", "key", "name", "written"),
    [
        ("B4", "B major", "alto-saxophone", "Ab5"),
        ("D#4", "B major", "alto-saxophone", "C5"),
        ("A#4", "B major", "alto-saxophone", "G5"),
        ("E4", "B major", "alto-saxophone", "Db5"),
        ("F#4", "F# major", "trumpet", "Ab4"),
        ("A#4", "F# major", "trumpet", "C5"),
        ("Cb5", "Cb major", "alto-flute", "E5"),  # 8 flats wrap to 4 sharps
        ("Gb4", "Cb major", "alto-flute", "B4"),
        ("F4", "Bb major", "trumpet", "G4"),  # nothing wraps, nothing moves
        ("Cb4", "Gb major", "flute", "Cb4"),
    ],
)
def test_notes_move_with_a_key_that_comes_round(
    concert: str, key: str, name: str, written: str
) -> None:
    row, sounding = instrument(name), parse_concert_key(key)
    found = written_pitch(parse_concert_pitch(concert), row, sounding)
    assert found == parse_written_pitch(written)
    assert concert_pitch(found, row, sounding) == parse_concert_pitch(concert)


def test_note_of_no_particular_octave() -> None:
    assert written_name(parse_note_name("Eb"), instrument("horn")) == parse_note_name("Bb")
    b_major = parse_concert_key("B major")
    alto = instrument("alto-saxophone")
    assert written_name(parse_note_name("D#"), alto, b_major) == parse_note_name("C")


def test_whole_part_agrees_with_music21() -> None:
    """Written A4 in three sharps for alto saxophone sounds C4 in no sharps or flats."""
    part = m21.stream.Part()
    part.atSoundingPitch = False
    part.append([m21.instrument.AltoSaxophone(), m21.key.KeySignature(3), m21.note.Note("A4")])
    sounding = part.toSoundingPitch()
    alto = instrument("alto-saxophone")
    heard = concert_pitch(parse_written_pitch("A4"), alto)
    assert str(heard) == sounding.notes[0].pitch.nameWithOctave == "C4"
    key = concert_key(parse_written_key("A major"), alto)
    assert key.fifths == sounding.keySignature.sharps == 0


def test_unpitched_percussion_reads_no_key() -> None:
    with pytest.raises(ValueError, match="snare drum has no definite pitch"):
        written_key(parse_concert_key("C major"), instrument("snare-drum"))
    with pytest.raises(ValueError, match="cymbals has no definite pitch"):
        written_pitch(parse_concert_pitch("C4"), instrument("cymbals"))

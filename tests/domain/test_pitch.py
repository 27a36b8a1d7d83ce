"""Spelled pitches, against MIDI note numbers and music21 10.5.1."""

from __future__ import annotations

import pytest
from music21 import interval as m21_interval
from music21 import pitch as m21_pitch

from handbook.domain.values.pitch import (
    ConcertPitch,
    Interval,
    NoteName,
    SpelledPitch,
    WrittenPitch,
    parse_concert_pitch,
    parse_note_name,
    parse_written_pitch,
)
from handbook.domain.values.unreadable import UnreadableError


def music21_name(pitch: SpelledPitch) -> str:
    """The library writes flats as hyphens: a fact about the library."""
    return pitch.name.typed.replace("b", "-") + str(pitch.octave)


@pytest.mark.parametrize(
    ("text", "shown", "spoken"),
    [
        ("Bb4", "B♭4", "B flat 4"),
        ("B♭4", "B♭4", "B flat 4"),
        ("B-flat 4", "B♭4", "B flat 4"),
        ("b flat 4", "B♭4", "B flat 4"),
        ("B\N{NO-BREAK SPACE}flat 4", "B♭4", "B flat 4"),
        ("bb4", "B♭4", "B flat 4"),
        ("b4", "B4", "B 4"),
        ("F#3", "F♯3", "F sharp 3"),
        ("F sharp 3", "F♯3", "F sharp 3"),
        ("Bbb3", "B𝄫3", "B double flat 3"),
        ("Fx5", "F𝄪5", "F double sharp 5"),
        ("E natural 4", "E4", "E 4"),
        ("a4", "A4", "A 4"),
    ],
)
def test_pitch_is_read_as_players_type_it(text: str, shown: str, spoken: str) -> None:
    pitch = parse_concert_pitch(text)
    assert (str(pitch), pitch.spoken) == (shown, spoken)


@pytest.mark.parametrize(
    ("text", "message", "suggestion"),
    [
        ("Bb", "`Bb` names no octave (middle C is C4)", "Bb4"),
        ("H4", "`H4` is no note", "B4"),
        ("", "`` is no note", "Bb4"),
        ("Q4", "`Q4` is no note", "Bb4"),
        ("C44", "octave 44 is outside 0 to 9 (middle C is C4)", "C4"),
        ("B-4", "octave -4 is outside 0 to 9 (middle C is C4)", "B4"),
        ("C#b4", "`C#b4` is no note", "Bb4"),
        ("Bb4 major", "`Bb4 major` is no note", "Bb4"),
    ],
)
def test_no_pitch_is_refused_with_a_spelling_that_works(
    text: str, message: str, suggestion: str
) -> None:
    with pytest.raises(UnreadableError) as refused:
        parse_written_pitch(text)
    assert refused.value.message == message
    assert refused.value.suggestions[0] == suggestion
    assert all(parse_written_pitch(offered) for offered in refused.value.suggestions)


def test_note_name_takes_no_octave() -> None:
    assert parse_note_name("E-flat") == NoteName("E", -1)
    with pytest.raises(UnreadableError, match="carries an octave"):
        parse_note_name("Eb4")


# MIDI 1.0: middle C is note 60; A 440 Hz is note 69.
@pytest.mark.parametrize(
    ("text", "midi"),
    [("C4", 60), ("A4", 69), ("Bb4", 70), ("B#3", 60), ("Cb4", 59), ("A0", 21), ("C8", 108)],
)
def test_height_is_the_midi_note_number(text: str, midi: int) -> None:
    assert parse_concert_pitch(text).midi == midi


@pytest.mark.parametrize(
    ("start", "interval", "end"),
    [
        ("C4", ("M2", 1, 2), "D4"),
        ("B4", ("M2", 1, 2), "C#5"),
        ("E4", ("m3", 2, 3), "G4"),
        ("Eb4", ("m3", 2, 3), "Gb4"),
        ("C5", ("M6", 5, 9), "A5"),
        ("F#3", ("A4", 3, 6), "B#3"),
        ("B3", ("d5", 4, 6), "F4"),
        ("C5", ("d2", 1, 0), "Dbb5"),
    ],
)
def test_interval_keeps_the_spelling(start: str, interval: tuple[str, int, int], end: str) -> None:
    name, steps, semitones = interval
    moved = parse_concert_pitch(start).shifted(Interval(steps, semitones))
    assert moved == parse_concert_pitch(end)
    oracle = m21_pitch.Pitch(music21_name(parse_concert_pitch(start))).transpose(
        m21_interval.Interval(name)
    )
    assert music21_name(moved) == oracle.nameWithOctave
    assert moved.shifted(-Interval(steps, semitones)) == parse_concert_pitch(start)


# The line of fifths: common practice, no source.
@pytest.mark.parametrize(
    ("fifths", "name"),
    list(
        zip(
            range(-8, 9),
            [
                "Fb",
                "Cb",
                "Gb",
                "Db",
                "Ab",
                "Eb",
                "Bb",
                "F",
                "C",
                "G",
                "D",
                "A",
                "E",
                "B",
                "F#",
                "C#",
                "G#",
            ],
            strict=True,
        )
    ),
)
def test_line_of_fifths(fifths: int, name: str) -> None:
    assert parse_note_name(name).fifths == fifths
    assert NoteName.from_fifths(fifths) == parse_note_name(name)


@pytest.mark.parametrize(
    ("steps", "semitones", "fifths"), [(1, 2, 2), (2, 3, -3), (4, 7, 1), (5, 9, 3), (7, 12, 0)]
)
def test_interval_moves_round_the_circle(steps: int, semitones: int, fifths: int) -> None:
    assert Interval(steps, semitones).fifths == fifths
    assert (-Interval(steps, semitones)).fifths == -fifths


def test_sounding_and_written_are_never_equal() -> None:
    concert: SpelledPitch = parse_concert_pitch("C4")
    assert concert != parse_written_pitch("C4")
    assert isinstance(concert.shifted(Interval(1, 2)), ConcertPitch)
    assert isinstance(parse_written_pitch("C4").shifted(Interval(1, 2)), WrittenPitch)


@pytest.mark.parametrize(("letter", "alter"), [("H", 0), ("CD", 0), ("", 0), ("C", 4), ("C", -4)])
def test_note_that_nobody_could_write_is_our_own_bug(letter: str, alter: int) -> None:
    with pytest.raises(ValueError, match=r"no letter|cannot be written"):
        NoteName(letter, alter)

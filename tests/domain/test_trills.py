"""The upper note of a trill, against music21 10.5.1 in all keys.

Its `Trill` takes the next note above that the key signature gives.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import expressions, key, note

from handbook.domain.trills import next_in_key, step_up, steps_from
from handbook.domain.values.keys import ConcertKey
from handbook.domain.values.pitch import LETTERS, Interval, NoteName, parse_note_name


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_the_upper_note_is_the_next_in_the_key_as_in_music21(fifths: int) -> None:
    signature = key.KeySignature(fifths)
    for letter in LETTERS:
        own = signature.accidentalByStep(letter)  # type: ignore[arg-type]
        lower = NoteName(letter, int(own.alter) if own else 0)
        printed = note.Note(lower.typed.replace("b", "-") + "4")
        trill = expressions.Trill()
        trill.resolveOrnamentalPitches(printed, keySig=signature)
        (upper,) = trill.ornamentalPitches
        ours = next_in_key(lower, ConcertKey.from_fifths(fifths))
        assert ours.typed.replace("b", "-") == upper.name
        step = step_up(lower, ours)
        assert step is not None
        assert step.semitones == upper.midi - printed.pitch.midi


@pytest.mark.parametrize(
    ("lower", "upper", "semitones"),
    [("Bb", "C", 2), ("B", "C", 1), ("E", "F#", 2), ("G", "Ab", 1), ("F#", "G#", 2)],
)
def test_a_step_is_a_half_or_a_whole_step_to_the_next_letter(
    lower: str, upper: str, semitones: int
) -> None:
    # Common practice, no source.
    assert step_up(parse_note_name(lower), parse_note_name(upper)) == Interval(1, semitones)


@pytest.mark.parametrize(
    ("lower", "upper"),
    [("Bb", "D"), ("Bb", "Bb"), ("Ab", "B"), ("D#", "Eb"), ("C", "B"), ("C", "C#"), ("B#", "C")],
)
def test_all_else_is_no_step(lower: str, upper: str) -> None:
    # Common practice, no source: a third, the same note, an augmented second, one sound with
    # two names, a note below, a chromatic half step, one sound again.
    assert step_up(parse_note_name(lower), parse_note_name(upper)) is None


@given(st.builds(NoteName, st.sampled_from(LETTERS), st.integers(-2, 2)))
def test_what_is_offered_is_a_step(lower: NoteName) -> None:
    for upper in steps_from(lower):
        assert step_up(lower, upper)
    assert abs(lower.alter) == 2 or len(steps_from(lower)) == 2

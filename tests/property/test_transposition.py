"""Laws of transposition, keys and scales."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.circle_of_fifths import written_round
from handbook.domain.scales import ScaleForm, scale
from handbook.domain.tables.instruments import INSTRUMENTS, Instrument
from handbook.domain.transposition import concert_pitch, written_key, written_pitch
from handbook.domain.trills import next_in_key, step_up
from handbook.domain.values.keys import ConcertKey, Mode, parse_concert_key
from handbook.domain.values.pitch import (
    LETTERS,
    ConcertPitch,
    NoteName,
    parse_concert_pitch,
    parse_note_name,
)
from tests.oracles.scales import scale_names
from tests.oracles.transposition import concert_key

names = st.builds(NoteName, st.sampled_from(LETTERS), st.integers(-2, 2))
pitches = st.builds(ConcertPitch, names, st.integers(1, 8))
keys = st.builds(ConcertKey.from_fifths, st.integers(-7, 7), st.sampled_from(list(Mode)))
pitched = st.sampled_from([row for row in INSTRUMENTS if row.pitched])
in_scales = st.sampled_from([row for row in INSTRUMENTS if row.pitched and row.scales])


@given(pitches, pitched)
def test_there_and_back_is_the_same_note(pitch: ConcertPitch, row: Instrument) -> None:
    assert concert_pitch(written_pitch(pitch, row), row) == pitch


@given(keys, pitched, st.integers(0, 6), st.integers(1, 8))
def test_there_and_back_in_a_key(
    key: ConcertKey, row: Instrument, degree: int, octave: int
) -> None:
    pitch = ConcertPitch(scale_names(key)[degree], octave)
    written = written_pitch(pitch, row, key)
    assert concert_pitch(written, row, key) == pitch
    assert written.midi + row.sounds.semitones == pitch.midi


@given(keys, pitched, st.integers(0, 6), st.integers(1, 8))
def test_a_trill_of_the_key_is_one_of_the_written_key(
    key: ConcertKey, row: Instrument, degree: int, octave: int
) -> None:
    printed = ConcertPitch(scale_names(key)[degree], octave)
    step = step_up(printed.name, next_in_key(printed.name, key))
    assert step is not None
    written = written_pitch(printed, row, key)
    assert written.shifted(step).name == next_in_key(written.name, written_key(key, row))


@given(keys, pitched)
def test_written_key_is_reached_round_the_circle(key: ConcertKey, row: Instrument) -> None:
    written = written_key(key, row)
    assert written.mode is key.mode
    assert written.fifths == written_round(key.fifths + (-row.sounds).fifths)
    sounding = (written.tonic.pitch_class + row.sounds.semitones) % 12
    assert sounding == key.tonic.pitch_class


@given(keys, pitched)
def test_concert_key_comes_back_unless_it_had_to_come_round(
    key: ConcertKey, row: Instrument
) -> None:
    back = concert_key(written_key(key, row), row)
    assert (back.tonic.pitch_class, back.mode) == (key.tonic.pitch_class, key.mode)
    if abs(key.fifths - row.sounds.fifths) <= 7:
        assert back == key


@given(keys, pitched)
def test_notes_of_a_key_are_written_as_notes_of_the_written_key(
    key: ConcertKey, row: Instrument
) -> None:
    written = tuple(
        written_pitch(ConcertPitch(name, 4), row, key).name for name in scale_names(key)
    )
    assert written == scale_names(written_key(key, row))


@given(
    keys, in_scales, st.integers(1, 2), st.sampled_from([ScaleForm.OF_THE_KEY, ScaleForm.CHROMATIC])
)
def test_scales_climb_from_tonic_to_tonic(
    key: ConcertKey, row: Instrument, octaves: int, form: ScaleForm
) -> None:
    found = scale(key, row, form, octaves)
    heights = [note.midi for note in found.up]
    assert heights == sorted(set(heights))
    # To the tonic, or to the fifth (the locrian one is a semitone less) where no octave fits.
    assert heights[-1] - heights[0] in ({12 * octaves} if found.whole else {6, 7})
    assert found.up[0].name == found.key.tonic
    assert (found.up[-1].name == found.key.tonic) == found.whole
    assert (found.down[0], found.down[-1]) == (found.up[-1], found.up[0])


@given(names)
def test_typed_name_is_read_back(name: NoteName) -> None:
    assert parse_note_name(name.typed) == parse_note_name(str(name)) == name
    assert NoteName.from_fifths(name.fifths) == name


@given(pitches, keys)
def test_shown_and_spoken_are_read_back(pitch: ConcertPitch, key: ConcertKey) -> None:
    assert parse_concert_pitch(str(pitch)) == parse_concert_pitch(pitch.spoken) == pitch
    assert parse_concert_key(str(key)) == parse_concert_key(key.spoken) == key

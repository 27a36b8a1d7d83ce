"""Frequencies, cents, just intervals and beats."""

from __future__ import annotations

import importlib
from fractions import Fraction
from typing import Any

import pytest

from handbook.domain.tables.instruments import instrument
from handbook.domain.tables.just_intervals import CHORDS, JUST_INTERVALS
from handbook.domain.tuning import (
    beats,
    cents,
    chord_tuning,
    drone,
    frequency,
    just_offset,
    ratio_cents,
    shown_cents,
    tuning_note,
)
from handbook.domain.values.pitch import (
    ConcertPitch,
    parse_concert_pitch,
    parse_note_name,
    parse_written_pitch,
)

m21: Any = importlib.import_module("music21")  # its own hints are partial

NAMES = ["C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"]
# Hertz to three places by f = 440 x 2^((m - 69) / 12), A at 440 Hz by ISO 16:1975.
EQUAL_TEMPERED = {
    2: [
        65.406,
        69.296,
        73.416,
        77.782,
        82.407,
        87.307,
        92.499,
        97.999,
        103.826,
        110.0,
        116.541,
        123.471,
    ],
    3: [
        130.813,
        138.591,
        146.832,
        155.563,
        164.814,
        174.614,
        184.997,
        195.998,
        207.652,
        220.0,
        233.082,
        246.942,
    ],
    4: [
        261.626,
        277.183,
        293.665,
        311.127,
        329.628,
        349.228,
        369.994,
        391.995,
        415.305,
        440.0,
        466.164,
        493.883,
    ],
    5: [
        523.251,
        554.365,
        587.330,
        622.254,
        659.255,
        698.456,
        739.989,
        783.991,
        830.609,
        880.0,
        932.328,
        987.767,
    ],
}


@pytest.mark.parametrize(
    ("octave", "name", "hertz"),
    [
        (octave, name, hertz)
        for octave, row in EQUAL_TEMPERED.items()
        for name, hertz in zip(NAMES, row, strict=True)
    ],
)
def test_equal_temperament_from_iso_16(octave: int, name: str, hertz: float) -> None:
    pitch = ConcertPitch(parse_note_name(name), octave)
    assert frequency(pitch) == pytest.approx(hertz, abs=0.001)
    library = m21.pitch.Pitch(f"{name.replace('b', '-')}{octave}").frequency
    assert frequency(pitch) == pytest.approx(library, abs=1e-9)


@pytest.mark.parametrize(("pitch", "hertz"), [("Bb4", 466.16376), ("C4", 261.62557)])
def test_frequency_to_five_places(pitch: str, hertz: float) -> None:
    assert frequency(parse_concert_pitch(pitch)) == pytest.approx(hertz, abs=5e-6)


@pytest.mark.parametrize(
    ("a4", "pitch", "hertz"), [(442.0, "A4", 442.0), (442.0, "A2", 110.5), (440.0, "Bb3", 233.0819)]
)
def test_drone_follows_the_program_pitch(a4: float, pitch: str, hertz: float) -> None:
    note = parse_concert_pitch(pitch)
    assert drone(note.name, a4, note.octave) == pytest.approx(hertz, abs=1e-4)


def test_drone_sounds_below_middle_c_unless_told() -> None:
    assert drone(parse_note_name("Bb")) == frequency(parse_concert_pitch("Bb3"))


# ISO 16:1975 sets 440 Hz; cents = 1200 log2(f2 / f1).
@pytest.mark.parametrize(
    ("hertz", "off"), [(441, 3.93), (442, 7.85), (444, 15.67), (415, -101.27), (440, 0.0)]
)
def test_other_pitches_against_440(hertz: float, off: float) -> None:
    assert cents(440, hertz) == pytest.approx(off, abs=0.005)


# id, ratio, cents and deviation from equal temperament to 0.01 cent, by 1200 log2(ratio).
JUST = [
    ("minor-second", "16:15", 111.73, 11.73),
    ("major-second", "9:8", 203.91, 3.91),
    ("major-second-small", "10:9", 182.40, -17.60),
    ("minor-third", "6:5", 315.64, 15.64),
    ("major-third", "5:4", 386.31, -13.69),
    ("fourth", "4:3", 498.04, -1.96),
    ("tritone", "7:5", 582.51, -17.49),
    ("tritone-wide", "45:32", 590.22, -9.78),
    ("fifth", "3:2", 701.96, 1.96),
    ("minor-sixth", "8:5", 813.69, 13.69),
    ("major-sixth", "5:3", 884.36, -15.64),
    ("harmonic-seventh", "7:4", 968.83, -31.17),
    ("minor-seventh", "16:9", 996.09, -3.91),
    ("minor-seventh-wide", "9:5", 1017.60, 17.60),
    ("major-seventh", "15:8", 1088.27, -11.73),
    ("octave", "2:1", 1200.00, 0.0),
    ("major-third-pythagorean", "81:64", 407.82, 7.82),
    ("unison", "1:1", 0.0, 0.0),
]


@pytest.mark.parametrize(("identifier", "ratio", "size", "deviation"), JUST)
def test_just_intervals(identifier: str, ratio: str, size: float, deviation: float) -> None:
    row = JUST_INTERVALS[identifier]
    upper, lower = map(int, ratio.split(":"))
    assert row.ratio == Fraction(upper, lower)
    assert ratio_cents(row.ratio) == pytest.approx(size, abs=0.0051)
    assert just_offset(row) == pytest.approx(deviation, abs=0.0051)


def test_every_just_interval_is_checked() -> None:
    assert {row[0] for row in JUST} == set(JUST_INTERVALS)


def test_commas() -> None:
    assert ratio_cents(Fraction(81, 80)) == pytest.approx(21.51, abs=0.005)
    assert ratio_cents(Fraction(3, 2) ** 12 / 2**7) == pytest.approx(23.46, abs=0.005)


def test_thirds_make_a_fifth() -> None:
    thirds = [ratio_cents(JUST_INTERVALS[name].ratio) for name in ("minor-third", "major-third")]
    assert thirds == pytest.approx([315.641, 386.314], abs=0.0005)
    assert sum(thirds) == pytest.approx(701.955, abs=0.0005)
    assert sum(thirds) == pytest.approx(ratio_cents(JUST_INTERVALS["fifth"].ratio))


@pytest.mark.parametrize(
    ("interval", "inversion"),
    [
        ("minor-second", "major-seventh"),
        ("major-second", "minor-seventh"),
        ("major-second-small", "minor-seventh-wide"),
        ("minor-third", "major-sixth"),
        ("major-third", "minor-sixth"),
        ("fourth", "fifth"),
    ],
)
def test_interval_with_its_inversion_is_an_octave(interval: str, inversion: str) -> None:
    sizes = [ratio_cents(JUST_INTERVALS[name].ratio) for name in (interval, inversion)]
    assert sum(sizes) == pytest.approx(1200)


@pytest.mark.parametrize(("apart", "rate"), [(10, 2.55), (5, 1.27), (1, 0.25)])
def test_beats_of_two_players_near_one_a(apart: float, rate: float) -> None:
    sharp = 440 * 2 ** (apart / 1200)
    assert beats(440, sharp) == beats(sharp, 440) == pytest.approx(rate, abs=0.005)


# By the table above; a root in tune, in cents.
@pytest.mark.parametrize(
    ("chord", "offsets"),
    [
        ("major", ["0", "−14", "+2"]),
        ("minor", ["0", "+16", "+2"]),
        ("dominant seventh", ["0", "−14", "+2", "−4"]),
        ("major seventh", ["0", "−14", "+2", "−12"]),
        ("minor seventh", ["0", "+16", "+2", "+18"]),
        ("suspended fourth", ["0", "−2", "+2"]),
    ],
)
def test_chord_tuning(chord: str, offsets: list[str]) -> None:
    assert [shown_cents(tone.offset) for tone in chord_tuning(chord)] == offsets


def test_every_chord_is_checked_to_be_known() -> None:
    assert all(tone in JUST_INTERVALS for tones in CHORDS.values() for tone in tones)


@pytest.mark.parametrize(
    ("offset", "shown"), [(2.5, "+3"), (-2.5, "−3"), (0.49, "0"), (-0.49, "0"), (0.5, "+1")]
)
def test_halves_of_a_cent_go_away_from_zero(offset: float, shown: str) -> None:
    assert shown_cents(offset) == shown


# Tuning notes: common practice, no source.
@pytest.mark.parametrize(
    ("name", "concert", "written"),
    [
        ("flute", "Bb4", "Bb4"),
        ("oboe", "Bb4", "Bb4"),
        ("clarinet", "Bb4", "C5"),
        ("alto-saxophone", "Bb3", "G4"),
        ("tenor-saxophone", "Bb3", "C5"),
        ("trumpet", "Bb4", "C5"),
        ("horn", "Bb3", "F4"),
        ("trombone", "Bb3", "Bb3"),
        ("euphonium", "Bb3", "Bb3"),
        ("euphonium-treble-clef", "Bb3", "C5"),
        ("tuba", "Bb2", "Bb2"),
        ("string-bass", "A2", "A3"),
    ],
)
def test_usual_tuning_note(name: str, concert: str, written: str) -> None:
    found = tuning_note(instrument(name))
    assert found is not None
    assert found.concert == parse_concert_pitch(concert)
    assert found.written == parse_written_pitch(written)


@pytest.mark.parametrize(
    ("name", "written"),
    [("clarinet", "B4"), ("alto-saxophone", "F#5"), ("horn", "E4"), ("flute", "A4")],
)
def test_tuning_to_a(name: str, written: str) -> None:
    found = tuning_note(instrument(name), parse_note_name("A"))
    assert found is not None
    assert found.concert.name == parse_note_name("A")
    assert found.written == parse_written_pitch(written)


@pytest.mark.parametrize("name", ["snare-drum", "marimba", "timpani", "piano", "celesta"])
def test_percussion_and_keyboards_do_not_tune_to_the_band(name: str) -> None:
    assert tuning_note(instrument(name)) is None


def test_silence_has_no_pitch() -> None:
    with pytest.raises(ValueError, match="does not sound"):
        frequency(parse_concert_pitch("A4"), 0)
    with pytest.raises(ValueError, match="above zero"):
        cents(440, 0)

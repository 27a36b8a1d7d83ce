"""Scales as players read them, against music21 10.5.1 and what bands warm up on."""

from __future__ import annotations

import importlib
from typing import Any

import pytest

from handbook.domain.scales import ScaleForm, scale
from handbook.domain.tables.instruments import INSTRUMENTS, Instrument, instrument
from handbook.domain.values.keys import ConcertKey, Mode, WrittenKey, parse_concert_key
from handbook.domain.values.pitch import WrittenPitch
from tests.oracles.keys import parse_written_key
from tests.oracles.scales import FIRST_SCALES, scale_names

m21: Any = importlib.import_module("music21")  # its own hints are partial


def spelled(notes: tuple[WrittenPitch, ...]) -> str:
    return " ".join(f"{note.name.typed}{note.octave}" for note in notes)


# Registers: common practice, no source.
@pytest.mark.parametrize(
    ("name", "key", "notes"),
    [
        ("flute", "Bb major", "Bb4 C5 D5 Eb5 F5 G5 A5 Bb5"),
        ("oboe", "Bb major", "Bb4 C5 D5 Eb5 F5 G5 A5 Bb5"),
        ("clarinet", "Bb major", "C4 D4 E4 F4 G4 A4 B4 C5"),
        ("alto-saxophone", "Bb major", "G4 A4 B4 C5 D5 E5 F#5 G5"),
        ("baritone-saxophone", "Eb major", "C5 D5 E5 F5 G5 A5 B5 C6"),
        ("trumpet", "Bb major", "C4 D4 E4 F4 G4 A4 B4 C5"),
        ("horn", "Bb major", "F4 G4 A4 Bb4 C5 D5 E5 F5"),
        ("trombone", "Bb major", "Bb2 C3 D3 Eb3 F3 G3 A3 Bb3"),
        ("euphonium", "Eb major", "Eb3 F3 G3 Ab3 Bb3 C4 D4 Eb4"),
        ("tuba", "Bb major", "Bb1 C2 D2 Eb2 F2 G2 A2 Bb2"),
        ("trumpet", "Gb major", "Ab3 Bb3 C4 Db4 Eb4 F4 G4 Ab4"),
        ("flute", "Cb major", "Cb5 Db5 Eb5 Fb5 Gb5 Ab5 Bb5 Cb6"),
        ("alto-saxophone", "B major", "Ab4 Bb4 C5 Db5 Eb5 F5 G5 Ab5"),
        ("clarinet", "D dorian", "E4 F#4 G4 A4 B4 C#5 D5 E5"),
        ("trumpet", "G minor", "A3 B3 C4 D4 E4 F4 G4 A4"),
    ],
)
def test_scale_as_read(name: str, key: str, notes: str) -> None:
    found = scale(parse_concert_key(key), instrument(name))
    assert spelled(found.up) == notes
    assert found.down == found.up[::-1]


@pytest.mark.parametrize(
    ("form", "up", "down"),
    [
        (ScaleForm.OF_THE_KEY, "E4 F#4 G4 A4 B4 C5 D5 E5", "E5 D5 C5 B4 A4 G4 F#4 E4"),
        (ScaleForm.HARMONIC, "E4 F#4 G4 A4 B4 C5 D#5 E5", "E5 D#5 C5 B4 A4 G4 F#4 E4"),
        (ScaleForm.MELODIC, "E4 F#4 G4 A4 B4 C#5 D#5 E5", "E5 D5 C5 B4 A4 G4 F#4 E4"),
        (
            ScaleForm.CHROMATIC,
            "E4 F4 F#4 G4 G#4 A4 A#4 B4 C5 C#5 D5 D#5 E5",
            "E5 Eb5 D5 Db5 C5 B4 Bb4 A4 Ab4 G4 Gb4 F4 E4",
        ),
    ],
)
def test_minor_forms_for_alto_saxophone(form: ScaleForm, up: str, down: str) -> None:
    found = scale(parse_concert_key("G minor"), instrument("alto-saxophone"), form)
    assert (spelled(found.up), spelled(found.down)) == (up, down)


ORACLES = {
    Mode.MAJOR: m21.scale.MajorScale,
    Mode.MINOR: m21.scale.MinorScale,
    Mode.DORIAN: m21.scale.DorianScale,
    Mode.PHRYGIAN: m21.scale.PhrygianScale,
    Mode.LYDIAN: m21.scale.LydianScale,
    Mode.MIXOLYDIAN: m21.scale.MixolydianScale,
    Mode.LOCRIAN: m21.scale.LocrianScale,
}


@pytest.mark.parametrize("mode", list(ORACLES))
@pytest.mark.parametrize("fifths", range(-7, 8))
def test_names_agree_with_music21(mode: Mode, fifths: int) -> None:
    key = WrittenKey.from_fifths(fifths, mode)
    oracle = ORACLES[mode](key.tonic.typed.replace("b", "-")).getPitches()
    assert [n.typed.replace("b", "-") for n in scale_names(key)] == [p.name for p in oracle[:7]]


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_minor_forms_agree_with_music21(fifths: int) -> None:
    key = WrittenKey.from_fifths(fifths, Mode.MINOR)
    tonic = key.tonic.typed.replace("b", "-")
    for form, oracle in (
        (ScaleForm.HARMONIC, m21.scale.HarmonicMinorScale(tonic)),
        (ScaleForm.MELODIC, m21.scale.MelodicMinorScale(tonic)),
    ):
        names = [name.typed.replace("b", "-") for name in scale_names(key, form)]
        assert names == [
            pitch.name for pitch in oracle.getPitches(direction=m21.scale.Direction.ASCENDING)[:7]
        ]


def test_scale_that_no_octave_holds_goes_up_to_the_fifth() -> None:
    """Chimes have C4 to F5: no octave from B flat lies in it, and B flat 4 to F5 does."""
    found = scale(parse_concert_key("Bb major"), instrument("chimes"))
    assert spelled(found.up) == "Bb4 C5 D5 Eb5 F5"
    assert spelled(found.down) == "F5 Eb5 D5 C5 Bb4"
    assert not found.whole


def test_a_chromatic_scale_stops_at_the_same_note() -> None:
    chimes = instrument("chimes")
    found = scale(parse_concert_key("Bb major"), chimes, ScaleForm.CHROMATIC)
    assert spelled(found.up) == "Bb4 B4 C5 C#5 D5 D#5 E5 F5"
    assert spelled(found.down) == "F5 E5 Eb5 D5 Db5 C5 B4 Bb4"


def test_timpani_play_no_scales() -> None:
    with pytest.raises(ValueError, match="timpani plays no scales"):
        scale(parse_concert_key("Bb major"), instrument("timpani"))


@pytest.mark.parametrize("row", [r for r in INSTRUMENTS if r.pitched], ids=lambda row: str(row.id))
@pytest.mark.parametrize("key", FIRST_SCALES, ids=str)
def test_usual_first_scales_fit_all_who_play_scales(row: Instrument, key: ConcertKey) -> None:
    assert row.range is not None
    if row.scales:
        assert all(map(row.range.holds, scale(key, row).up))


def test_usual_first_scales() -> None:
    """Common practice, no source: concert B flat, E flat and F."""
    assert tuple(map(parse_concert_key, ("Bb major", "Eb major", "F major"))) == FIRST_SCALES


def test_two_octaves() -> None:
    found = scale(parse_concert_key("G minor"), instrument("flute"), ScaleForm.MELODIC, octaves=2)
    assert spelled(found.up) == "G4 A4 Bb4 C5 D5 E5 F#5 G5 A5 Bb5 C6 D6 E6 F#6 G6"
    assert spelled(found.down) == "G6 F6 Eb6 D6 C6 Bb5 A5 G5 F5 Eb5 D5 C5 Bb4 A4 G4"


def test_what_is_no_scale_is_our_own_bug() -> None:
    b_flat, flute = parse_concert_key("Bb major"), instrument("flute")
    with pytest.raises(ValueError, match="only a minor key has a harmonic form"):
        scale(b_flat, flute, ScaleForm.HARMONIC)
    with pytest.raises(ValueError, match="at least one octave"):
        scale(b_flat, flute, octaves=0)
    with pytest.raises(ValueError, match="no definite pitch"):
        scale(b_flat, instrument("triangle"))
    assert scale_names(parse_written_key("C major"), ScaleForm.CHROMATIC)[1].typed == "C#"

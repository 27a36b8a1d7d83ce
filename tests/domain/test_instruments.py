"""The instrument table, against published teaching charts and music21 10.5.1.

Two or more charts were read for each of 29 rows; the others are from memory and marked so.
"""

from __future__ import annotations

import pytest
from music21 import instrument as m21_instrument
from music21 import pitch as m21_pitch

from handbook.domain.tables.instruments import (
    INSTRUMENTS,
    Clef,
    Family,
    Instrument,
    instrument,
    of_kind,
)
from handbook.domain.values.pitch import parse_concert_pitch
from handbook.domain.values.unreadable import UnreadableError
from tests.domain.test_transposition import READS_FOR_CONCERT_B_FLAT

# Rows that no chart was read for.
FROM_MEMORY = {
    "alto-flute",
    "bass-flute",
    "contra-alto-clarinet",
    "contrabass-clarinet",
    "trumpet-in-c",
    "flugelhorn",
    "mellophone",
    "bass-trombone",
    "electric-bass",
    "guitar",
    "harp",
    "keyboard",
    "piano",
    "mallet-percussion",
}
# What a written C5 sounds, in semitones and by name: from two or more teaching charts a row,
# but for those from memory.
WRITTEN_C5_SOUNDS = [
    ("piccolo", 12, "C6"),
    ("flute", 0, "C5"),
    ("alto-flute", -5, "G4"),
    ("bass-flute", -12, "C4"),
    ("oboe", 0, "C5"),
    ("english-horn", -7, "F4"),
    ("bassoon", 0, "C5"),
    ("contrabassoon", -12, "C4"),
    ("e-flat-clarinet", 3, "Eb5"),
    ("clarinet", -2, "Bb4"),
    ("alto-clarinet", -9, "Eb4"),
    ("bass-clarinet", -14, "Bb3"),
    ("contra-alto-clarinet", -21, "Eb3"),
    ("contrabass-clarinet", -26, "Bb2"),
    ("soprano-saxophone", -2, "Bb4"),
    ("alto-saxophone", -9, "Eb4"),
    ("tenor-saxophone", -14, "Bb3"),
    ("baritone-saxophone", -21, "Eb3"),
    ("trumpet", -2, "Bb4"),
    ("trumpet-in-c", 0, "C5"),
    ("cornet", -2, "Bb4"),
    ("flugelhorn", -2, "Bb4"),
    ("horn", -7, "F4"),
    ("mellophone", -7, "F4"),
    ("trombone", 0, "C5"),
    ("bass-trombone", 0, "C5"),
    ("euphonium", 0, "C5"),
    ("euphonium-treble-clef", -14, "Bb3"),
    ("tuba", 0, "C5"),
    ("string-bass", -12, "C4"),
    ("electric-bass", -12, "C4"),
    ("guitar", -12, "C4"),
    ("harp", 0, "C5"),
    ("piano", 0, "C5"),
    ("keyboard", 0, "C5"),
    ("celesta", 12, "C6"),
    ("glockenspiel", 24, "C7"),
    ("xylophone", 12, "C6"),
    ("vibraphone", 0, "C5"),
    ("marimba", 0, "C5"),
    ("chimes", 0, "C5"),
    ("mallet-percussion", 0, "C5"),
    ("timpani", 0, "C5"),
]


@pytest.mark.parametrize(("name", "semitones", "sounds"), WRITTEN_C5_SOUNDS)
def test_written_c5_sounds(name: str, semitones: int, sounds: str) -> None:
    row = instrument(name)
    assert row.sounds.semitones == semitones
    assert parse_concert_pitch("C5").shifted(row.sounds) == parse_concert_pitch(sounds)
    assert row.sounding_c == parse_concert_pitch(sounds).name


def test_every_pitched_instrument_is_checked() -> None:
    assert {row.id for row in INSTRUMENTS if row.pitched} == {row[0] for row in WRITTEN_C5_SOUNDS}


def test_rows_from_memory_are_named_as_such() -> None:
    assert {row[0] for row in WRITTEN_C5_SOUNDS} - FROM_MEMORY == {
        name for name, _ in READS_FOR_CONCERT_B_FLAT
    }


# Classes whose transposition the library carries rightly (10.5.1). Those of glockenspiel,
# xylophone, celesta and contrabassoon carry none there, and it knows many names of bands for
# other instruments than bands mean: the table stands alone for these.
MUSIC21_CLASSES = [
    ("flute", "Flute"),
    ("oboe", "Oboe"),
    ("bassoon", "Bassoon"),
    ("piccolo", "Piccolo"),
    ("clarinet", "Clarinet"),
    ("soprano-saxophone", "SopranoSaxophone"),
    ("bass-clarinet", "BassClarinet"),
    ("alto-saxophone", "AltoSaxophone"),
    ("tenor-saxophone", "TenorSaxophone"),
    ("baritone-saxophone", "BaritoneSaxophone"),
    ("trumpet", "Trumpet"),
    ("horn", "Horn"),
    ("english-horn", "EnglishHorn"),
    ("trombone", "Trombone"),
    ("tuba", "Tuba"),
    ("string-bass", "Contrabass"),
    ("vibraphone", "Vibraphone"),
    ("marimba", "Marimba"),
    ("chimes", "TubularBells"),
    ("timpani", "Timpani"),
]


@pytest.mark.parametrize(("name", "class_name"), MUSIC21_CLASSES)
@pytest.mark.parametrize("written", ["C5", "F#4", "Eb3"])
def test_sounding_pitch_agrees_with_music21(name: str, class_name: str, written: str) -> None:
    interval = getattr(m21_instrument, class_name)().transposition
    oracle = m21_pitch.Pitch(written.replace("b", "-"))
    if interval is not None:
        oracle = oracle.transpose(interval)
    ours = parse_concert_pitch(written).shifted(instrument(name).sounds)
    assert f"{ours.name.typed}{ours.octave}".replace("b", "-") == oracle.nameWithOctave


@pytest.mark.parametrize(
    ("name", "identifier"),
    [
        ("alto-saxophone", "alto-saxophone"),
        ("Alto Sax", "alto-saxophone"),
        ("Bari Sax", "baritone-saxophone"),
        ("French Horn", "horn"),
        ("F horn", "horn"),
        ("bells", "glockenspiel"),
        ("Bb clarinet", "clarinet"),
        ("B♭ Clarinet", "clarinet"),
        ("Eb Clarinet", "e-flat-clarinet"),
        ("E-flat clarinet", "e-flat-clarinet"),
        ("E♭ clarinet", "e-flat-clarinet"),
        ("Baritone T.C.", "euphonium-treble-clef"),
        ("Euphonium (treble clef)", "euphonium-treble-clef"),
        ("baritone", "euphonium"),
        ("Sousaphone", "tuba"),
        ("contra-alto", "contra-alto-clarinet"),
    ],
)
def test_names_that_bands_use(name: str, identifier: str) -> None:
    assert instrument(name).id == identifier


@pytest.mark.parametrize(
    ("name", "nearest"),
    [("trumpit", "trumpet"), ("tenor saxaphone", "tenor-saxophone"), ("flugal", "flugelhorn")],
)
def test_unknown_name_offers_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(UnreadableError, match="is no instrument that is known here") as refused:
        instrument(name)
    assert nearest in refused.value.suggestions


@pytest.mark.parametrize("row", INSTRUMENTS, ids=lambda row: str(row.id))
def test_each_name_leads_to_its_own_row(row: Instrument) -> None:
    assert all(instrument(name) is row for name in (row.id, row.name, *row.aliases))
    assert instrument(f"{row.id.removesuffix('s')}s") is row, "many of them"


@pytest.mark.parametrize("row", INSTRUMENTS, ids=lambda row: str(row.id))
def test_only_percussion_lacks_pitch_and_ranges_hold_an_octave(row: Instrument) -> None:
    if row.range is None:
        assert (row.family, row.clef) == (Family.PERCUSSION, Clef.PERCUSSION)
        return
    low, high, start = row.range.low, row.range.high, row.range.scale_from
    assert low.midi <= start.midi < high.midi
    assert high.midi - low.midi >= 12


@pytest.mark.parametrize(
    ("word", "kind"),
    [  # by the names in the table itself
        ("saxophone", {"soprano-saxophone", "alto-saxophone", "tenor-saxophone", "baritone-saxophone"}),
        ("Saxes", {"soprano-saxophone", "alto-saxophone", "tenor-saxophone", "baritone-saxophone"}),
        ("drum", {"snare-drum", "bass-drum", "tenor-drums"}),
        ("kazoo", set()),
    ],
)  # fmt: skip
def test_a_word_for_several_instruments_offers_all_of_them(word: str, kind: set[str]) -> None:
    assert kind == set(of_kind(word))
    if kind:
        with pytest.raises(UnreadableError) as refused:
            instrument(word)
        assert set(refused.value.suggestions) == kind

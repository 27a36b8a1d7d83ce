"""Ranges by experience.

Letters of the lowest and highest note: Northeastern Music Publications, "NMP Grading
System", grade 1 1/2 (all of a first book; clarinets below the break, as its grade 1) and
grade 2 (well into a second book), read in a stored copy. It prints no octaves: those are
common practice, no source. Transpositions are compared with music21.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from music21 import instrument as m21_instrument
from music21 import interval, pitch
from music21 import scale as m21_scale

from handbook.domain.registers import in_register, instrument_at, line_in_register
from handbook.domain.scales import scale
from handbook.domain.tables.experience import RANGES, Experience
from handbook.domain.tables.instruments import INSTRUMENTS, Instrument, instrument
from handbook.domain.tuning import tuning_note
from handbook.domain.values.keys import ConcertKey, parse_concert_key
from handbook.domain.values.pitch import NoteName, SpelledPitch
from tests.oracles.scales import FIRST_SCALES

BEGINNER, DEVELOPING = Experience.BEGINNER, Experience.DEVELOPING
# Printed letters, low and high.
GRADE_1_AND_A_HALF = {
    "flute": "F D",
    "oboe": "D A",
    "clarinet": "E Bb",
    "alto-saxophone": "D B",
    "trumpet": "Bb D",
    "horn": "A B",
    "trombone": "A C",
    "euphonium": "A C",
    "tuba": "Bb D",
}
# Where our top is a half step above the printed one (trumpet E, trombone D, tuba D), the
# second band scale ends there: common practice, no source.
GRADE_2 = {
    "flute": "C F",
    "oboe": "C B",
    "clarinet": "E A",
    "alto-saxophone": "C C",
    "trumpet": "A F",
    "horn": "G C",
    "trombone": "G Eb",
    "euphonium": "G Eb",
    "tuba": "A Eb",
}
ORACLE = {
    "flute": m21_instrument.Flute,
    "clarinet": m21_instrument.Clarinet,
    "alto-saxophone": m21_instrument.AltoSaxophone,
    "tenor-saxophone": m21_instrument.TenorSaxophone,
    "trumpet": m21_instrument.Trumpet,
    "horn": m21_instrument.Horn,
    "trombone": m21_instrument.Trombone,
    "tuba": m21_instrument.Tuba,
}


def of(name: str, experience: Experience) -> Instrument:
    return instrument_at(instrument(name), experience)


def theirs(note: SpelledPitch) -> str:
    return f"{note.name.typed.replace('b', '-')}{note.octave}"


@pytest.mark.parametrize(
    ("experience", "name", "letters"),
    [
        (level, name, letters)
        for level, printed in ((BEGINNER, GRADE_1_AND_A_HALF), (DEVELOPING, GRADE_2))
        for name, letters in printed.items()
    ],
)
def test_ranges_have_the_printed_letters(experience: Experience, name: str, letters: str) -> None:
    within = of(name, experience).range
    assert within is not None
    assert f"{within.low.name.typed} {within.high.name.typed}" == letters


@pytest.mark.parametrize(
    ("name", "key", "notes"),
    [  # a first-year player stops at the fifth where the octave is out of reach
        ("trumpet", "F major", "G4 A4 B4 C5 D5"),
        ("trumpet", "Eb major", "F4 G4 A4 B-4 C5"),
        ("trumpet", "Bb major", "C4 D4 E4 F4 G4 A4 B4 C5"),
        ("trombone", "Eb major", "E-3 F3 G3 A-3 B-3"),
        ("trombone", "Bb major", "B-2 C3 D3 E-3 F3 G3 A3 B-3"),
        ("tuba", "F major", "F2 G2 A2 B-2 C3"),
        ("clarinet", "Eb major", "F3 G3 A3 B-3 C4 D4 E4 F4"),
        ("clarinet", "Bb major", "C4 D4 E4 F4 G4"),
        ("horn", "Bb major", "F4 G4 A4 B-4"),
    ],
)
def test_first_scales_of_a_first_year(name: str, key: str, notes: str) -> None:
    found = scale(parse_concert_key(key), of(name, BEGINNER))
    assert " ".join(map(theirs, found.up)).startswith(notes)


@pytest.mark.parametrize("experience", Experience)
@pytest.mark.parametrize("row", [r for r in INSTRUMENTS if r.pitched], ids=lambda r: str(r.id))
@pytest.mark.parametrize("key", FIRST_SCALES, ids=str)
def test_no_first_scale_leaves_the_range_by_more_than_a_step(
    row: Instrument, key: ConcertKey, experience: Experience
) -> None:
    at = instrument_at(row, experience)
    assert at.range is not None
    if at.scales:
        found = scale(key, at)
        assert at.range.outside(found.up[0].midi, found.up[-1].midi) <= 1


@pytest.mark.parametrize("experience", Experience)
@pytest.mark.parametrize("name", ORACLE)
@pytest.mark.parametrize("key", FIRST_SCALES, ids=str)
def test_every_scale_sounds_as_music21_has_it(
    name: str, key: ConcertKey, experience: Experience
) -> None:
    found = scale(key, of(name, experience))
    sounds = ORACLE[name]().transposition or interval.Interval("P1")  # type: ignore[no-untyped-call]
    heard = [pitch.Pitch(theirs(note)).transpose(sounds).name for note in found.up]
    tonic = key.tonic.typed.replace("b", "-")
    expected = [one.name for one in m21_scale.MajorScale(tonic).getPitches()]  # type: ignore[no-untyped-call]
    assert heard == expected[: len(heard)]


@pytest.mark.parametrize(
    ("name", "experience", "written"),
    [  # common practice, no source
        ("clarinet", BEGINNER, "C4"),  # below the break
        ("clarinet", Experience.INTERMEDIATE, "C5"),
        ("trumpet", BEGINNER, "C5"),
        ("horn", BEGINNER, "F4"),
        ("alto-saxophone", BEGINNER, "G4"),
        ("trombone", BEGINNER, "B♭3"),
        ("tuba", BEGINNER, "B♭2"),
    ],
)
def test_tuning_octave(name: str, experience: Experience, written: str) -> None:
    found = tuning_note(of(name, experience))
    assert found is not None
    assert str(found.written) == written


@pytest.mark.parametrize(
    ("names", "written"),
    [("A B C D E", "A3 B3 C4 D4 E4"), ("A E", "A3 E4")],
)
def test_a_line_stays_in_reach_before_it_is_in_the_middle(names: str, written: str) -> None:
    """A first-year trumpet has B flat 3 to D5: one half step below is nearer than one above."""
    line = line_in_register([NoteName(name) for name in names.split()], of("trumpet", BEGINNER))
    assert " ".join(map(str, line)) == written


@pytest.mark.parametrize("experience", Experience)
@pytest.mark.parametrize("name", ["trombone", "euphonium"])
def test_b_natural_lies_where_the_slide_is_short(name: str, experience: Experience) -> None:
    assert str(in_register(NoteName("B"), of(name, experience))) == "B3"


@pytest.mark.parametrize(("name", "experience"), RANGES)
def test_every_name_of_the_table_is_an_instrument(name: str, experience: Experience) -> None:
    row = of(name, experience)
    assert row.range is not None
    assert row.range.low.midi <= row.range.scale_from.midi < row.range.high.midi


@pytest.mark.parametrize("row", [r for r in INSTRUMENTS if r.pitched], ids=lambda r: str(r.id))
def test_ranges_grow_with_the_years(row: Instrument) -> None:
    ranges = [instrument_at(row, level).range for level in Experience]
    for narrow, wide in pairwise(ranges):
        assert narrow is not None
        assert wide is not None
        assert wide.low.midi <= narrow.low.midi
        assert narrow.high.midi <= wide.high.midi

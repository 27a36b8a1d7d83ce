"""Notes of no stated octave: common practice, no source; the ranges are those of the table."""

from __future__ import annotations

import pytest

from handbook.domain.registers import in_register, line_in_register
from handbook.domain.tables.instruments import INSTRUMENTS, Instrument, instrument
from handbook.domain.tuning import tuning_note
from handbook.domain.values.pitch import LETTERS, NoteName, WrittenPitch, parse_note_name


@pytest.mark.parametrize(
    ("name", "who", "written"),
    [
        ("F#", "clarinet", "F♯4"),  # usual range E3 to C6, its middle G♯4
        ("Eb", "trombone", "E♭3"),  # E2 to F4, its middle E♭ and a half
        ("Ab", "tuba", "A♭2"),  # E1 to F3
        ("C", "flute", "C5"),  # C4 to F6
        ("Bb", "trumpet", "B♭4"),  # F♯3 to A5
    ],
)
def test_a_note_lies_near_the_middle_of_the_range(name: str, who: str, written: str) -> None:
    assert str(in_register(parse_note_name(name), instrument(who))) == written


@pytest.mark.parametrize("row", [row for row in INSTRUMENTS if row.pitched], ids=lambda row: row.id)
@pytest.mark.parametrize("letter", LETTERS)
def test_every_player_finds_every_natural_within_range(row: Instrument, letter: str) -> None:
    assert row.range is not None
    placed = in_register(NoteName(letter), row)
    assert placed.name == NoteName(letter)
    assert row.range.holds(placed)


@pytest.mark.parametrize("row", [row for row in INSTRUMENTS if row.range], ids=lambda row: row.id)
def test_both_ends_of_a_range_are_in_it(row: Instrument) -> None:
    assert row.range is not None
    low, high = row.range.low, row.range.high
    assert row.range.holds(low)
    assert row.range.holds(high)
    assert not row.range.holds(WrittenPitch(NoteName(low.name.letter), low.octave - 1))
    assert not row.range.holds(WrittenPitch(NoteName(high.name.letter), high.octave + 1))


@pytest.mark.parametrize("row", [row for row in INSTRUMENTS if row.pitched], ids=lambda row: row.id)
def test_it_agrees_with_the_tuning_note(row: Instrument) -> None:
    tuning = tuning_note(row)
    if tuning is not None:
        assert in_register(tuning.written.name, row) == tuning.written


@pytest.mark.parametrize(
    ("names", "who", "written"),
    [
        ("C D E F G", "trumpet", "C4 D4 E4 F4 G4"),  # F♯3 to A5: about the middle of it
        ("Bb C D Eb F", "trombone", "B♭2 C3 D3 E♭3 F3"),
        ("Bb A G F", "flute", "B♭5 A5 G5 F5"),
        ("B Bb", "clarinet", "B4 B♭4"),
        ("Bb D F", "tuba", "B♭1 D2 F2"),
        ("F D Bb", "tuba", "F2 D2 B♭1"),
        # Two notes are an interval from the first one up: a fifth is no fourth.
        ("Bb F", "flute", "B♭4 F5"),
        ("F Bb", "flute", "F5 B♭5"),
        ("C A", "trumpet", "C4 A4"),
        ("A C", "trumpet", "A4 C5"),
        ("Eb D", "trumpet", "E♭4 D4"),  # a step is a line
        ("F B", "flute", "F5 B5"),  # C4 to F6; a tritone goes up
    ],
)
def test_a_line_goes_by_the_nearest_notes(names: str, who: str, written: str) -> None:
    line = line_in_register([parse_note_name(name) for name in names.split()], instrument(who))
    assert " ".join(map(str, line)) == written


def test_drums_have_no_register() -> None:
    with pytest.raises(ValueError, match="snare drum"):
        in_register(NoteName("C"), instrument("snare-drum"))

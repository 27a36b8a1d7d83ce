"""Examples written as MEI, read back by music21 10.5.1, which knows the format on its own."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from fractions import Fraction

import pytest
from music21 import converter, stream

from handbook.domain.counting import counts
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.rudiments import parse_sticking
from handbook.domain.scales import ScaleForm, scale
from handbook.domain.sticking import with_hands
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS
from handbook.domain.tables.instruments import Clef, instrument
from handbook.domain.values.keys import parse_concert_key
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.pitch import parse_written_pitch
from handbook.outputs.engraving.rhythm_layout import RhythmExample
from handbook.outputs.engraving.rhythm_mei import rhythm_mei
from handbook.outputs.engraving.staff_mei import StaffExample, StaffNote, staff_mei

NS = "{http://www.music-encoding.org/ns/mei}"


def example(clef: Clef, fifths: int, *lines: str) -> StaffExample:
    return StaffExample(
        clef,
        fifths,
        tuple(
            tuple(StaffNote(parse_written_pitch(name)) for name in line.split()) for line in lines
        ),
    )


def rhythm(pattern: str, meter: str, sticking: str = "") -> RhythmExample:
    found, beat = parse_rhythm(pattern), parse_meter(meter)
    laid = with_hands(found, parse_sticking(sticking)) if sticking else found
    return RhythmExample(laid, beat, counts(laid, beat, COUNTING_SYSTEMS["numbers"]))


def read_back(mei: str) -> stream.Score:
    score = converter.parse(mei, format="mei")
    assert isinstance(score, stream.Score)
    return score


def elements(mei: str, name: str) -> list[ET.Element]:
    return list(ET.fromstring(mei).iter(f"{NS}{name}"))


@pytest.mark.parametrize(
    ("key", "who", "form"),
    [
        ("Bb major", "trumpet", ScaleForm.OF_THE_KEY),
        ("B major", "alto-saxophone", ScaleForm.OF_THE_KEY),
        ("Ab major", "tuba", ScaleForm.OF_THE_KEY),
        ("C minor", "clarinet", ScaleForm.HARMONIC),
        ("C minor", "clarinet", ScaleForm.MELODIC),
        ("Eb major", "trombone", ScaleForm.CHROMATIC),
        ("F# major", "horn", ScaleForm.CHROMATIC),
    ],
)
def test_a_scale_is_read_back_note_for_note(key: str, who: str, form: ScaleForm) -> None:
    of = scale(parse_concert_key(key), instrument(who), form)
    lines = (of.up,) if of.down == of.up[::-1] else (of.up, of.down)
    mei = staff_mei(
        StaffExample(
            instrument(who).clef, of.key.fifths, tuple(tuple(map(StaffNote, x)) for x in lines)
        )
    )
    score = read_back(mei)
    heard = [note.pitch.midi for note in score.recurse().notes]
    assert heard == [note.midi for line in lines for note in line]
    assert [note.pitch.step for note in score.recurse().notes] == [
        note.name.letter for line in lines for note in line
    ]


@pytest.mark.parametrize(
    ("fifths", "notes", "shown"),
    [
        (0, "C4 C#4 D4 D#4", ["", "s", "", "s"]),
        (1, "F#4 G4 F4 F#4", ["", "", "n", "s"]),  # the natural, then the sharp of the key again
        (-2, "Bb4 B4 B4 Bb4", ["", "n", "", "f"]),  # an accidental holds to the end of the line
        (-2, "B4 B3", ["n", "n"]),  # but not in another octave
        (-3, "Ab4 Ebb4", ["", "ff"]),
        (7, "F##4 F#4", ["x", "s"]),
    ],
)
def test_accidentals_stand_where_the_key_or_the_line_does_not_give_them(
    fifths: int, notes: str, shown: list[str]
) -> None:
    signs = elements(staff_mei(example(Clef.TREBLE, fifths, notes)), "accid")
    assert [sign.get("accid", "") for sign in signs] == shown


@pytest.mark.parametrize(("fifths", "written"), [(0, "0"), (3, "3s"), (-4, "4f"), (-7, "7f")])
def test_the_key_signature_is_that_of_mei_5_data_keysignature(fifths: int, written: str) -> None:
    (found,) = elements(staff_mei(example(Clef.TREBLE, fifths, "C4")), "staffDef")
    assert found.get("keysig") == written


def test_an_accidental_of_the_key_is_shown_in_brackets_as_a_reminder() -> None:
    note = StaffNote(parse_written_pitch("Bb4"), reminded=True)
    (sign,) = elements(staff_mei(StaffExample(Clef.TREBLE, -2, ((note,),))), "accid")
    assert (sign.get("accid"), sign.get("enclose")) == ("f", "paren")
    plain = StaffNote(parse_written_pitch("C5"), reminded=True)
    (sign,) = elements(staff_mei(StaffExample(Clef.TREBLE, -2, ((plain,),))), "accid")
    assert sign.get("accid") is None


@pytest.mark.parametrize(
    ("clef", "notes", "shape"),
    [
        (Clef.TREBLE, "C2", "G"),
        (Clef.BASS, "C6", "F"),
        (Clef.GRAND, "C4 E4", "G"),
        (Clef.GRAND, "C3 E3", "F"),
    ],
)
def test_the_clef_is_the_players(clef: Clef, notes: str, shape: str) -> None:
    (found,) = elements(staff_mei(example(clef, 0, notes)), "clef")
    assert found.get("shape") == shape


@pytest.mark.parametrize(
    ("pattern", "meter"),
    [
        ("q q e e q | h. q", "4/4"),
        ("q. e h | 3(e e e) q -h", "4/4"),
        ("3(q q q) h | 6(s s s s s s) q h", "4/4"),
        ("e. s s e. q -q", "4/4"),
        ("pickup e | q e q e | q. q", "6/8"),
        ("q q e e e | e. s e q e e", "7/8 (2+2+3)"),
        ("h h | w", "2/2"),
        ("3(e e e) 3(e e e) h", "4/4"),
        ("q.. s h | e s s s s e h", "4/4"),
    ],
)
def test_a_rhythm_is_read_back_length_for_length(pattern: str, meter: str) -> None:
    written = rhythm(pattern, meter)
    part = read_back(rhythm_mei(written)).parts[0]
    heard = [Fraction(item.quarterLength) for item in part.recurse().notesAndRests]
    assert heard == [note.quarters for measure in written.rhythm.measures for note in measure]
    rests = [item.isRest for item in part.recurse().notesAndRests]
    assert rests == [note.rest for measure in written.rhythm.measures for note in measure]


@pytest.mark.parametrize(
    ("pattern", "meter", "beams"),
    [  # how many notes each beam joins: by the beat, common practice, no source
        ("e e e e e e e e", "4/4", [2, 2, 2, 2]),
        ("e e e e e e e e", "2/2", [4, 4]),
        ("e e e e e e", "6/8", [3, 3]),
        ("e e e e e e", "3/4", [2, 2, 2]),
        ("e e e e e e e", "7/8 (2+2+3)", [2, 2, 3]),
        ("e e e e e e e", "7/8 (3+2+2)", [3, 2, 2]),
        ("s s s s q e -e s s e", "4/4", [4, 3]),
        ("e q e h", "4/4", []),
        ("3(e e e) 3(e e e) e e q", "4/4", [3, 3, 2]),
        ("3(q e) h.", "4/4", []),
        ("pickup e e | q q q q", "4/4", [2]),
        ("pickup e | e e e q.", "6/8", [3]),
    ],
)
def test_short_notes_of_one_beat_share_a_beam(pattern: str, meter: str, beams: list[int]) -> None:
    found = elements(rhythm_mei(rhythm(pattern, meter)), "beam")
    assert [len(list(beam.iter(f"{NS}note"))) for beam in found] == beams


def test_syllables_stand_at_their_place_in_the_measure() -> None:
    mei = rhythm_mei(rhythm("e e q_ | e e -e q.", "3/4"))
    said = [(one.text, one.get("tstamp")) for one in elements(mei, "harm")]
    assert said[:3] == [("1", "1"), ("&", "1.5"), ("2", "2")]
    assert ("[2]", "2") in said[3:]


@pytest.mark.parametrize(
    ("pattern", "bracket", "beams"),
    [("3(e e e) q", "false", 1), ("3(e -e e) q", "true", 0), ("3(q q q)", "true", 0)],
)
def test_a_group_has_a_bracket_unless_a_beam_joins_all_of_it(
    pattern: str, bracket: str, beams: int
) -> None:
    """Common practice, no source."""
    written = rhythm_mei(rhythm(pattern, "2/4"))
    assert [group.get("bracket.visible") for group in elements(written, "tuplet")] == [bracket]
    assert len(elements(written, "beam")) == beams


def test_a_pickup_is_counted_up_to_the_bar_line_but_stands_at_the_start() -> None:
    said = elements(rhythm_mei(rhythm("pickup q | h q | h", "3/4")), "harm")
    assert (said[0].text, said[0].get("tstamp")) == ("3", "1")


def test_hands_stand_below_the_syllables_and_flams_before_their_note() -> None:
    mei = rhythm_mei(rhythm("q q q q", "4/4", "lR L llR Lz"))
    assert [one.text for one in elements(mei, "harm") if one.get("n") == "2"] == [
        "lR",
        "L",
        "llR",
        "Lz",
    ]
    assert [len(list(one.iter(f"{NS}note"))) for one in elements(mei, "graceGrp")] == [1, 2]
    assert [one.get("stem.mod") for one in elements(mei, "note") if not one.get("grace")] == [
        None,
        None,
        None,
        "z",
    ]


def test_ties_run_from_note_to_note_and_over_the_bar_line() -> None:
    notes = elements(rhythm_mei(rhythm("h_ q_ | q h", "3/4")), "note")
    assert [note.get("tie") for note in notes] == ["i", "m", "t", None]


@pytest.mark.parametrize(
    ("pattern", "meter", "lines"),
    [
        ("q q q q", "4/4", 1),
        ("q q q q | h h", "4/4", 1),
        ("s s s s s s s s s s s s s s s s | s s s s s s s s s s s s s s s s", "4/4", 2),
        ("q q q q | q q q q | q q q q | q q q q", "4/4", 2),
    ],
)
def test_a_line_is_no_longer_than_a_phone_shows(pattern: str, meter: str, lines: int) -> None:
    assert len(elements(rhythm_mei(rhythm(pattern, meter)), "sb")) == lines - 1


def test_words_below_a_note_are_kept_as_they_are() -> None:
    """XML 1.0, 2.4: `&` and `<` in text are written as entities."""
    note = StaffNote(parse_written_pitch("C5"), "1 & 2 < 3")
    mei = staff_mei(StaffExample(Clef.TREBLE, 0, ((note,),)))
    assert [one.text for one in ET.fromstring(mei).iter(f"{NS}harm")] == ["1 & 2 < 3"]

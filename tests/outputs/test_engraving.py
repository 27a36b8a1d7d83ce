"""Engravings: the right signs (SMuFL 1.4 code points), the same bytes on every run, one a content."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest

from handbook.domain.counting import counts
from handbook.domain.rhythm_notation import parse_rhythm
from handbook.domain.tables.counting_systems import COUNTING_SYSTEMS
from handbook.domain.tables.instruments import Clef
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.pitch import parse_written_pitch
from handbook.outputs.engraving import engraver
from handbook.outputs.engraving.engraver import engraved, sprite
from handbook.outputs.engraving.flat_svg import FlatSvg
from handbook.outputs.engraving.rhythm_layout import RhythmExample
from handbook.outputs.engraving.staff_mei import StaffExample, StaffNote

# SMuFL 1.4, tables "Clefs", "Standard accidentals", "Noteheads", "Flags", "Rests", "Time signatures".
G_CLEF, F_CLEF, PERCUSSION_CLEF = "E050", "E062", "E069"
FLAT, NATURAL, SHARP, LEFT_PAREN = "E260", "E261", "E262", "E26A"
WHOLE_HEAD, HALF_HEAD, BLACK_HEAD = "E0A2", "E0A3", "E0A4"
EIGHTH_FLAG, QUARTER_REST, HALF_REST, FOUR = "E240", "E4E5", "E4E4", "E084"


def staff(clef: Clef, fifths: int, notes: str, below: str = "") -> StaffExample:
    words = below.split() or [""] * len(notes.split())
    row = tuple(
        StaffNote(parse_written_pitch(name), word)
        for name, word in zip(notes.split(), words, strict=True)
    )
    return StaffExample(clef, fifths, (row,))


def rhythm(pattern: str, meter: str) -> RhythmExample:
    found, beat = parse_rhythm(pattern), parse_meter(meter)
    return RhythmExample(found, beat, counts(found, beat, COUNTING_SYSTEMS["numbers"]))


SCALE = staff(Clef.TREBLE, 1, "G4 A4 B4 C5 D5 E5 F#5 G5")
BEAT = rhythm("q. e h | 3(e e e) q -q e -e", "4/4")


def used(drawing: FlatSvg) -> list[str]:
    return re.findall(r'href="#m-(E[0-9A-F]{3})"', drawing.shapes)


def words(drawing: FlatSvg) -> list[str]:
    root = ET.fromstring(f"<svg>{drawing.shapes}</svg>")
    return [text.text or "" for text in root.iter("text")]


@pytest.mark.parametrize(
    ("example", "signs"),
    [
        (SCALE, {G_CLEF: 1, SHARP: 1, BLACK_HEAD: 8}),  # the key's sharp alone
        (staff(Clef.BASS, -2, "Bb2 C3 D3"), {F_CLEF: 1, FLAT: 2, BLACK_HEAD: 3}),
        (staff(Clef.TREBLE, -2, "B4 Bb4"), {G_CLEF: 1, FLAT: 3, NATURAL: 1, BLACK_HEAD: 2}),
        (rhythm("q q q q", "4/4"), {PERCUSSION_CLEF: 1, FOUR: 2, BLACK_HEAD: 4}),
        (rhythm("q e -q e -h", "6/4"), {PERCUSSION_CLEF: 1, BLACK_HEAD: 3, EIGHTH_FLAG: 2, QUARTER_REST: 1, HALF_REST: 1}),
        (rhythm("w | h h", "4/4"), {WHOLE_HEAD: 1, HALF_HEAD: 2}),
    ],
)  # fmt: skip
def test_the_signs_are_those_of_the_example(
    example: StaffExample | RhythmExample, signs: dict[str, int]
) -> None:
    found = used(engraved(example))
    assert {sign: found.count(sign) for sign in signs} == signs
    assert {glyph.code for glyph in engraved(example).glyphs} == set(found)


def test_a_reminder_stands_in_brackets() -> None:
    note = StaffNote(parse_written_pitch("F#4"), reminded=True)
    assert LEFT_PAREN in used(engraved(StaffExample(Clef.TREBLE, 1, ((note,),))))


def test_fingerings_and_counts_are_written_below() -> None:
    assert words(engraved(staff(Clef.TREBLE, 0, "C4 D4 E4", "0 1-3 1-2"))) == ["0", "1-3", "1-2"]
    assert words(engraved(BEAT)) == [
        *("1", "(2)", "&", "3", "(4)"),
        *("1", "&", "a", "2", "[3]", "4", "[&]"),
    ]


def test_one_example_is_engraved_once() -> None:
    assert engraved(staff(Clef.TREBLE, 1, "G4 A4 B4 C5 D5 E5 F#5 G5")) is engraved(SCALE)


def test_the_order_in_which_examples_come_does_not_show() -> None:
    first = engraver._engraved(SCALE), engraver._engraved(BEAT)
    second = engraver._engraved(BEAT), engraver._engraved(SCALE)
    assert first == second[::-1]


def test_a_new_process_with_other_hashes_gives_the_same_bytes() -> None:
    program = (
        "from tests.outputs.test_engraving import BEAT, SCALE, engraved\n"
        "import hashlib\n"
        "print(hashlib.sha256(repr((engraved(SCALE), engraved(BEAT))).encode()).hexdigest())"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
            text=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(digests) == 1


@pytest.mark.parametrize("example", [SCALE, BEAT])
def test_nothing_but_ink_is_left(example: StaffExample | RhythmExample) -> None:
    shapes = engraved(example).shapes
    root = ET.fromstring(f"<svg>{shapes}</svg>")
    kinds = {element.tag for element in root.iter()} - {"svg"}
    assert kinds <= {"path", "use", "circle", "text"}
    attributes = {name for element in root.iter() for name in element.attrib}
    assert not attributes & {"id", "class", "style", "color", "onload"}  # a strict policy holds
    assert len(shapes) < 4000


def test_the_ink_lies_in_its_box() -> None:
    drawing = engraved(SCALE)
    root = ET.fromstring(f"<svg>{drawing.shapes}</svg>")
    places = [
        tuple(map(int, re.findall(r"-?\d+", use.get("transform", ""))[:2]))
        for use in root.iter("use")
    ]
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in places)
    heads = [
        y
        for y, use in zip((y for _, y in places), root.iter("use"), strict=True)
        if use.get("href") == f"#m-{BLACK_HEAD}"
    ]
    assert heads == sorted(heads, reverse=True)  # a rising scale rises


def test_a_page_holds_each_glyph_once() -> None:
    glyphs = sprite([engraved(SCALE), engraved(BEAT), engraved(SCALE)])
    codes = [glyph.code for glyph in glyphs]
    assert codes == sorted(set(codes))
    assert {G_CLEF, PERCUSSION_CLEF, BLACK_HEAD} <= set(codes)
    assert all(glyph.path.startswith("M") for glyph in glyphs)


def test_any_thread_can_engrave() -> None:
    """The preview draws in a thread of its own, which may be the first to ask for the library."""
    program = (
        "import threading\n"
        "from handbook.outputs.engraving import engraver\n"
        "from tests.outputs.test_engraving import BEAT\n"
        "loads = threading.Thread(target=engraver._engraver, args=('encoded', 'x'))\n"
        "loads.start()\n"
        "loads.join()\n"
        "print(len(engraver.engraved(BEAT).glyphs) > 0)"
    )
    printed = subprocess.run(
        [sys.executable, "-c", program], check=True, capture_output=True, text=True
    ).stdout
    assert printed == "True\n"

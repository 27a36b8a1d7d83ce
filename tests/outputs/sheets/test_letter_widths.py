"""Letters are as wide as the typeface has them, and lines are counted as the typesetter breaks them."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont

from handbook.outputs.sheets.letter_widths import count_lines, letter_width
from handbook.outputs.sheets.typefaces import typefaces
from tests.outputs.sheets.making import pdf_of
from tests.outputs.sheets.reading import page_texts

SENTENCE = (
    "The band meets at the loop behind the gym, by 5:45 pm, with coats, folders and one pencil "
    "each; whoever plays a large instrument comes to Band Room 112 a quarter of an hour before."
)


@pytest.mark.parametrize("weight", [400, 700])
def test_widths_are_those_of_the_typeface(weight: int) -> None:
    # The font's own table of advances (OpenType 1.9.1, "hmtx"), read by fontTools.
    name = f"atkinson-hyperlegible-next-{weight}.ttf"
    font = TTFont(next(one for one in typefaces(("en",)).files if one.name == name))
    letters, advances, size = font.getBestCmap(), font["hmtx"], font["head"].unitsPerEm
    for code in range(0x20, 0x7F):
        own = advances[letters[code]][0] / size
        assert letter_width(chr(code), bold=weight > 400) == pytest.approx(own, abs=0.011), chr(
            code
        )


def test_a_letter_with_a_mark_is_as_wide_as_without() -> None:
    assert letter_width("é") == letter_width("e")
    assert letter_width("\u0301") == 0


def test_lines_are_counted_as_typst_breaks_them() -> None:
    # Letter is 612 points wide; the margins leave 612 - 85.04 of them (15 mm on each side).
    for count in (2, 4, 6):
        text = " ".join([SENTENCE] * count)
        (said,) = page_texts(pdf_of(f"<h1>Title</h1><p>{text} End</p>"))
        lines = said.splitlines()[1:]
        set_lines = next(n for n, line in enumerate(lines, 1) if line.rstrip().endswith("End"))
        room = (612 - 85.04) / 12
        assert abs(count_lines(((f"{text} End", False),), room) - set_lines) <= 1

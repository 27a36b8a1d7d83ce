"""Engravings are flattened to ink; what is unknown is refused, never dropped."""

from __future__ import annotations

import pytest

from handbook.outputs.engraving.flat_svg import Glyph, UnknownShapeError, flatten

GLYPH = '<g id="E0A4-x1"><path transform="scale(1,-1)" d="M0 -39c0 68z"/></g>'


def drawn(ink: str, glyphs: str = GLYPH) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">'
        f'<defs>{glyphs}</defs><svg viewBox="0 0 900 450.5">'
        f'<g class="page-margin" transform="translate(0, 0)">{ink}</g></svg></svg>'
    )


@pytest.mark.parametrize(
    ("ink", "shapes"),
    [
        ('<path d="M0 540 L6520 540" stroke-width="13"/>', '<path d="M0 540H6520" stroke-width="13" fill="none"/>'),
        ('<path d="M9 540 L9 20" stroke-width="18"/>', '<path d="M9 540V20" stroke-width="18" fill="none"/>'),
        ('<path d="M1 2 L3 4" stroke-width="18"/>', '<path d="M1 2L3 4" stroke-width="18" fill="none"/>'),
        ('<g class="tie"><path d="M5,7 C5,8 5,9 5,7" stroke-width="9"/></g>', '<path d="M5,7 C5,8 5,9 5,7" stroke-width="9"/>'),
        ('<polygon points="1,2 3,2 3,4 1,4"/>', '<path d="M1,2L3,2L3,4L1,4z" stroke="none"/>'),
        ('<polyline points="1,2 3,2 " stroke-width="18" fill="none"/>', '<path d="M1,2L3,2" stroke-width="18" fill="none"/>'),
        ('<ellipse cx="4" cy="6" rx="36" ry="36"/>', '<circle cx="4" cy="6" r="36"/>'),
        ('<rect x="1" y="2" width="3" height="4"/>', '<path d="M1 2h3v4h-3z" stroke="none"/>'),
        ('<use href="#E0A4-x1" transform="translate(825, 1080) scale(0.72, 0.72)"/>', '<use href="#m-E0A4" transform="translate(825 1080)scale(.72)"/>'),
        ('<text x="10" y="20" font-size="0px"><tspan><tspan>1 &amp; </tspan></tspan></text>', '<text x="118" y="20">1 &amp;</text>'),
        ('<text x="10" y="20" text-anchor="middle"><tspan>3</tspan></text>', '<text x="10" y="20">3</text>'),
        ('<text x="10" y="20"> </text>', ""),
        ('<g class="mNum"><text y="3">2</text></g><g class="section placeholder"><ellipse/></g>', ""),
    ],
)  # fmt: skip
def test_shapes_are_written_short(ink: str, shapes: str) -> None:
    assert flatten(drawn(ink)).shapes == shapes


def test_lines_of_one_pen_are_one_path() -> None:
    staff = "".join(f'<path d="M0 {y} L9 {y}" stroke-width="13"/>' for y in (1, 2))
    assert flatten(drawn(staff)).shapes == '<path d="M0 1H9M0 2H9" stroke-width="13" fill="none"/>'


def test_box_and_glyphs_come_along() -> None:
    flat = flatten(drawn(""))
    assert (flat.width, flat.height) == (900, 450)
    assert flat.glyphs == (Glyph("E0A4", "M0 -39c0 68z"),)


@pytest.mark.parametrize(
    "svg",
    [
        drawn("<image/>"),
        drawn('<g transform="translate(0, 20)"><path d=""/></g>'),
        drawn("", '<g id="clef"><path transform="scale(1,-1)" d=""/></g>'),
        drawn("", '<g id="E0A4-x"><path d=""/></g>'),
        '<svg xmlns="http://www.w3.org/2000/svg"/>',
    ],
)
def test_the_unknown_is_refused(svg: str) -> None:
    with pytest.raises(UnknownShapeError):
        flatten(svg)

"""The school's own color on pages: as text, as lines, and as a ground with text on it.

One color is given. In each use it is the nearest shade of it that can be read easily: text at
7 to 1 on every ground (WCAG 2.2, success criterion 1.4.6), lines at 3 to 1 (1.4.11).
"""

from __future__ import annotations

from handbook.domain.colors import contrast, readable_shade, to_lch
from handbook.records import dataclass

DEFAULT_COLOR = "#1f4a5a"
TEXT_RATIO, LINE_RATIO = 7.0, 3.0
WHITE, INK = "#ffffff", "#1f1a14"
# The grounds of the style sheet on which colored text may stand: paper, card, band, every
# other row, found words, now.
LIGHT_GROUNDS = ("#fbf7ee", "#fffdf8", "#efe5cf", "#f6efdf", "#e6e0f2", "#ffedb8")
DARK_GROUNDS = ("#17140f", "#1f1b15", "#2d2619", "#241f16", "#2f2b3d", "#3a2b05")
_PAPERS = 2  # the first of them: lines stand on these alone


@dataclass(frozen=True, slots=True)
class Shades:
    """A color as text, as lines, as a ground, and the color of text on that ground."""

    text: str
    line: str
    ground: str
    on_ground: str


def light_shades(color: str) -> Shades:
    """Give the shades of a color for light pages."""
    ground = readable_ground(color)
    return Shades(
        text=_sure(color, LIGHT_GROUNDS, TEXT_RATIO, darker=True),
        line=_sure(color, LIGHT_GROUNDS[:_PAPERS], LINE_RATIO, darker=True),
        ground=ground,
        on_ground=_text_on(ground),
    )


def dark_shades(color: str) -> Shades:
    """Give the shades of a color for dark pages; its ground is its text's shade, with dark text."""
    text = _sure(color, DARK_GROUNDS, TEXT_RATIO, darker=False)
    return Shades(
        text=text,
        line=_sure(color, DARK_GROUNDS[:_PAPERS], LINE_RATIO, darker=False),
        ground=text,
        on_ground=DARK_GROUNDS[0],
    )


def readable_ground(color: str) -> str:
    """Give the shade nearest to a color on which white or dark text can be read easily.

    That is the color itself if it is dark or light enough; the shade with the smaller step
    of lightness else.
    """
    darker = _sure(color, (WHITE,), TEXT_RATIO, darker=True)
    lighter = _sure(color, (INK,), TEXT_RATIO, darker=False)
    was = to_lch(color).lightness
    return min(darker, lighter, key=lambda shade: abs(to_lch(shade).lightness - was))


def _text_on(ground: str) -> str:
    return max((WHITE, INK), key=lambda text: contrast(text, ground))


def _sure(color: str, grounds: tuple[str, ...], ratio: float, *, darker: bool) -> str:
    """Give a shade on grounds that all are light, or all dark: black or white stands out on them."""
    return readable_shade(color, grounds, ratio, darker=darker) or (INK if darker else WHITE)

"""Colors of the screen: how far two stand apart, and the nearest one that stands far enough apart.

Colors are texts such as `#1f4e8c`. Contrast is that of WCAG 2.2 ("relative luminance" and
"contrast ratio"); shades are made in OKLCH (CSS Color Module Level 4, section 9), in which
equal steps of lightness look equal, and a color keeps its hue.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from handbook.records import dataclass

_CURVED = 0.04045  # of sRGB: below it a part is linear
_STEP = 0.004  # of lightness, 0 to 1: too small to see
_HALVINGS = 12  # of chroma, to the edge of what a screen can show
_SLIP = 0.0001  # of a part, far below one of the 255 steps of a screen

Three = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Lch:
    """A color in OKLCH: lightness 0 to 1, chroma from 0 for gray, hue in radians."""

    lightness: float
    chroma: float
    hue: float


def luminance(color: str) -> float:
    """Give the relative luminance of WCAG 2.2: 0 for black to 1 for white."""
    red, green, blue = _linear(color)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Give the contrast ratio of WCAG 2.2, 1 to 21, never rounded."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def to_lch(color: str) -> Lch:
    """Give a color in OKLCH."""
    red, green, blue = _linear(color)
    long = math.cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue)
    middle = math.cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue)
    short = math.cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue)
    a = 1.9779984951 * long - 2.4285922050 * middle + 0.4505937099 * short
    b = 0.0259040371 * long + 0.7827717662 * middle - 0.8086757660 * short
    return Lch(
        0.2104542553 * long + 0.7936177850 * middle - 0.0040720468 * short,
        math.hypot(a, b),
        math.atan2(b, a),
    )


def from_lch(lch: Lch) -> str:
    """Give the color of a screen; one too strong for it is made paler, in the same hue."""
    parts = _screen(lch)
    if not _can_be_shown(parts):
        low, high = 0.0, lch.chroma
        for _ in range(_HALVINGS):
            middle = (low + high) / 2
            if _can_be_shown(_screen(Lch(lch.lightness, middle, lch.hue))):
                low = middle
            else:
                high = middle
        parts = _screen(Lch(lch.lightness, low, lch.hue))
    return "#" + "".join(f"{round(255 * _curved(min(1.0, max(0.0, part)))):02x}" for part in parts)


def readable_shade(color: str, grounds: Sequence[str], ratio: float, *, darker: bool) -> str | None:
    """Make a color darker, or else lighter, until its contrast with all grounds is the ratio.

    It stays as it is if it has that already; None if not even black, or white, has it.
    """
    return next(
        (
            shade
            for shade in _shades(color, darker=darker)
            if all(contrast(shade, ground) >= ratio for ground in grounds)
        ),
        None,
    )


def _shades(color: str, *, darker: bool) -> Iterable[str]:
    """Give a color, then step by step its shades, to black or white."""
    yield color
    start, steps = to_lch(color), 0
    end = 0.0 if darker else 1.0
    while abs(start.lightness - end) > steps * _STEP:
        steps += 1
        moved = start.lightness + (-steps if darker else steps) * _STEP
        yield from_lch(Lch(min(1.0, max(0.0, moved)), start.chroma, start.hue))


def _linear(color: str) -> Three:
    red, green, blue = (int(color[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return _straight(red), _straight(green), _straight(blue)


def _straight(part: float) -> float:
    return part / 12.92 if part <= _CURVED else float(((part + 0.055) / 1.055) ** 2.4)


def _curved(part: float) -> float:
    return part * 12.92 if part <= _CURVED / 12.92 else float(1.055 * part ** (1 / 2.4) - 0.055)


def _screen(lch: Lch) -> Three:
    """Give the linear parts of red, green and blue, some outside 0 to 1 if too strong."""
    a, b = lch.chroma * math.cos(lch.hue), lch.chroma * math.sin(lch.hue)
    long = (lch.lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (lch.lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lch.lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    return (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )


def _can_be_shown(parts: Three) -> bool:
    return all(-_SLIP <= part <= 1 + _SLIP for part in parts)

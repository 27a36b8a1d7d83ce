"""Contrast by WCAG 2.2; OKLCH by CSS Color Module Level 4."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.colors import Lch, contrast, from_lch, readable_shade, to_lch
from handbook.domain.school_colors import (
    DARK_GROUNDS,
    DEFAULT_COLOR,
    INK,
    LIGHT_GROUNDS,
    WHITE,
    Shades,
    dark_shades,
    light_shades,
    readable_ground,
)
from tests.browser.test_contrast import palettes, ratio

# The same five colors as CSS Color Module Level 4 gives as examples of sRGB ("#7D2329 ...")
# and of oklab() in sections 7 and 9.3: lightness, a, b; its own last digits differ by rounding.
OF_THE_STANDARD = (
    ("#7d2329", 0.40101, 0.1147, 0.0453),
    ("#c65d06", 0.59686, 0.1009, 0.1192),
    ("#9d9318", 0.65125, -0.0320, 0.1274),
    ("#68a639", 0.66016, -0.1084, 0.1114),
    ("#62acef", 0.72322, -0.0465, -0.1150),
)
COLORS = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


@pytest.mark.parametrize(("color", "lightness", "a", "b"), OF_THE_STANDARD)
def test_oklch(color: str, lightness: float, a: float, b: float) -> None:
    lch = to_lch(color)
    assert lch.lightness == pytest.approx(lightness, abs=0.0015)
    assert lch.chroma * math.cos(lch.hue) == pytest.approx(a, abs=0.0015)
    assert lch.chroma * math.sin(lch.hue) == pytest.approx(b, abs=0.0015)


@given(COLORS)
def test_there_and_back(color: str) -> None:
    assert from_lch(to_lch(color)) == color


def test_a_color_too_strong_for_a_screen_keeps_its_lightness_and_hue() -> None:
    made = to_lch(from_lch(Lch(0.7, 0.4, 1.0)))
    assert made.lightness == pytest.approx(0.7, abs=0.01)
    assert made.hue == pytest.approx(1.0, abs=0.03)
    assert made.chroma < 0.4


@given(COLORS, COLORS)
def test_contrast_is_that_of_the_style_tests(one: str, other: str) -> None:
    assert contrast(one, other) == pytest.approx(ratio(one, other))


def test_no_shade_stands_out_on_black_and_on_white() -> None:
    assert readable_shade("#808080", ["#000000", "#ffffff"], 7, darker=True) is None


@given(COLORS)
def test_every_shade_of_every_color_can_be_read(color: str) -> None:
    for shades, grounds in (
        (light_shades(color), LIGHT_GROUNDS),
        (dark_shades(color), DARK_GROUNDS),
    ):
        assert all(ratio(shades.text, ground) >= 7 for ground in grounds)
        assert all(ratio(shades.line, ground) >= 3 for ground in grounds[:2])
        assert ratio(shades.on_ground, shades.ground) >= 7


@given(COLORS)
def test_a_color_that_can_be_read_stays_as_it_is(color: str) -> None:
    if max(ratio(color, WHITE), ratio(color, INK)) >= 7:
        assert readable_ground(color) == color
    else:
        assert readable_ground(color) != color


@pytest.mark.parametrize(
    ("palette", "grounds", "shades"),
    [
        ("light", LIGHT_GROUNDS, light_shades(DEFAULT_COLOR)),
        ("dark chosen", DARK_GROUNDS, dark_shades(DEFAULT_COLOR)),
    ],
)
def test_the_style_sheet_has_these_grounds_and_the_usual_color(
    palette: str, grounds: tuple[str, ...], shades: Shades
) -> None:
    colors = palettes()[palette]
    names = ("paper", "card", "band", "band-odd", "mark", "now")
    assert tuple(colors[name] for name in names) == grounds
    told = (colors["metal"], colors["metal-line"], colors["school"], colors["on-school"])
    assert told == (shades.text, shades.line, shades.ground, shades.on_ground)

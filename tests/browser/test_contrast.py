"""Every text colour on every ground it may stand on, in light and dark, at 7:1 or more.

WCAG 2.2: the formula of "relative luminance" and "contrast ratio", and SC 1.4.6 (AAA) for
the 7:1 that we hold ourselves to; SC 1.4.11 asks 3:1 of lines that carry meaning.
"""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

PARTS = Path(__file__).resolve().parents[2] / "site_templates" / "joined" / "handbook.css"
STYLES = "".join(part.read_text() for part in sorted(PARTS.glob("*.css")))
_BLOCK = re.compile(r"(:root[^{}]*)\{([^{}]*--paper:[^{}]*)\}")
_VARIABLE = re.compile(r"--([\w-]+):\s*(#[0-9a-f]{3,6})\b")
_CURVED = 0.04045


def luminance(colour: str) -> float:
    """Relative luminance, 0 for black to 1 for white."""
    digits = colour.lstrip("#")
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= _CURVED else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def ratio(one: str, other: str) -> float:
    """Contrast, 1 to 21, never rounded."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


# Reckoned by the formula of WCAG 2.2, "contrast ratio", to four places.
PAIRS = (
    ("#000", "#fff", 21.0),
    ("#767676", "#fff", 4.5422),
    ("#777777", "#fff", 4.4781),
    ("#949494", "#fff", 3.0335),
    ("#595959", "#fff", 7.0047),
    ("#5a5a5a", "#fff", 6.8969),
    ("#757575", "#000", 4.5578),
    ("#0000ff", "#fff", 8.5925),
    ("#ff0000", "#fff", 3.9985),
    ("#008000", "#fff", 5.1374),
    ("#ffff00", "#000", 19.5560),
    ("#ffff00", "#fff", 1.0738),
    ("#808080", "#000", 5.3172),
    ("#737373", "#f5f5f5", 4.3492),
)


@pytest.mark.parametrize(("one", "other", "expected"), PAIRS)
def test_the_formula(one: str, other: str, expected: float) -> None:
    assert ratio(one, other) == pytest.approx(expected, abs=5e-5)
    assert ratio(other, one) == ratio(one, other)


def palettes() -> dict[str, dict[str, str]]:
    """The colours of the style sheet: light, dark by choice, dark by the device."""
    found = [
        (selector.strip(), dict(_VARIABLE.findall(body)))
        for selector, body in _BLOCK.findall(STYLES)
    ]
    names = ("light", "dark chosen", "dark device", "print")
    assert len(found) == len(names), [selector for selector, _ in found]
    light = found[0][1]
    return {name: light | colours for name, (_, colours) in zip(names, found, strict=True)}


TEXTS = ("ink", "soft", "metal", "now-ink")
GROUNDS = ("paper", "card", "band", "band-odd", "mark", "now")
# Text in a ground's colour: the concert card, the pressed button, the skip link.
TURNED = (("paper", "ink"), ("paper", "metal"), ("on-school", "school"))


@pytest.mark.parametrize("palette", ["light", "dark chosen", "dark device", "print"])
@pytest.mark.parametrize(("text", "ground"), [*product(TEXTS, GROUNDS), *TURNED])
def test_text_stands_out(palette: str, text: str, ground: str) -> None:
    colours = palettes()[palette]
    assert ratio(colours[text], colours[ground]) >= 7


@pytest.mark.parametrize("palette", ["light", "dark chosen", "dark device"])
@pytest.mark.parametrize("ground", ["paper", "card"])
def test_lines_that_carry_meaning_stand_out(palette: str, ground: str) -> None:
    colours = palettes()[palette]
    assert ratio(colours["metal-line"], colours[ground]) >= 3
    assert ratio(colours["now-line"], colours[ground]) >= 3
    assert ratio(colours["soft"], colours[ground]) >= 3  # the frame of the search box


def test_dark_is_the_same_whether_chosen_or_the_devices_own() -> None:
    found = palettes()
    assert found["dark chosen"] == found["dark device"]


def test_dark_changes_colours_alone() -> None:
    """So what is measured in light, but for colours, need not be measured again in dark."""
    told = re.findall(
        r"[^{}]*(?:data-theme|prefers-color-scheme)[^{}]*\{(?:[^{}]*\{)?([^{}]*)\}", STYLES
    )
    assert len(told) == 3  # chosen, the device's own, print
    for block in told:
        for declaration in filter(None, (line.strip() for line in block.split(";"))):
            name, _, value = declaration.partition(":")
            assert name == "color-scheme" or (name.startswith("--") and value.startswith("#"))


HAIRLINES = ("0", "1px solid var(--line)")  # no meaning and no ground: a stacked table's rows


def test_no_width_changes_a_colour() -> None:
    """So what is shown on a phone and on a laptop has the same colours on both."""
    of_width = re.findall(r"@media \((?:min|max)-width:[^{]*\{((?:[^{}]*\{[^{}]*\})+)\s*\}", STYLES)
    assert len(of_width) == len(re.findall(r"@media \([^)]*width", STYLES)) > 10
    names = {
        declaration.partition(":")[0].strip()
        for block in of_width
        for rule in re.findall(r"\{([^{}]*)\}", block)
        for declaration in rule.split(";")
        if declaration.partition(":")[2] not in HAIRLINES
    }
    colouring = ("--", "color", "background", "border", "fill", "stroke", "opacity", "filter")
    assert [name for name in names if name.startswith(colouring)] == []

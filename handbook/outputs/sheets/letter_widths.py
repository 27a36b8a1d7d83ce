"""How wide letters of the text typeface are, so that lines can be counted before they are set."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache

_REGULAR = {
    16: "'", 21: ",.:;", 24: "`j|", 25: "i", 26: "l", 28: " ", 29: "!", 30: '"()', 31: "f",
    32: "[", 33: "t", 34: "]{}", 35: "r", 36: "-", 37: "_", 39: "/I\\", 41: "1", 45: "y",
    46: "vz", 47: "s", 48: "*?cx", 49: "k", 51: "7J", 52: "a", 54: "Leu", 55: "2<>F^hno",
    56: "Tdg~", 57: "EYbpq", 58: "3", 59: "$5PSV", 60: "69", 61: "+4BRZ", 62: "8X", 63: "=AK",
    64: "C", 65: "#0", 67: "D", 68: "w", 69: "GHNU", 71: "O", 72: "Q", 73: "&", 78: "@", 82: "M",
    84: "m", 86: "W", 92: "%",
}  # fmt: skip
_BOLD = {
    21: "'", 25: "|", 26: "j", 27: ",.:;", 29: "`", 30: "!i", 31: " ", 32: "l", 34: "()[]",
    36: "f", 37: "-", 38: "rt{}", 39: '"', 40: "_", 42: "I", 44: "/1\\", 48: "*", 50: "z",
    51: "cs", 52: "y", 53: "v", 54: "7x~", 55: "?La", 56: "Jek", 57: "9<>Fhnu", 58: "2^o",
    59: "g", 60: "+3Ebdpq", 61: "$5=ST", 62: "48Z", 63: "6P", 64: "BV", 65: "RY", 66: "0CK",
    68: "AX", 69: "DU", 70: "H", 72: "&GN", 74: "w", 75: "O", 76: "#Q", 78: "@", 86: "M", 88: "m",
    89: "W", 97: "%",
}  # fmt: skip
"""Letters by their widths in hundredths of their size: Atkinson Hyperlegible Next at the weights 400 and 700."""
_OTHER, _ARABIC, _FINAL = 60, 45, 40
"""Letters of other alphabets, about; those of Arabic are joined, and wider where a word ends."""
_CLOSER = 0.03
"""By how much pairs of letters come closer in a line, at least."""
_NO_WIDTH = frozenset({"Mn", "Me", "Cf"})
_NO_BREAK = "\u00a0"


@cache
def _widths(*, bold: bool) -> dict[str, int]:
    table = _BOLD if bold else _REGULAR
    return {letter: width for width, letters in table.items() for letter in letters}


@cache
def letter_width(letter: str, *, bold: bool = False) -> float:
    """Give how wide a letter is, in parts of its size; one with a mark is as wide as it is without."""
    if letter == _NO_BREAK:
        return letter_width(" ", bold=bold)
    if unicodedata.category(letter) in _NO_WIDTH:
        return 0
    base = unicodedata.normalize("NFD", letter)[0]
    other = _ARABIC if is_arabic(base) else _OTHER
    return _widths(bold=bold).get(base, other) / 100


def is_arabic(letter: str) -> bool:
    """Whether a letter is one of the Arabic alphabet."""
    return "\u0600" <= letter <= "\u06ff"


def text_width(text: str, *, bold: bool = False) -> float:
    """Give how wide a word is, in parts of its letters' size."""
    final = _FINAL / 100 if is_arabic(text[-1:]) else 0
    return final + sum(letter_width(letter, bold=bold) for letter in text)


def count_lines(runs: tuple[tuple[str, bool], ...], room: float) -> int:
    """Count the lines that runs of text take, each bold or not, in a room given in letters' sizes.

    Lines break at spaces alone; a word that is wider than the room has a line.
    """
    count, taken = 0, 0.0
    for width, space in _words(runs):
        if not count or taken + space + width > room + _CLOSER:
            count, taken = count + 1, width
        else:
            taken += space + width
    return count


def _words(runs: tuple[tuple[str, bool], ...]) -> Iterator[tuple[float, float]]:
    """Give the width of each word, and that of the space before it."""
    for text, bold in runs:
        for word in text.split(" "):
            if word:
                yield text_width(word, bold=bold), letter_width(" ", bold=bold)

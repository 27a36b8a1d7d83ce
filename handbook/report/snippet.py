"""A line of a file with a mark under the exact place."""

from __future__ import annotations

import re
import unicodedata

from handbook.problems import Position
from handbook.records import dataclass
from handbook.report.places import UNSEEN
from handbook.source.decoding import HIDDEN

_WIDTH = 96
_CONTEXT = 24  # characters kept before the marked ones when a line is too long
_TAB, _ODD_SPACE = "→", "␣"
_ODD_SPACES = re.compile("[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")


@dataclass(frozen=True, slots=True)
class Snippet:
    """The line's number and text, and the line of marks below it."""

    number: str
    text: str
    marks: str


def snippet(line: str, at: Position) -> Snippet:
    """Show a line with carets under the place, as `parted` gives it.

    Carets allow for characters that take two columns, and for those that take none.
    """
    before, marked, after = parted(line, at)
    marks = " " * _columns(before) + "^" * max(1, _columns(marked))
    return Snippet(str(at.line), f"{before}{marked}{after}", marks)


def parted(line: str, at: Position) -> tuple[str, str, str]:
    """Give what stands before `at.length` characters from `at.column`, they, and what follows.

    A tab is shown as an arrow and other spaces and unseen characters by signs, so that
    they can be seen; a long line is cut to what is around the place.
    """
    shown = _visible(line)
    start, end = at.column - 1, min(at.column - 1 + at.length, len(shown))
    shown, start, end = _cut(shown, start, max(end, start))
    return shown[:start], shown[start:end], shown[end:]


def _visible(line: str) -> str:
    seen = HIDDEN.sub(UNSEEN, line.rstrip("\r\n").replace("\t", _TAB))
    return _ODD_SPACES.sub(_ODD_SPACE, seen).rstrip()


def _cut(text: str, start: int, end: int) -> tuple[str, int, int]:
    if len(text) <= _WIDTH:
        return text, start, end
    first = max(0, start - _CONTEXT) if start + _CONTEXT > _WIDTH or end > _WIDTH else 0
    last = min(len(text), first + _WIDTH)
    lead, tail = ("…" if first else ""), ("…" if last < len(text) else "")
    shift = len(lead) - first
    return f"{lead}{text[first:last]}{tail}", start + shift, min(end, last) + shift


def _columns(text: str) -> int:
    return sum(_column(letter) for letter in text)


def _column(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if unicodedata.east_asian_width(letter) in {"W", "F"} else 1

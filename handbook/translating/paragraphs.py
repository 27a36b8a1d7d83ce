"""Free pages as paragraphs, each of which is translated by itself."""

from __future__ import annotations

import re

from handbook.records import dataclass

_BETWEEN = re.compile(r"\n(?:[ \t]*\n)+")


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A run of lines without an empty one; it begins at `line`, counted from 1."""

    words: str
    line: int


def paragraphs(text: str) -> tuple[Paragraph, ...]:
    """Part a page at its empty lines; its title is the first."""
    found, at = list[Paragraph](), 0
    for gap in (*_BETWEEN.finditer(text), None):
        end = gap.start() if gap else len(text)
        words = text[at:end].strip("\n")
        if words.strip():
            lead = len(text[at:end]) - len(text[at:end].lstrip("\n"))
            found.append(Paragraph(words, text.count("\n", 0, at + lead) + 1))
        at = gap.end() if gap else end
    return tuple(found)

"""Lists as people write them, made into lists as Python-Markdown reads them.

Python-Markdown wants four spaces before what belongs to a list item, and an empty line
before a list. CommonMark 0.31 (5.2), and so most editors and writers, take what is set in
as far as the item's own text, and need no empty line. What suits both is left as it is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

_ITEM = re.compile(r"(?P<mark>[-*+]|\d{1,9}[.)])(?P<gap>[ ]+|$)")
_RULE = re.compile(r"([-*_])[ ]*(?:\1[ ]*){2,}$")
_HEADING = re.compile(r"#{1,6}[ ]")
# What holds the lines set in by four after it: a note, a fold, a footnote, a definition.
_HOLDER = re.compile(r"(?:!!!|\?\?\?\+?)[ ]|\[\^[^\]]*\]:|:[ ]{1,3}\S")
_QUOTED = re.compile(r"[ ]{0,3}>[ ]?")
_TABLE_RULE = re.compile(r"[|:\- ]*-[|:\- ]*$")
_STEP = 4


def set_in_by_four(lines: Sequence[str]) -> list[str]:
    """Give the lines with lists set in by fours, and an empty line before each list.

    Tabs must be spaces, and fenced code must have been taken out before.
    """
    done: list[str] = []
    for quoted, group in groupby(
        _OpenLists().read(lines), key=lambda line: bool(_QUOTED.match(line))
    ):
        if quoted:
            inner = set_in_by_four([_QUOTED.sub("", line, count=1) for line in group])
            done += [f"> {line}" for line in inner]
        else:
            done += group
    return done


@dataclass(slots=True)
class _Open:
    """An item or a holder: where its text begins as written, and where it is to begin."""

    written: int
    wanted: int
    item: bool
    numbered: bool = False
    parted: bool = False
    """Whether an empty line stands in it."""


class _OpenLists:
    """What is open at a line."""

    def __init__(self) -> None:
        self._open: list[_Open] = []
        self._before = ""  # the line before, less its indent

    def read(self, lines: Sequence[str]) -> Iterator[str]:
        for number, line in enumerate(lines):
            text = line.strip(" ") and line.lstrip(" ")
            if text:
                following = lines[number + 1] if number + 1 < len(lines) else ""
                yield from self._line(text, len(line) - len(text), following)
            else:
                for place in self._open:
                    place.parted = True
                yield ""
            self._before = text

    def _line(self, text: str, indent: int, following: str) -> Iterator[str]:
        mark = None if _RULE.match(text) else _ITEM.match(text)
        left = self._leave(indent, begins=bool(mark or _RULE.match(text) or _HEADING.match(text)))
        here = self._open[-1] if self._open else _Open(0, 0, item=False)
        extra = max(0, indent - here.written)
        if extra >= _STEP:  # code, or the rest of a paragraph
            yield " " * (here.wanted + extra) + text
            return
        if self._before and _needs_room(mark, text, following, here, left):
            yield ""
        if mark:
            yield " " * here.wanted + self._item(mark, indent, here.wanted)
            return
        yield " " * here.wanted + text
        if _HOLDER.match(text):
            self._open.append(_Open(indent + _STEP, here.wanted + _STEP, item=False))

    def _leave(self, indent: int, *, begins: bool) -> list[_Open]:
        """Close what a line at `indent` is not in, and give the items closed.

        A line that begins nothing may go on with an item's paragraph from further out.
        """
        left = []
        while self._open and indent < self._open[-1].written:
            if self._open[-1].item and self._before and not begins:
                break
            left.append(self._open.pop())
        return [place for place in left if place.item]

    def _item(self, mark: re.Match[str], indent: int, wanted: int) -> str:
        gap = len(mark["gap"])
        width = len(mark["mark"]) + (gap if 0 < gap <= _STEP else 1)
        numbered = mark["mark"][0].isdigit()
        self._open.append(_Open(indent + width, wanted + _STEP, item=True, numbered=numbered))
        return f"{mark['mark'].replace(')', '.')}{mark['gap'] or ' '}{mark.string[mark.end() :]}"


def _needs_room(
    mark: re.Match[str] | None, text: str, following: str, here: _Open, left: Sequence[_Open]
) -> bool:
    """Whether what begins here would be swallowed by the line before it.

    A list after a paragraph must begin with 1, or a year at the start of a line would be one.
    """
    if not mark:
        table = "|" in text and _TABLE_RULE.match(following.strip())
        return not here.item and bool(table) and "|" in following
    numbered = mark["mark"][0].isdigit()
    if left or here.item:
        other_kind = bool(left) and left[-1].numbered != numbered
        return other_kind or any(place.parted for place in left or (here,))
    return not numbered or mark["mark"][:-1] == "1"

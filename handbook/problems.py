"""Problems: what is wrong in the author's files, as plain data."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from enum import StrEnum
from textwrap import indent
from typing import Self

from handbook.records import dataclass

Address = tuple[str | int, ...]
"""A file (relative to the content folder), then keys and list places down to the item."""


MOST_OF_A_KIND = 300
"""More problems of one kind are counted only: whoever has so many needs no further ones."""


class Severity(StrEnum):
    """An error stops the build; a warning is shown and does not."""

    ERROR = "error"
    WARNING = "warning"


class Code(str):
    """The code of a problem, with what `handbook explain` prints of it.

    It stands where the problem is raised, once; in every other way it is the text of the code.
    """

    __slots__ = ("explanation",)
    explanation: str

    def __new__(cls, code: str, rule: str, why: str = "", *, bad: str, good: str) -> Self:
        """Make a code; `rule` and `why` are sentences, `bad` and `good` snippets of content."""
        made = super().__new__(cls, code)
        snippets = ("Bad:", indent(bad, "    "), "Good:", indent(good, "    "))
        made.explanation = "\n\n".join((rule, *((why,) if why else ()), *snippets))
        return made

    def __reduce__(self) -> tuple[type[str], tuple[str]]:
        """Travel as the plain text."""
        return str, (str(self),)


@dataclass(frozen=True, slots=True)
class Position:
    """A place in a file: `line` and `column` count from 1; `length` in characters."""

    line: int
    column: int
    length: int = 1


@dataclass(frozen=True, slots=True)
class Note:
    """A second place that the problem is about, and what stands there."""

    message: str
    address: Address
    position: Position | None = None


@dataclass(frozen=True, slots=True)
class Edit:
    """One change of a file: `text` in place of what stands at `position`, and so long.

    Of length 0 it is put in front of what stands there.
    """

    position: Position
    text: str


@dataclass(frozen=True, slots=True)
class Fix:
    """The one way in which a problem can be mended, said where the problem is raised; for `handbook fix`.

    One of: `word`, the value (or the name of a field) in place of the one that the problem
    is about; `items`, several items in place of the one there, or a list of them in place of
    a single text; `edits`, where the place is known already; `rename`, the file's new path.
    What is there and in which quotes, only who mends looks up.
    """

    word: str = ""
    items: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = ()
    rename: str = ""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing for the author to mend.

    `message` is one lower-case sentence without a full stop; `hint` says what to do.
    `position` is set only where no address can lead to the place (broken YAML);
    else the report looks the address up. `on_key` points at the key, not its value. `more`
    counts others of the kind in the file that are not told one by one. `fix` is there only
    if one mend alone can be meant.
    """

    code: str
    message: str
    address: Address
    hint: str = ""
    severity: Severity = Severity.ERROR
    notes: tuple[Note, ...] = ()
    position: Position | None = None
    on_key: bool = False
    more: int = 0
    fix: Fix | None = None

    @property
    def file(self) -> str:
        """The content file, relative, with forward slashes."""
        return str(self.address[0]) if self.address else ""


def first_of_each(problems: Iterable[Problem], most: int = MOST_OF_A_KIND) -> tuple[Problem, ...]:
    """Keep at most `most` problems of each kind in a file, and count the others in the last of them."""
    kept: list[Problem] = []
    found: dict[tuple[str, str, Severity], list[int]] = {}
    for problem in problems:
        places = found.setdefault((problem.file, problem.code, problem.severity), [])
        if len(places) < most:
            places.append(len(kept))
            kept.append(problem)
        else:
            last = kept[places[-1]]
            kept[places[-1]] = replace(last, more=last.more + 1 + problem.more)
    return tuple(kept)


COLON_IN_TEXT = Code(
    "colon-in-text",
    "A text has a colon and a space in it.",
    "A colon and a space end the name of a field. A text that has them needs quotes.",
    bad="name: Concert: Winter",
    good='name: "Concert: Winter"',
)
"""Raised by the reader, and by the field of a text that came out as an entry."""
TEXT_TOO_LONG = Code(
    "text-too-long",
    "A text is longer than any that fits its place.",
    "A name or title may have 200 letters, a text of sentences 5,000 and 400 signs such as `*`, a date or a tempo 100; a page 30,000, with no more than 300 lines or links between two empty lines, and all pages 400,000. Longer ones are most often a file pasted into a field.",
    bad="title: A march in three parts, which was written in the year that ...   # and 300 letters more",
    good="title: A march in three parts",
)
"""Raised for a line that no file should have, and by fields."""

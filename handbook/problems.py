"""Problems: what is wrong in the author's files, as plain data."""

from __future__ import annotations

from enum import StrEnum
from textwrap import indent
from typing import Self

from handbook.records import dataclass

Address = tuple[str | int, ...]
"""A file (relative to the content folder), then keys and list places down to the item."""


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
class Problem:
    """One thing for the author to mend.

    `message` is one lower-case sentence without a full stop; `hint` says what to do.
    `position` is set only where no address can lead to the place (broken YAML);
    else the report looks the address up. `on_key` points at the key, not its value.
    """

    code: str
    message: str
    address: Address
    hint: str = ""
    severity: Severity = Severity.ERROR
    notes: tuple[Note, ...] = ()
    position: Position | None = None
    on_key: bool = False

    @property
    def file(self) -> str:
        """The content file, relative, with forward slashes."""
        return str(self.address[0]) if self.address else ""


COLON_IN_TEXT = Code(
    "colon-in-text",
    "A text has a colon and a space in it.",
    "A colon and a space end the name of a field. A text that has them needs quotes.",
    bad="name: Concert: Winter",
    good='name: "Concert: Winter"',
)
"""Raised by the reader, and by the field of a text that came out as an entry."""

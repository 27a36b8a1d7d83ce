"""Problems: what is wrong in the author's files, as plain data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Address = tuple[str | int, ...]
"""A file (relative to the content folder), then keys and list places down to the item."""


class Severity(StrEnum):
    """An error stops the build; a warning is shown and does not."""

    ERROR = "error"
    WARNING = "warning"


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

"""Where the reading of a file broke off, and what stands around that place."""

from __future__ import annotations

import re
from collections.abc import Sequence

from handbook.problems import Position, Problem
from handbook.records import dataclass

FAR = 50  # lines looked back for an opening quote or bracket
FIELD = re.compile(r"\s*(?:- +)*(?P<name>[^\s\[{\"'#:-][^:#]*):(?=\s|$)\s*(?P<value>.*)")
REMARK = re.compile(r"(?<!\s)\s+#.*$|^\s+#.*$")
_LEAD = re.compile(r"\s*(?:- +)*")


@dataclass(frozen=True, slots=True)
class Stop:
    """Where reading stopped and where what was being read began; both count from 0.

    `said` is the parser's reason, in lower case.
    """

    file: str
    lines: Sequence[str]
    said: str
    line: int
    column: int
    from_line: int
    from_column: int

    @property
    def text(self) -> str:
        """The line at which reading stopped."""
        return self.lines[self.line]

    @property
    def at_start(self) -> bool:
        """Whether only spaces come before the place on its line."""
        return not self.text[: self.column].strip()

    @property
    def above(self) -> int | None:
        """The nearest line above that holds more than a remark."""
        for number in range(self.line - 1, -1, -1):
            bare = self.lines[number].strip()
            if bare and not bare.startswith("#"):
                return number
        return None

    def problem(
        self, code: str, message: str, hint: str, line: int, column: int, length: int = 1
    ) -> Problem:
        """Make a problem; `line` and `column` count from 0."""
        at = Position(line + 1, column + 1, max(1, length))
        return Problem(code, message, (self.file,), hint, position=at)


def suspects(stop: Stop) -> tuple[int, ...]:
    """Give the lines on which the slip may be, the likeliest first."""
    above = () if stop.above is None else (stop.above,)
    return tuple(dict.fromkeys((stop.line, stop.from_line, *above)))


def lead(line: str) -> int:
    """Count the characters before a line's own text: spaces and list hyphens."""
    found = _LEAD.match(line)
    return found.end() if found else 0


def indent_of(line: str) -> int:
    """Count the spaces before a line's first sign."""
    return len(line) - len(line.lstrip())

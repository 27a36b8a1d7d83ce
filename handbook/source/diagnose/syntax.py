"""A broken file to one problem: the likely slip, its place and a way to mend it.

The parser's own words name the place where it gave up, seldom the slip; so each look goes
by the lines around that place.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import yaml

from handbook.problems import Code, Position, Problem
from handbook.source.diagnose import layout, punctuation
from handbook.source.diagnose.stop import Stop, indent_of
from handbook.source.nodes import too_deep

UNREADABLE_LINE = Code(
    "unreadable-line",
    "A line cannot be read, and it is not clear why.",
    "Look at its indent, its quotes, brackets and colons, and at the line above. Text with signs in it is safest in quotes.",
    bad=":",
    good="name: Winter cycle",
)
SECOND_DOCUMENT = Code(
    "second-document",
    "A line of three hyphens stands inside a file.",
    "It would begin a second document; each file is one.",
    bad="name: Winter cycle\n---\nyear: 2026-27",
    good="name: Winter cycle\nyear: 2026-27",
)

Look = Callable[[Stop], Problem | None]


def explain(file: str, text: str, error: yaml.YAMLError) -> Problem:
    """Turn the parser's error into one problem, with its place and a way to mend it."""
    stop = _stop(file, text.split("\n"), error)
    for look in _LOOKS:
        problem = look(stop)
        if problem is not None:
            return problem
    return stop.problem(
        UNREADABLE_LINE,
        "this line, or the one above it, cannot be read",
        "check its indent, its quotes and its brackets; text with signs in it is safest in quotes",
        stop.line,
        indent_of(stop.text),
        len(stop.text.strip()),
    )


def _stop(file: str, lines: Sequence[str], error: yaml.YAMLError) -> Stop:
    said = " ".join(
        str(part) for part in (getattr(error, "context", ""), getattr(error, "problem", "")) if part
    )
    at = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    start = getattr(error, "context_mark", None) or at
    line, column = (at.line, at.column) if at else (0, 0)
    while line > 0 and (line >= len(lines) or not lines[line].strip()):
        line, column = line - 1, len(lines[min(line - 1, len(lines) - 1)])
    from_line, from_column = (start.line, start.column) if start else (line, column)
    return Stop(
        file, lines, said.lower(), line, column, min(from_line, len(lines) - 1), from_column
    )


def _second_document(stop: Stop) -> Problem | None:
    if "single document" not in stop.said and not stop.text.startswith("---"):
        return None
    return stop.problem(
        SECOND_DOCUMENT,
        "a line of three hyphens starts a second document, and a file holds one",
        "remove the line, or move what follows to a file of its own",
        stop.line,
        0,
        3,
    )


def _too_deep(stop: Stop) -> Problem | None:
    if "nesting depth" not in stop.said:
        return None
    return too_deep((stop.file,), Position(stop.line + 1, stop.column + 1))


_LOOKS: tuple[Look, ...] = (
    _too_deep,
    layout.tab,
    layout.odd_space_here,
    _second_document,
    punctuation.stray_backslash,
    punctuation.unclosed_quote,
    punctuation.special_sign,
    punctuation.curly_quote,
    layout.tight_colon,
    layout.colon_in_text,
    layout.missing_name,
    layout.missing_colon,
    punctuation.bracket,
    punctuation.text_after_quote,
    layout.uneven_indent,
)

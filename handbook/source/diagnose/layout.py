"""Broken reading because of how a line is laid out: tabs, spaces, colons, hyphens, indents."""

from __future__ import annotations

import re
from dataclasses import replace

from handbook.problems import COLON_IN_TEXT, Code, Edit, Fix, Position, Problem
from handbook.source.diagnose.stop import FAR, FIELD, REMARK, Stop, indent_of, lead, suspects
from handbook.source.lint import (
    ODD_SPACES,
    no_space_after_colon,
    no_space_after_hyphen,
    odd_space,
    space_at,
)
from handbook.source.nodes import odd_name
from handbook.source.quoting import in_quotes

TAB_INDENT = Code(
    "tab-indent",
    "A tab stands at the start of a line.",
    "Editors show tabs at different widths, so indents are made of spaces only. Most editors can turn all tabs of a file into spaces.",
    bad="stages:\n→- id: build   # where → is a tab",
    good="stages:\n  - id: build",
)
MISSING_COLON = Code(
    "missing-colon",
    "A line is neither a field nor part of one.",
    "A field is its name, a colon, a space, and then its text.",
    bad="name Winter cycle\nyear: 2026-27",
    good="name: Winter cycle\nyear: 2026-27",
)
UNEVEN_INDENT = Code(
    "uneven-indent",
    "A line does not line up with those above it.",
    "Fields of one entry begin in the same column; what belongs to a field is further right. An item of a list begins with a hyphen, and its other fields line up with the first.",
    bad="stages:\n  - id: build\n   share: 2",
    good="stages:\n  - id: build\n    share: 2",
)

_TIGHT_FIELD = re.compile(r"\s*(?:- +)*(?P<name>[A-Za-z_][\w-]*):(?P<value>[^\s:/].*)")
_ODD = re.compile(rf"^\s*[{ODD_SPACES}]|(?:\w:|^\s*-)(?=[{ODD_SPACES}])")


def tab(stop: Stop) -> Problem | None:
    """Find a tab at the start of a line, or where reading stopped."""
    for number in suspects(stop):
        found = re.match(r" *\t+", stop.lines[number])
        if found:
            others = sum(1 for line in stop.lines if re.match(r" *\t", line)) - 1
            more = f" and of {others} more" if others else ""
            return stop.problem(
                TAB_INDENT,
                f"a tab stands at the start of this line{more}, where only spaces are read",
                "replace each tab by two spaces",
                number,
                found[0].index("\t"),
            )
    if stop.text[stop.column : stop.column + 1] == "\t":
        return stop.problem(
            TAB_INDENT,
            "a tab stands where a space is wanted",
            "replace the tab by a space",
            stop.line,
            stop.column,
        )
    return None


def odd_space_here(stop: Stop) -> Problem | None:
    """Find a pasted space at the start of a line, or after a colon or hyphen."""
    for number in suspects(stop):
        found = _ODD.search(stop.lines[number])
        if found:
            line = stop.lines[number]
            column = next(n for n, letter in enumerate(line) if re.match(f"[{ODD_SPACES}]", letter))
            return odd_space((stop.file,), Position(number + 1, column + 1))
    return None


def tight_colon(stop: Stop) -> Problem | None:
    """Find a field whose colon has no space behind it."""
    if not _about_colon(stop):
        return None
    for number in suspects(stop):
        found = _TIGHT_FIELD.match(stop.lines[number])
        if found and not FIELD.match(stop.lines[number]):
            at = Position(number + 1, found.end("name") + 1)
            told = no_space_after_colon((stop.file,), found["name"], found["value"], at)
            return replace(told, fix=space_at(replace(at, column=at.column + 1)))
    return None


def _about_colon(stop: Stop) -> bool:
    return "mapping values are not allowed" in stop.said or "find expected ':'" in stop.said


def colon_in_text(stop: Stop) -> Problem | None:
    """Find a second colon and space on a line, which would make its text a field."""
    if "mapping values are not allowed" not in stop.said:
        return None
    field = FIELD.match(stop.text)
    if not field or field.end("name") >= stop.column:
        return None
    value = REMARK.sub("", field["value"]).strip()
    told = stop.problem(
        COLON_IN_TEXT,
        "a colon inside a text looks like the start of another field",
        f"put the text in quotes: {field['name'].strip()}: {in_quotes(value)}",
        stop.line,
        stop.column,
    )
    if not value[0].isalnum():
        return told
    at = Position(stop.line + 1, field.start("value") + 1, len(value))
    return replace(told, fix=Fix(edits=(Edit(at, in_quotes(value)),)))


def missing_name(stop: Stop) -> Problem | None:
    """Find a colon with nothing before it."""
    column = lead(stop.text)
    if not stop.text[column:].startswith((": ", ":\t")):
        return None
    at = Position(stop.line + 1, column + 1)
    return odd_name((stop.file,), at)


def missing_colon(stop: Stop) -> Problem | None:
    """Find a line that is no field and goes on with none."""
    if not _about_colon(stop):
        return None
    number = stop.above if "mapping values" in stop.said else stop.from_line
    if number is None or ":" in stop.lines[number]:
        return None
    line = stop.lines[number]
    indent = indent_of(line)
    if re.match(r"-[^\s-]", line.strip()):
        at = Position(number + 1, indent + 1, len(line.strip()))
        told = no_space_after_hyphen((stop.file,), line.strip()[1:], at)
        return replace(told, fix=space_at(replace(at, column=at.column + 1)))
    same_indent = indent == indent_of(stop.text)
    if "mapping values" in stop.said and not same_indent:
        return None
    word = line.split()[0] if line.split() else ""
    return stop.problem(
        MISSING_COLON,
        "this line has no colon, so it is neither a field nor part of one",
        f"write `{word}: …` if it is a field; indent the line if it goes on with the text above",
        number,
        indent,
        len(line.strip()),
    )


def uneven_indent(stop: Stop) -> Problem | None:
    """Find a line that begins in a column where none above it begins."""
    if not stop.at_start and "mapping values" not in stop.said:
        return None
    column = indent_of(stop.text)
    above = stop.above
    if above is None:
        return None
    columns = _columns_above(stop)
    return stop.problem(
        UNEVEN_INDENT,
        "this line does not line up with the lines above it",
        _indent_hint(stop, column, columns),
        stop.line,
        column,
        len(stop.text.strip()),
    )


def _columns_above(stop: Stop) -> dict[int, tuple[int, str]]:
    """Map each column at which a line may begin here to the last line that begins there.

    A list item counts twice: at its hyphen and at what follows the hyphen.
    """
    columns: dict[int, tuple[int, str]] = {}
    least = 10**6
    for number in range(stop.line - 1, max(-1, stop.line - FAR), -1):
        line = stop.lines[number]
        bare = line.strip()
        if not bare or bare.startswith("#"):
            continue
        indent = indent_of(line)
        inner = lead(line)
        for column in {indent, inner}:
            if column < least:
                columns.setdefault(column, (number, bare))
        least = min(least, indent) if indent < least else least
    return columns


def _indent_hint(stop: Stop, column: int, columns: dict[int, tuple[int, str]]) -> str:
    here = columns.get(column)
    if here and here[1].startswith("-") and not stop.text.strip().startswith("-"):
        return (
            "put `- ` in front if this begins a new item of the list; "
            "add two spaces in front if it goes on with the item above"
        )
    if here and stop.text.strip().startswith("-"):
        return f"a list belongs below the name of its field, and no field is open here; see line {here[0] + 1}"
    near = sorted(columns, key=lambda other: (abs(other - column), -other))[:2]
    lines = {columns[other][0] + 1 for other in near}
    if len(lines) == 1:
        places = " or ".join(str(other + 1) for other in near)
        return f"start it in column {places}, as line {lines.pop()} does"
    ways = [f"in column {other + 1}, as line {columns[other][0] + 1} does" for other in near]
    return f"start it {', or '.join(ways)}"

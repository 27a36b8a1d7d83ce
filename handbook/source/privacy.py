"""Which lines are a director's own: all of a log, and those under `private`, in any spelling near it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from handbook.source.names import nearest
from handbook.source.nodes import PRIVATE

# A field's name at the start of a line or inside braces, whether or not a space follows.
_FIELD = re.compile(
    r"""(?:^\s*(?:-\s+)*|[{,]\s*)["']?(?P<name>[^\W\d_][\w-]*(?: [\w-]+)*)["']?\s*:"""
)
_FIRST_WORD = re.compile(r"""\s*(?:-\s+)*["']?(?P<name>\w+)""")
_ALIKE = 0.8
_LOG = re.compile(r"cycles/[^/]+/log/.+")


def is_log(file: str) -> bool:
    """Whether a content file is a log of a rehearsal."""
    return _LOG.fullmatch(file) is not None


def own_lines(file: str, lines: Sequence[str]) -> frozenset[int]:
    """Give the lines of a content file, counted from 1, that are for the director alone."""
    if is_log(file):
        return frozenset(range(1, len(lines) + 1))
    return private_lines(lines)


def private_lines(lines: Sequence[str]) -> frozenset[int]:
    """Give the lines, counted from 1, that `private` or a misspelling of it has a part in.

    Goes by the text, since a broken file has nothing else: from the field's name on, what
    is indented deeper, items of a list, and lines that begin no field of their own. Rather
    a line too many than one too few.
    """
    found: set[int] = set()
    inside: int | None = None  # the indent of the field that is being passed
    for number, line in enumerate(lines, 1):
        if inside is not None and not _goes_on(line, inside):
            inside = None
        if inside is None:
            inside = _begins(line)
        if inside is not None:
            found.add(number)
    return frozenset(found)


def _begins(line: str) -> int | None:
    """Give the indent below which a private field's text lies, if one begins on the line."""
    word = _FIRST_WORD.match(line)  # its colon may have been forgotten
    for field in (*([word] if word else ()), *_FIELD.finditer(line)):
        if means_private(field["name"]):
            alone = not line[: field.start("name")].strip(" -\t\"'")
            return field.start("name") if alone else len(line) - len(line.lstrip(" -\t"))
    return None


def means_private(name: str) -> bool:
    """Whether a field's name is `private`, near it, or begins with it."""
    if "p" not in name[:2].lower():
        return False
    return name.lower().startswith(PRIVATE) or bool(nearest(name, (PRIVATE,), alike=_ALIKE))


def _goes_on(line: str, indent: int) -> bool:
    bare = line.strip()
    if not bare or _indent(line) > indent:
        return True
    listed = bare.startswith("-") and _indent(line) == indent
    return listed or not (bare.startswith("-") or _FIELD.match(line))


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())

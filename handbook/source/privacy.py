"""Which lines are a director's own: all of a log, and those under `private`, in any spelling near it."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Sequence

import yaml

from handbook.source.names import nearest
from handbook.source.nodes import MOST_DEPTH, PRIVATE

# What may stand before a name: marks of lists and of names, tags and anchors (YAML 1.2.2, 6.8, 6.9).
_BEFORE = r"""(?:[-?]\s+)*(?:[!&]\S*\s+)*["']?"""
# A field's name at the start of a line or inside braces, whether or not a space follows.
_FIELD = re.compile(rf"""(?:^\s*|[{{,]\s*){_BEFORE}(?P<name>[^\W\d_][\w-]*(?: [\w-]+)*)["']?\s*:""")
_FIRST_WORD = re.compile(rf"""\s*{_BEFORE}(?P<name>\w+)""")
_ANYWHERE = re.compile(rf"(?i)(?<!\w){PRIVATE}(?:[ _-]\w+)?[\"']?\s*:")
# A letter written as its number in double quotes (YAML 1.2.2, 5.7).
_CODED = re.compile(r"\\(?:x(?P<x>[0-9A-Fa-f]{2})|u(?P<u>[0-9A-Fa-f]{4})|U(?P<U>[0-9A-Fa-f]{8}))")
_OWN_FIELD = re.compile("[a-z][a-z_]*")  # as fields of content files are named
_REMARK = re.compile(r"(?:^|(?<=\s))#.*")
_BARE = re.compile(r"[^:]*:\s*(?:[|>][-+0-9]*)?|\?[^:]*")  # a private name and nothing behind it
_ALIKE = 0.8
_LOG = re.compile(r"cycles/[^/]+/log/.+")


def is_log(file: str) -> bool:
    """Whether a content file is a log of a rehearsal."""
    return _LOG.fullmatch(file) is not None


def own_lines(file: str, lines: Sequence[str], root: yaml.Node | None = None) -> frozenset[int]:
    """Give the lines of a content file, counted from 1, that are for the director alone.

    `root` is what was read, where the file could be read; else more is taken for private.
    """
    if is_log(file):
        return frozenset(range(1, len(lines) + 1))
    found = private_lines(lines)
    if root is not None:
        return found | frozenset(_private_below(root, 0))
    if not file.endswith(".yaml"):
        return found
    return found | {number for number, line in enumerate(lines, 1) if _ANYWHERE.search(line)}


def private_lines(lines: Sequence[str]) -> frozenset[int]:
    """Give the lines, counted from 1, that `private` or a misspelling of it has a part in.

    Goes by the text, since a broken file has nothing else: from the field's name on, what
    is indented deeper, items of a list, and lines that begin no field of their own; the
    line after a name with nothing behind it, whatever it begins. Rather a line too many than
    one too few.
    """
    found: set[int] = set()
    inside: int | None = None  # the indent of the field that is being passed
    is_bare = False  # nothing was said of it yet
    for number, line in enumerate(map(_letters, lines), 1):
        begins = _begins(line)
        if inside is not None and not (is_bare or _goes_on(line, inside)):
            inside = None
        if begins is not None and inside is None:
            inside = begins
        if inside is not None:
            found.add(number)
            bare = line.strip()
            is_bare = bool(_BARE.fullmatch(bare)) if begins is not None else is_bare and not bare
    return frozenset(found)


def without_remark(line: str) -> str:
    """Leave out what a line of YAML says behind `#`; a text that only holds the sign is cut there too."""
    return _REMARK.sub("# …", line)


def _letters(line: str) -> str:
    """Write letters that are given by their numbers as letters."""
    return _CODED.sub(_letter, line) if "\\" in line else line


def _letter(found: re.Match[str]) -> str:
    number = int(found["x"] or found["u"] or found["U"], 16)
    return chr(number) if number <= sys.maxunicode else found[0]


def _private_below(node: yaml.Node, depth: int) -> Iterator[int]:
    """Give the lines of all private fields below a node, counted from 1."""
    if depth > MOST_DEPTH:  # as copies may be endless, which are refused
        return
    if isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _private_below(item, depth + 1)
    elif isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if isinstance(key, yaml.ScalarNode) and means_private(str(key.value).strip()):
                yield from range(key.start_mark.line + 1, max(_last(key, 0), _last(value, 0)) + 1)
            else:
                yield from _private_below(value, depth + 1)


def _last(node: yaml.Node, depth: int) -> int:
    """Give the last line of a node: the mark behind a block may stand further down, at what follows."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and depth <= MOST_DEPTH:
        inside = [
            part for one in node.value for part in (one if isinstance(one, tuple) else (one,))
        ]
        return max((_last(part, depth + 1) for part in inside), default=node.start_mark.line + 1)
    end = node.end_mark
    return int(end.line + (end.column > 0 or end.line == node.start_mark.line))


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
    field = _FIELD.match(line)
    is_value = bare.startswith(":")  # of a name behind `?`
    begins_own = field and _OWN_FIELD.fullmatch(field["name"])
    return listed or is_value or not (bare.startswith("-") or begins_own)


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())

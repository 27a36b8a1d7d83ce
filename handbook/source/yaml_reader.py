"""One YAML file to plain data, with the nodes by which its places are found again."""

from __future__ import annotations

import re
from collections.abc import Sequence

import yaml

from handbook.problems import Address, Code, Position, Problem, first_of_each
from handbook.records import dataclass
from handbook.source.decoding import decode, lines_to_show, place
from handbook.source.diagnose.syntax import explain
from handbook.source.folded_private import folded_private
from handbook.source.lint import find_slips
from handbook.source.nodes import MOST_DEPTH, Data, NodeReader, too_deep

EMPTY_FILE = Code(
    "empty-file",
    "A file holds nothing, or only remarks.",
    "A topic whose file is absent is left out of the site; an empty file is more likely unfinished.",
    bad="# music to come",
    good="pieces:\n  - id: button-comets",
)

Loader = type[yaml.BaseLoader] | type[yaml.CBaseLoader]
# The loaders that resolve nothing: every scalar stays the text that was written.
LOADER: Loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)

_BRACKETS = re.compile(r"[\[\]{}]")
_DEEP_INDENT = re.compile(rf"^[ ?:-]{{{2 * MOST_DEPTH},}}", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class YamlFile:
    """What was read; `data` is None if the file is broken or holds nothing.

    `doubts` are not shown by themselves: each explains why the value at its address may
    be refused by whoever reads the data. `copies` are where an entry was copied to, with
    nothing in the data; its mark is refused already.
    """

    file: str
    lines: tuple[str, ...]
    root: yaml.Node | None = None
    data: Data = None
    problems: tuple[Problem, ...] = ()
    doubts: tuple[Problem, ...] = ()
    copies: frozenset[Address] = frozenset()


def read_yaml(file: str, raw: bytes, loader: Loader = LOADER) -> YamlFile:
    """Read a file's bytes; whatever is wrong comes back as problems, never as an exception."""
    text = decode(file, raw)
    if isinstance(text, Problem):
        return YamlFile(file, lines_to_show(raw), problems=(text,))
    lines = tuple(text.split("\n"))
    root = _compose(file, text, loader)
    if isinstance(root, Problem):
        return YamlFile(file, lines, problems=(root,))
    if root is None:
        return YamlFile(file, lines, problems=(_empty(file),))
    return _read_nodes(file, text, lines, root)


def _compose(file: str, text: str, loader: Loader) -> yaml.Node | Problem | None:
    try:
        deep = _deep_place(file, text, loader)
        return deep or _single_node(text, loader)
    except yaml.YAMLError as error:
        return explain(file, text, error)


def _single_node(text: str, loader: Loader) -> yaml.Node | None:
    reading = loader(text)
    try:
        return reading.get_single_node()
    finally:
        reading.dispose()


def _read_nodes(file: str, text: str, lines: Sequence[str], root: yaml.Node) -> YamlFile:
    reader = NodeReader(file, lines)
    data = reader.read(root)
    slips = find_slips(file, text, lines, root)
    folded = folded_private(file, lines, root)
    problems = first_of_each((*reader.problems, *slips.problems, *folded))
    copies = frozenset(reader.copies)
    return YamlFile(file, tuple(lines), root, data, problems, slips.doubts, copies)


def _deep_place(file: str, text: str, loader: Loader) -> Problem | None:
    """Find nesting over 30 deep before it can exhaust the composer, which calls itself.

    Events come one after another, so counting them needs no depth; but they are slow,
    and are asked for only if brackets or indents look deep.
    """
    bracket = _deep_bracket(text)
    if bracket is None and not _DEEP_INDENT.search(text):
        return None
    depth = 0
    try:
        for event in yaml.parse(text, Loader=loader):
            if isinstance(event, yaml.CollectionStartEvent):
                depth += 1
            elif isinstance(event, yaml.CollectionEndEvent):
                depth -= 1
            if depth > MOST_DEPTH:
                at = event.start_mark
                return too_deep((file,), place(text, at.index if at else 0))
    except yaml.YAMLError as error:
        # The C scanner has a limit of its own, and runs into it before it gives any event.
        if bracket is not None and "nesting depth" in str(error):
            return too_deep((file,), place(text, bracket))
        raise
    return None


def _deep_bracket(text: str) -> int | None:
    """Find the first bracket over 30 deep, as if there were no quotes."""
    depth = 0
    for found in _BRACKETS.finditer(text):
        depth = depth + 1 if found[0] in "[{" else max(0, depth - 1)
        if depth > MOST_DEPTH:
            return found.start()
    return None


def _empty(file: str) -> Problem:
    return Problem(
        EMPTY_FILE,
        "this file holds nothing yet",
        (file,),
        "write its fields, or remove the file: a topic without a file is left out",
        position=Position(1, 1),
    )

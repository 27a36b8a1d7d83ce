"""The one mend of a problem as changes of a file's text, each within a line.

Texts are changed where they stand, and nothing is written anew from what was read: so no
other byte of a file can change, neither remarks nor order nor blank lines.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

import yaml

from handbook.problems import Edit, Position, Problem
from handbook.source.positions import is_plain, node_position
from handbook.source.quoting import in_quotes
from handbook.source.source_map import SourceFile
from handbook.source.yaml_reader import LOADER

_LEAD = re.compile(r"(\s*)([•‣▪◦·●*–—])(\s+)?")
_MOST_ITEMS = 200  # of a list that was written as a text


def edits_of(problem: Problem, source: SourceFile) -> tuple[Edit, ...]:
    """Give the changes that mend a problem; none where the place is not as simple as was thought."""
    fix = problem.fix
    if fix is None or fix.edits or source.root is None:
        return fix.edits if fix else ()
    path = _path(source.root, problem.address[1:])
    key, node = path[-1] if path else (None, None)
    if problem.on_key and key is not None:
        node = key
    around = [parent for _, parent in path[:-1]]
    if isinstance(node, yaml.ScalarNode) and fix.items:
        return _as_items(node, around, fix.items[:_MOST_ITEMS], source)
    if isinstance(node, yaml.ScalarNode) and fix.word and _on_one_line(node):
        text = _written(fix.word, in_brackets=_in_brackets(around), quoted=not is_plain(node))
        return (Edit(node_position(node, source.lines), text),)
    return ()


def _on_one_line(node: yaml.Node) -> bool:
    return bool(node.start_mark.line == node.end_mark.line)


def _path(root: yaml.Node, steps: Sequence[str | int]) -> list[tuple[yaml.Node | None, yaml.Node]]:
    """Give each node on the way with its field's name, the root first; nothing if the way ends early."""
    path: list[tuple[yaml.Node | None, yaml.Node]] = [(None, root)]
    for step in steps:
        value = path[-1][1].value
        if isinstance(path[-1][1], yaml.SequenceNode) and isinstance(step, int):
            if step >= len(value):
                return []
            path.append((None, value[step]))
        elif isinstance(path[-1][1], yaml.MappingNode):
            pair = next((pair for pair in value if pair[0].value == str(step)), None)
            if pair is None:
                return []
            path.append(pair)
        else:
            return []
    return path


def _in_brackets(around: Sequence[yaml.Node]) -> bool:
    return any(getattr(node, "flow_style", False) for node in around)


def _written(value: str, *, in_brackets: bool, quoted: bool = False) -> str:
    """Write a text so that it is read as it is: without quotes where that will do."""
    return value if not quoted and _reads_as(value, in_brackets) else in_quotes(value)


def _reads_as(value: str, in_brackets: bool) -> bool:
    try:
        read = yaml.load(f"[{value}]" if in_brackets else f"x: {value}", Loader=LOADER)  # noqa: S506 - texts alone
    except yaml.YAMLError:
        return False
    return bool(read == ([value] if in_brackets else {"x": value}))


def _as_items(
    node: yaml.ScalarNode, around: Sequence[yaml.Node], items: Sequence[str], source: SourceFile
) -> tuple[Edit, ...]:
    """Write items in place of one item of a list, or a list in place of a single text."""
    at = node_position(node, source.lines)
    whole = _on_one_line(node)
    parent = around[-1]
    bullets = _bullets(node, source.lines) if is_plain(node) else ()
    if bullets:
        return bullets
    if not whole or (not is_plain(node) and len(items) > 1):
        return ()
    if isinstance(parent, yaml.MappingNode):
        listed = ", ".join(_written(item, in_brackets=True) for item in items)
        return (Edit(at, f"[{listed}]"),)
    if _in_brackets(around):
        return (Edit(at, ", ".join(_written(item, in_brackets=True) for item in items)),)
    between = f"\n{' ' * parent.start_mark.column}- "
    return (Edit(at, between.join(_written(item, in_brackets=False) for item in items)),)


def _bullets(node: yaml.ScalarNode, lines: Sequence[str]) -> tuple[Edit, ...]:
    """Put a hyphen in place of each bullet, or none if the lines are not all items of one list."""
    first, last = node.start_mark.line, node.end_mark.line
    edits: list[Edit] = []
    column = None
    for number in range(first, min(last, len(lines) - 1) + 1):
        line = lines[number]
        text = line.split(" #", maxsplit=1)[0].rstrip()
        if not text or (number == last and last > first and not node.end_mark.column):
            continue
        found = _LEAD.match(text)
        if number == first and text[: node.start_mark.column].strip():
            return ()  # the first bullet stands behind the name of its field
        if found is None:
            if column is None or len(line) - len(line.lstrip()) <= column:
                return ()
            continue
        column = len(found[1]) if column is None else column
        if len(found[1]) != column or found.end() == len(text):
            return ()
        at = Position(number + 1, column + 1, found.end() - column)
        edits.append(Edit(at, "- "))
    return tuple(edits)

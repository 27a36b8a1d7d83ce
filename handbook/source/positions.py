"""Where a node of a read file stands."""

from __future__ import annotations

from collections.abc import Sequence

import yaml

from handbook.problems import Position


def node_position(node: yaml.Node, lines: Sequence[str]) -> Position:
    """Give a node's first line, column and length, counted in characters on that line.

    A node over several lines is marked to the end of its first one; an empty one, one
    character long.
    """
    start, end = node.start_mark, node.end_mark
    line = lines[start.line] if start.line < len(lines) else ""
    stop = end.column if end.line == start.line else len(line.rstrip())
    return Position(start.line + 1, start.column + 1, max(1, stop - start.column))


def is_plain(node: yaml.Node) -> bool:
    """Whether a scalar was written without quotes, `|` or `>`."""
    return isinstance(node, yaml.ScalarNode) and not node.style


def is_empty(node: yaml.Node) -> bool:
    """Whether nothing was written: what stands after a colon that ends its line."""
    return is_plain(node) and node.value == ""

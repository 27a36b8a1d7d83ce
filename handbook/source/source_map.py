"""Addresses to places in the author's files."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace

import yaml

from handbook.problems import Address, Position, Problem
from handbook.records import dataclass
from handbook.source.positions import is_empty, node_position


@dataclass(frozen=True, slots=True)
class SourceFile:
    """The lines of a file as they were read, and the nodes if it is YAML that could be read."""

    lines: tuple[str, ...]
    root: yaml.Node | None = None


Homes = Mapping[Address, Address]
"""Where the lines stand that a file takes from another: their address there by that in the file."""


def home_of(address: Address, homes: Homes) -> Address:
    """Give the address at which a value that is taken from another file stands there, or its own."""
    for length in range(len(address) if homes else 0, 1, -1):
        if found := homes.get(address[:length]):
            return (*found, *address[length:])
    return address


def at_home(problem: Problem, homes: Homes) -> Problem:
    """Point a problem at the lines that say what it is about."""
    if not homes:
        return problem
    notes = tuple(replace(note, address=home_of(note.address, homes)) for note in problem.notes)
    return replace(problem, address=home_of(problem.address, homes), notes=notes)


@dataclass(frozen=True, slots=True)
class SourceMap:
    """All files that were read, by name; `homes` has what one file takes from another."""

    files: Mapping[str, SourceFile] = field(default_factory=dict)
    homes: Homes = field(default_factory=dict)

    def line(self, file: str, number: int) -> str | None:
        """Give one line, counted from 1, without its end; None if there is none."""
        known = self.files.get(file)
        if known is None or not 1 <= number <= len(known.lines):
            return None
        return known.lines[number - 1]

    def position(self, address: Address, *, on_key: bool = False) -> Position | None:
        """Find the place of a value, or of the name of its field with `on_key`.

        A value that is a list or an entry of its own is marked by the name of its field, or
        by the first thing in it if it stands in a list. An address that leads to nothing
        stops at the last item it leads to. On a free page, an address is
        the file and perhaps line, column and length. None for an unknown file.
        """
        address = home_of(address, self.homes)
        known = self.files.get(str(address[0])) if address else None
        if known is None:
            return None
        if known.root is None:
            match address:
                case (_, int(line), int(column), int(length)):
                    return Position(line, column, length)
            return Position(1, 1)
        key, node, whole = _follow(known.root, address[1:])
        return _mark(key, node, known.lines, on_key=on_key and whole)


def _follow(
    root: yaml.Node, steps: Iterable[str | int]
) -> tuple[yaml.Node | None, yaml.Node, bool]:
    """Give the last field name passed, the node reached, and whether all steps were taken."""
    key: yaml.Node | None = None
    node = root
    for step in steps:
        found = _step(node, step)
        if found is None:
            return key, node, False
        key, node = found
    return key, node, True


def _step(node: yaml.Node, step: str | int) -> tuple[yaml.Node | None, yaml.Node] | None:
    if isinstance(node, yaml.SequenceNode):
        inside = isinstance(step, int) and 0 <= step < len(node.value)
        return (None, node.value[step]) if inside else None
    if isinstance(node, yaml.MappingNode):
        return next((pair for pair in node.value if is_called(pair[0], step)), None)
    return None


def is_called(key: yaml.Node, step: str | int) -> bool:
    """Whether a field has a name; a note has signs in an address, `A♭4`, and letters in a file."""
    return key.value in {str(step), str(step).replace("♭", "b").replace("♯", "#")}


def _mark(
    key: yaml.Node | None, node: yaml.Node, lines: tuple[str, ...], *, on_key: bool
) -> Position:
    in_name = on_key or not isinstance(node, yaml.ScalarNode) or is_empty(node)
    if key is not None and in_name:
        return node_position(key, lines)
    while not isinstance(node, yaml.ScalarNode) and node.value:
        first = node.value[0]
        node = first[0] if isinstance(node, yaml.MappingNode) else first
    return node_position(node, lines)

"""The nodes of a read file to plain dicts, lists and texts, refusing what would surprise."""

from __future__ import annotations

from collections.abc import Sequence

import yaml

from handbook.problems import Address, Code, Note, Position, Problem
from handbook.source.decoding import brings_hidden, hidden_character
from handbook.source.names import listed
from handbook.source.positions import is_plain, node_position

TOO_MANY_ENTRIES = Code(
    "too-many-entries",
    "A list or an entry has more parts than can be meant.",
    "1,000 are the most, and fewer where the field says so. No band's handbook needs as many in one place; most often a line was repeated by a slip of a program that wrote the file.",
    bad="notes:\n  - Bring a pencil\n  - Bring a pencil   # and so on, 2,000 times",
    good="notes:\n  - Bring a pencil",
)
SHARED_ENTRY = Code(
    "shared-entry",
    "An entry is marked for copying, or copied.",
    "Some programs let one part of a file copy another by & * and <<. Here every entry is written out, so that what is read is what stands there.",
    bad="usual: &usual {close: 3}\nslots: *usual",
    good="usual: {close: 3}\nslots: {close: 3}",
)
DUPLICATE_FIELD = Code(
    "duplicate-field",
    "An entry has the same field twice.",
    "Only one of the two could count, and nobody would see which.",
    bad="name: Winter cycle\nyear: 2026-27\nname: Spring cycle",
    good="name: Winter cycle\nyear: 2026-27",
)
ODD_FIELD_NAME = Code(
    "odd-field-name",
    "What stands before a colon is not a plain name.",
    "A field's name is a word. A list, an entry or nothing at all cannot be one.",
    bad="{{name}}: Winter",
    good="name: Winter",
)
NESTED_TOO_DEEP = Code(
    "nested-too-deep",
    "Lists and entries are nested more than 30 deep.",
    "No content file goes deeper than ten; brackets or indents were repeated by mistake.",
    bad="x: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
    good="x: [1]",
)

MOST_DEPTH = 30
MOST_ENTRIES = 1000  # of one list or entry: three for every day of a year
PRIVATE = "private"
# What an editor that follows YAML 1.2 (core schema, 10.3.2) takes for nothing.
NOTHING = frozenset({"", "~", "null", "Null", "NULL"})
_CODED = '"'  # the only quotes in which a backslash begins a code

Data = dict[str, "Data"] | list["Data"] | str | None


class NodeReader:
    """One walk over a file's nodes; `problems` and the addresses of `copies` fill up on the way.

    Every scalar stays text; an empty one becomes None. The field `private` is left out
    of every entry, with all that is under it.
    """

    def __init__(self, file: str, lines: Sequence[str]) -> None:
        self._file = file
        self._lines = lines
        self._seen: set[int] = set()
        self.copies: set[Address] = set()
        self.problems: list[Problem] = []

    def read(self, root: yaml.Node) -> Data:
        """Give the data of a whole file."""
        return self._read(root, (self._file,), 1)

    def _read(self, node: yaml.Node, address: Address, depth: int) -> Data:
        value = node.value
        if isinstance(node, yaml.ScalarNode):
            return self._text(node, address)
        if id(node) in self._seen:  # a copy of an entry, whose mark is refused elsewhere
            self.copies.add(address)
            return None
        self._seen.add(id(node))
        if depth > MOST_DEPTH:
            self.problems.append(too_deep(address, node_position(node, self._lines)))
            return None
        if len(value) > MOST_ENTRIES:
            self.problems.append(self._too_many(node, address))
            value = value[:MOST_ENTRIES]
        if isinstance(node, yaml.SequenceNode):
            return [self._read(item, (*address, n), depth + 1) for n, item in enumerate(value)]
        return self._entry(value, address, depth)

    def _too_many(self, node: yaml.Node, address: Address) -> Problem:
        kind = "list" if isinstance(node, yaml.SequenceNode) else "entry"
        return Problem(
            TOO_MANY_ENTRIES,
            f"this {kind} has {len(node.value):,} parts, and {MOST_ENTRIES:,} are the most that are read",
            address,
            "look for lines that were repeated by mistake; what is after the first 1,000 is not looked at",
            position=node_position(node, self._lines),
        )

    def _entry(
        self, pairs: Sequence[tuple[yaml.Node, yaml.Node]], address: Address, depth: int
    ) -> Data:
        data: dict[str, Data] = {}
        for key, value in pairs:
            name = key.value
            if not isinstance(key, yaml.ScalarNode) or name in {"<<", ""}:
                self.problems.append(self._odd_name(key, address))
            elif key.style == _CODED and brings_hidden(name):
                self.problems.append(self._hidden(key, address))
            elif name in data:
                self.problems.append(self._duplicate(pairs, key, address))
            elif name == PRIVATE:
                continue
            elif type(value) is yaml.ScalarNode and not value.style:  # as most values are
                data[name] = None if value.value in NOTHING else value.value
            else:
                data[name] = self._read(value, (*address, name), depth + 1)
        return data

    def _text(self, node: yaml.ScalarNode, address: Address) -> str | None:
        text = str(node.value)
        if node.style == _CODED and brings_hidden(text):
            self.problems.append(self._hidden(node, address))
        return None if text in NOTHING and is_plain(node) else text

    def _hidden(self, node: yaml.ScalarNode, address: Address) -> Problem:
        r"""Refuse what only a code such as "\x07" in double quotes can bring in."""
        return hidden_character(node.value, address, node_position(node, self._lines))

    def _odd_name(self, key: yaml.Node, address: Address) -> Problem:
        at = node_position(key, self._lines)
        if key.value == "<<":
            return Problem(
                SHARED_ENTRY,
                "`<<` would copy another entry into this one, and copies are not read here",
                address,
                "write the fields out in full",
                position=at,
            )
        return odd_name(address, at)

    def _duplicate(
        self, pairs: Sequence[tuple[yaml.Node, yaml.Node]], key: yaml.Node, address: Address
    ) -> Problem:
        name = key.value
        first = next(other for other, _ in pairs if other.value == name)
        at, before = node_position(key, self._lines), node_position(first, self._lines)
        return Problem(
            DUPLICATE_FIELD,
            f"{listed([name])} is given twice in this entry, on lines {before.line} and {at.line}",
            (*address, name),
            "keep one of the two",
            notes=(Note("it was given here first", (*address, name), before),),
            position=at,
            on_key=True,
        )


def odd_name(address: Address, position: Position) -> Problem:
    """Refuse a colon with a list, an entry or nothing before it."""
    return Problem(
        ODD_FIELD_NAME,
        "what stands before this colon is no plain field name",
        address,
        "a field is a plain word; a text with brackets or braces at its start needs quotes",
        position=position,
    )


def too_deep(address: Address, position: Position) -> Problem:
    """Refuse a node that lies in more than 30 others."""
    return Problem(
        NESTED_TOO_DEEP,
        f"lists and entries are nested more than {MOST_DEPTH} deep here",
        address,
        "no content file needs that; look for brackets or indents that were repeated by mistake",
        position=position,
    )

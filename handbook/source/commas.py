"""Texts within { } that a comma has cut into pieces."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

import yaml

from handbook.problems import Address, Code, Edit, Fix, Position, Problem
from handbook.source.positions import is_empty, is_plain
from handbook.source.quoting import in_quotes

COMMA_IN_TEXT = Code(
    "comma-in-text",
    "A comma cut a text within { } into pieces.",
    "Between { and } a comma ends a text, and what follows is taken for the name of a field. In quotes a text may hold commas.",
    bad="name: {en: Winter, and what comes after}",
    good='name: {en: "Winter, and what comes after"}',
)

Pair = tuple[yaml.Node, yaml.Node]


def comma_in_text(address: Address, root: yaml.Node, lines: Sequence[str]) -> Problem | None:
    """Say that a comma cut a text, if what an address leads to is a piece of one."""
    entry, above = root, None
    for step in address[1:]:
        above = entry
        inside = _inside(entry, step)
        if inside is None:
            break
        entry = inside
    for node, where in ((above, address[:-1]), (entry, address)):
        if isinstance(node, yaml.MappingNode) and node.flow_style:
            pairs: list[Pair] = node.value
            first = next((place for place, pair in enumerate(pairs) if _is_piece(pair)), 0)
            named = where is address or _is_piece(_named(pairs, address[-1]))
            if first and named and is_plain(pairs[first - 1][1]):
                return _problem(pairs, first, where, lines)
    return None


def _inside(node: yaml.Node, step: str | int) -> yaml.Node | None:
    if isinstance(node, yaml.SequenceNode):
        return node.value[step] if isinstance(step, int) and step < len(node.value) else None
    pairs = node.value if isinstance(node, yaml.MappingNode) else ()
    return next((value for key, value in pairs if key.value == step), None)


def _named(pairs: Sequence[Pair], name: object) -> Pair | None:
    return next((pair for pair in pairs if pair[0].value == name), None)


def _is_piece(pair: Pair | None) -> bool:
    """Whether nothing was written for a field, not even its colon."""
    if pair is None:
        return False
    key, value = pair
    return is_plain(key) and is_empty(value) and value.start_mark.index == key.end_mark.index


def _problem(pairs: Sequence[Pair], first: int, where: Address, lines: Sequence[str]) -> Problem:
    """Tell all pieces as the text that they were; `first` is the place of the second piece."""
    field, text = pairs[first - 1]
    *_, (last, _) = takewhile(_is_piece, pairs[first:])
    start, end = text.start_mark, last.end_mark
    if start.line != end.line:
        whole, fix = None, None
        at = Position(start.line + 1, start.column + 1, len(lines[start.line]) - start.column)
    else:
        at = Position(start.line + 1, start.column + 1, end.column - start.column)
        whole = in_quotes(lines[start.line][start.column : end.column])
        fix = Fix(edits=(Edit(at, whole),))
    return Problem(
        COMMA_IN_TEXT,
        f"a comma ends the text after `{field.value}:` here, since it stands within {{ }}",
        (*where, str(field.value)),
        f"put all of it in quotes: `{whole}`" if whole else "put all of it in quotes",
        position=at,
        fix=fix,
    )

"""Pieces of text that new files are made of."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

from handbook.carrying.model import CannotCarryError
from handbook.domain.dated_texts import names_a_day
from handbook.source.cutting import Cutting
from handbook.source.quoting import in_quotes
from handbook.source.yaml_reader import YamlFile

_MODELINE = "# yaml-language-server:"
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]*")


def modeline(file: YamlFile) -> str:
    """Give the line by which an editor finds the schema, if the old file has one; it suits a file beside it."""
    first = file.lines[0] if file.lines else ""
    return f"{first}\n" if first.startswith(_MODELINE) else ""


def plain_or_quoted(text: str) -> str:
    """Write an id without quotes where it is read as it is."""
    return text if _PLAIN.fullmatch(text) else in_quotes(text)


def says_a_day(node: yaml.Node) -> bool:
    """Whether any text in a value names the day of a month."""
    return any(names_a_day(one.value) for one in _texts(node))


def cutting(file: YamlFile) -> Cutting:
    """Begin to cut a file's text. Raises CannotCarryError if all of it stands in braces."""
    assert isinstance(file.root, yaml.MappingNode)
    if file.root.flow_style:
        raise CannotCarryError(
            f"{file.file} stands in one pair of braces: write each of its fields on a line of its own"
        )
    return Cutting(file)


def take_out_dated(text: Cutting, name: str) -> bool:
    """Leave out the items of an outermost list that name a day, and say whether there were any."""
    node = next((value for key, value in text.root.value if key.value == name), None)
    if not isinstance(node, yaml.SequenceNode):
        return False
    places = [place for place, item in enumerate(node.value) if says_a_day(item)]
    if len(places) == len(node.value):
        text.take_out(text.root, {name})
    elif places:
        text.take_out_items(node, places)
    return bool(places)


def remarked(text: Cutting, node: yaml.Node, remark: str) -> None:
    """Put a remark above each text in a value that names a day."""
    for one in _texts(node):
        if names_a_day(one.value):
            text.remark(one, remark)


def _texts(node: yaml.Node) -> Iterator[yaml.ScalarNode]:
    if isinstance(node, yaml.ScalarNode):
        yield node
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _texts(item)
    elif isinstance(node, yaml.MappingNode):
        for _, value in node.value:
            yield from _texts(value)

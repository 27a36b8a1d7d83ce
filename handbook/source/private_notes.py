"""The notes under `private`, found again in the nodes of the files, for what the director alone reads.

No model and no plan has them, so nothing that is published can come upon them: whoever wants
them asks here, by the address of the entry in which they stand.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import yaml

from handbook.problems import Address
from handbook.records import dataclass
from handbook.source.nodes import MOST_DEPTH, PRIVATE
from handbook.source.source_map import SourceMap

# What an entry is called by, the best first: fields of content files.
_NAMES = ("name", "title", "id", "what", "date", "day", "ensemble", "text", "note")


@dataclass(frozen=True, slots=True)
class PrivateNote:
    """What stands under one `private`: its lines as written, none of them empty.

    `address` is that of the entry that holds it, `line` counts from 1 in its file, and
    `place` names the fields and entries on the way to it, as they are called in the file.
    """

    address: Address
    line: int
    place: tuple[str, ...]
    lines: tuple[str, ...]

    @property
    def file(self) -> str:
        """The file it stands in, relative to the content folder."""
        return str(self.address[0])

    @property
    def text(self) -> str:
        """All of it as one text, with its line breaks."""
        return "\n".join(self.lines)


@dataclass(frozen=True, slots=True)
class PrivateNotes:
    """All notes of a content folder, in the order of files and lines."""

    notes: tuple[PrivateNote, ...] = ()

    def at(self, address: Address) -> tuple[PrivateNote, ...]:
        """Give the note of one entry itself, without those of entries inside it."""
        return tuple(note for note in self.notes if note.address == address)

    def within(self, address: Address) -> tuple[PrivateNote, ...]:
        """Give the notes of an entry and of all that is inside it."""
        length = len(address)
        return tuple(note for note in self.notes if note.address[:length] == address)


NO_NOTES = PrivateNotes()


def private_notes(sources: SourceMap) -> PrivateNotes:
    """Gather the notes of all files that could be read; those that say nothing are left out."""
    found: list[PrivateNote] = []
    for file, source in sorted(sources.files.items()):
        if source.root is not None:
            found += _notes(source.root, (file,), ())
    return PrivateNotes(tuple(found))


def _notes(node: yaml.Node, address: Address, place: tuple[str, ...]) -> Iterator[PrivateNote]:
    if len(address) > MOST_DEPTH:  # copies of entries are refused, so none is endless that is whole
        return
    if isinstance(node, yaml.SequenceNode):
        for number, item in enumerate(node.value):
            called = _called(item)
            yield from _notes(item, (*address, number), (*place, called) if called else place)
    elif isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                continue
            if key.value != PRIVATE:
                yield from _notes(value, (*address, key.value), (*place, key.value))
            elif lines := tuple(_lines(value)):
                yield PrivateNote(address, key.start_mark.line + 1, place, lines)


def _called(item: yaml.Node) -> str:
    """Give the name by which an entry of a list is known; of a text by language the first."""
    if not isinstance(item, yaml.MappingNode):
        return ""
    fields: Mapping[object, yaml.Node] = {key.value: value for key, value in _scalar_keys(item)}
    for name in _NAMES:
        value = fields.get(name)
        if isinstance(value, yaml.MappingNode) and value.value:
            value = value.value[0][1]
        if isinstance(value, yaml.ScalarNode) and value.value:
            return str(value.value)
    return ""


def _scalar_keys(node: yaml.MappingNode) -> Iterator[tuple[yaml.ScalarNode, yaml.Node]]:
    return ((key, value) for key, value in node.value if isinstance(key, yaml.ScalarNode))


def _lines(node: yaml.Node, depth: int = 0) -> Iterator[str]:
    """Write a value of any shape as lines: items one after another, entries as `field: text`."""
    if isinstance(node, yaml.ScalarNode):
        yield from filter(None, map(str.strip, str(node.value).splitlines()))
    elif depth < MOST_DEPTH and isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _lines(item, depth + 1)
    elif depth < MOST_DEPTH and isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            named = list(_lines(value, depth + 1))
            name = next(_lines(key, depth + 1), "")
            if len(named) == 1:
                yield f"{name}: {named[0]}"
            else:
                yield f"{name}:"
                yield from named

"""Taking entries out of a file's text, or putting others in their place, with the remarks on them.

As with all changes of an author's text, what stays is never written anew from what was read.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

import yaml

from handbook.source.yaml_reader import YamlFile

_Made = Callable[[], str]


class Cutting:
    """A file's text with the changes asked for so far; nothing of the file itself changes."""

    def __init__(self, file: YamlFile) -> None:
        """Begin with a file that could be read and whose outermost part is fields."""
        assert isinstance(file.root, yaml.MappingNode)
        self.root = file.root
        self._lines = file.lines
        self._text = "\n".join(file.lines)
        self._starts = [0]
        for line in file.lines:
            self._starts.append(min(self._starts[-1] + len(line) + 1, len(self._text)))
        self._changes: list[tuple[int, int, _Made]] = []

    def without_head(self) -> str:
        """Give the changed text without the remarks that stand above its first field."""
        first = self.root.value[0][0].start_mark.line if self.root.value else 0
        self._change(0, self._starts[first], str)
        return self._rendered(0, len(self._text)).strip("\n") + "\n"

    def whole(self) -> str:
        """Give the whole changed text."""
        return self._rendered(0, len(self._text))

    def take_out(self, fields: yaml.MappingNode, names: Collection[str]) -> None:
        """Leave out fields, each with the remarks right above it; names that are not there are none.

        At least one field of the entry must stay, unless it is the file's outermost one.
        """
        pairs = fields.value
        if not any(key.value in names for key, _ in pairs):
            return
        if fields.flow_style:
            kept = [pair for pair in pairs if pair[0].value not in names]
            self._change(
                self._at(fields.start_mark), self._at(fields.end_mark), lambda: self._braces(kept)
            )
            return
        for place, (key, value) in enumerate(pairs):
            if key.value not in names:
                continue
            line = key.start_mark.line
            if self._lines[line][: key.start_mark.column].strip():  # behind the hyphen of an item
                kept_after = next(one for one, _ in pairs[place:] if one.value not in names)
                self._change(self._at(key.start_mark), self._at(kept_after.start_mark), str)
            else:
                first = self._with_remarks(line, key.start_mark.column)
                last = self._end_line(value, key)
                self._change(self._starts[first], self._starts[last + 1], str)

    def take_out_items(self, items: yaml.SequenceNode, places: Collection[int]) -> None:
        """Leave out items of a list, each with the remarks right above it; at least one must stay."""
        assert len(places) < len(items.value)
        if items.flow_style:
            kept = [one for place, one in enumerate(items.value) if place not in places]
            self._change(
                self._at(items.start_mark),
                self._at(items.end_mark),
                lambda: f"[{', '.join(self._of(one) for one in kept)}]",
            )
            return
        for place in places:
            column = items.start_mark.column
            first = self._with_remarks(self._line_of_hyphen(items, place), column)
            last = self._last_line(self._end(items.value[place]), column)
            self._change(self._starts[first], self._starts[last + 1], str)

    def put(self, node: yaml.Node, text: str) -> None:
        """Write a text in place of a value; a remark that stands behind it stays."""
        self._change(self._at(node.start_mark), self._end(node), lambda: text)

    def put_in(self, fields: yaml.MappingNode, name: str, text: str) -> None:
        """Write a text as the value of a field that is there, behind its name; remarks between the two go."""
        key, value = next(pair for pair in fields.value if pair[0].value == name)
        end = max(self._end(value), self._at(key.end_mark))
        self._change(self._at(key.end_mark), end, lambda: f": {text}")

    def put_all(self, items: yaml.SequenceNode, text: str) -> None:
        """Write a text in place of all items of an outermost list, with the remarks that stand among and behind them."""
        last = self._last_line(self._end(items), 0)
        self._change(
            self._at(items.start_mark), self._starts[last] + len(self._lines[last]), lambda: text
        )

    def remark(self, node: yaml.Node, text: str) -> None:
        """Put a remark on a line of its own above the line in which a node begins."""
        line = node.start_mark.line
        written = self._lines[line]
        indent = written[: len(written) - len(written.lstrip())]
        self._change(self._starts[line], self._starts[line], lambda: f"{indent}# {text}\n")

    def text_of(self, node: yaml.Node) -> str:
        """Give a value as it is written, without changes."""
        return self._text[self._at(node.start_mark) : self._end(node)]

    def item_text(self, items: yaml.SequenceNode, place: int) -> str:
        """Give an item of a list from its hyphen on, with the changes asked for so far.

        Its further lines are indented as they stand in the file.
        """
        node = items.value[place]
        if items.flow_style:
            return f"- {self._of(node)}"
        line = self._line_of_hyphen(items, place)
        start = self._starts[line] + items.start_mark.column
        return self._rendered(start, self._end(node)).rstrip()

    def _change(self, start: int, end: int, made: _Made) -> None:
        self._changes.append((start, end, made))

    def _braces(self, pairs: Sequence[tuple[yaml.Node, yaml.Node]]) -> str:
        shown = (
            self._rendered(self._at(key.start_mark), self._end(value) or self._at(key.end_mark))
            for key, value in pairs
        )
        return f"{{{', '.join(shown)}}}"

    def _of(self, node: yaml.Node) -> str:
        span = self._at(node.start_mark), self._end(node)
        whole = [made for first, last, made in self._changes if (first, last) == span]
        return whole[-1]() if whole else self._rendered(*span)

    def _rendered(self, start: int, end: int) -> str:
        """Give a stretch of the text with its changes; of those within another the outer one."""
        parts: list[str] = []
        at = start
        # One that takes a last line out reaches to the line's end, beyond that of the value.
        inside = [one for one in self._changes if start <= one[0] < end]
        whole = [one for one in inside if (one[0], one[1]) != (start, end)]  # else without end
        for first, last, made in sorted(whole, key=lambda one: (one[0], -one[1])):
            if first >= at or last > at:  # what is taken out may overlap, by blank lines
                parts += [self._text[at : max(at, first)], made()]
                at = last
        return "".join((*parts, self._text[at:end]))

    def _at(self, mark: yaml.Mark) -> int:
        return self._starts[mark.line] + mark.column

    def _end(self, node: yaml.Node) -> int:
        """Give the index after a value's last letter."""
        if isinstance(node, yaml.CollectionNode) and not node.flow_style:
            if not node.value:
                return self._at(node.start_mark)
            last = node.value[-1]
            return self._end(last[1] if isinstance(last, tuple) else last)
        if isinstance(node, yaml.ScalarNode) and node.style in {"|", ">"}:
            return len(self._text[: self._at(node.end_mark)].rstrip())
        return self._at(node.end_mark)

    def _line_of_hyphen(self, items: yaml.SequenceNode, place: int) -> int:
        line: int = items.value[place].start_mark.line
        column = items.start_mark.column
        while self._lines[line][column : column + 1] != "-":
            line -= 1
        return line

    def _with_remarks(self, line: int, column: int) -> int:
        """Give the first line of the remarks right above an entry, and of the blank lines above those."""
        while line and self._is_remark(line - 1) and self._indent(line - 1) == column:
            line -= 1
        while line and not self._lines[line - 1].strip():
            line -= 1
        return line

    def _end_line(self, value: yaml.Node, key: yaml.Node) -> int:
        end = max(self._end(value), self._at(key.end_mark))
        return self._last_line(end, key.start_mark.column)

    def _last_line(self, end: int, column: int) -> int:
        """Give the last line of an entry, with the remarks below that are indented as parts of it are."""
        last = self._text.count("\n", 0, end)
        for line in range(last + 1, len(self._lines)):
            if not self._lines[line].strip():
                continue
            if not self._is_remark(line) or self._indent(line) <= column:
                break
            last = line
        return last

    def _is_remark(self, line: int) -> bool:
        return self._lines[line].lstrip().startswith("#")

    def _indent(self, line: int) -> int:
        return len(self._lines[line]) - len(self._lines[line].lstrip())

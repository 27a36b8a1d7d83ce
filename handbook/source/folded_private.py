"""Lines that were to be private, and were folded into the text above them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import yaml

from handbook.problems import Address, Position, Problem
from handbook.source.lint import SWALLOWED_LINE, nodes_below
from handbook.source.nodes import PRIVATE

_PRIVATE_LINE = re.compile(
    rf"(?i)\s*{PRIVATE}(?: (?:notes?|remarks?|info|stuff|only))? ?:(?=[\s\"']|$)"
)


def folded_private(file: str, lines: Sequence[str], root: yaml.Node) -> Iterator[Problem]:
    """Refuse lines of quoted and folded texts that begin with `private:`.

    A line's end is a space there (YAML 1.2.2, 6.5). After the end of a sentence, and in texts
    that keep their lines, `private_line` of the checks tells it.
    """
    suspects = {number for number, line in enumerate(lines) if _PRIVATE_LINE.match(line)}
    if not suspects:
        return
    for address, node in nodes_below(root, (file,)):
        first, last = node.start_mark.line, node.end_mark.line
        if type(node) is yaml.ScalarNode and first < last and node.style != "|":
            yield from _inside(
                address, node, lines, suspects.intersection(range(first + 1, last + 1))
            )


def _inside(
    address: Address, node: yaml.ScalarNode, lines: Sequence[str], suspects: set[int]
) -> Iterator[Problem]:
    first = node.start_mark.line
    before = lines[first][: node.start_mark.column]
    outside = _indent(before, " -" if before.strip(" -") else " ") if node.style == ">" else -1
    for number in sorted(suspects):
        above, found = lines[number - 1].rstrip(), _PRIVATE_LINE.match(lines[number])
        if found and above and above[-1] not in ".!?" and _indent(lines[number]) > outside:
            said = found[0].strip()
            yield Problem(
                SWALLOWED_LINE,
                f"`{said}` was read as more of the text that begins on line {first + 1}, and is public with it",
                address,
                "set it as far to the left as the name of that field, or take it out",
                position=Position(number + 1, _indent(lines[number]) + 1, len(said)),
            )


def _indent(line: str, marks: str = " ") -> int:
    return len(line) - len(line.lstrip(marks))

"""Texts that can be read, but surely not as they were meant."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

import yaml

from handbook.problems import Address, Code, Edit, Fix, Position, Problem, Severity
from handbook.records import dataclass
from handbook.source.decoding import place
from handbook.source.nodes import PRIVATE, SHARED_ENTRY
from handbook.source.positions import is_empty, is_plain, node_position
from handbook.source.quoting import in_quotes

SPECIAL_FIRST_CHARACTER = Code(
    "special-first-character",
    "A text starts with a sign that means something else there.",
    "These signs need quotes in front of a text: @ ` % & * ! | > [ ] { } , ? - and #. Inside a text they are letters like any other.",
    bad="call: @noon",
    good='call: "@noon"',
)
ODD_SPACE = Code(
    "odd-space",
    "A pasted space stands where an ordinary one is wanted.",
    "After a colon or a hyphen, and at the start of a line, only the space of the space bar counts.",
    bad="name:␣Winter   # where ␣ is a non-breaking space",
    good="name: Winter",
)
DROPPED_TEXT = Code(
    "dropped-text",
    "The end of a text was dropped, since it follows a # sign.",
    "A # with a space before it starts a remark for yourself. If a space follows it too, it is taken for an honest remark and not told; a word, a number or a lone number after a space is told, and so is every # after the letter of a note, where it is surely a sharp.",
    bad="room: Room #5",
    good='room: "Room #5"\ndate: 2026-09-07  # Labor Day',
)
CURLY_QUOTES = Code(
    "curly-quotes",
    "A text is held in curly quotes.",
    "Only straight quotes hold a text together; curly ones are letters like any other and would be shown. Word processors put them in on their own.",
    bad="name: “Concert: Winter”",
    good='name: "Concert: Winter"',
)
SWALLOWED_LINE = Code(
    "swallowed-line",
    "A line was read as more of the text above it.",
    "A text may go on over several lines. A hyphen without a space, or a list below a field that has its text already, is taken into it without a word; so is `private:` that stands as deep as a text with quotes or behind `>`.",
    bad="goals:\n- Play it\n -Sing it",
    good="goals:\n  - Play it\n  - Sing it",
)
NO_SPACE_AFTER_HYPHEN = Code(
    "no-space-after-hyphen",
    "A list item's hyphen has no space behind it.",
    "Only a hyphen and a space begin an item, so that a text may begin with a hyphen.",
    bad="goals:\n  - Play it\n  -Sing it",
    good="goals:\n  - Play it\n  - Sing it",
)
NO_SPACE_AFTER_COLON = Code(
    "no-space-after-colon",
    "A field's colon has no space behind it.",
    "Only a colon and a space end the name of a field, so that times such as 6:30 can be texts.",
    bad="name:Winter\nyear: 2026-27",
    good="name: Winter\nyear: 2026-27",
)

# Spaces that look like one but are none: pasted from a web page or a word processor.
ODD_SPACES = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"
CURLY = "“”„‟‘’‚‛«»"

_ODD_AFTER_MARK = re.compile(rf"^\w[\w -]*:[{ODD_SPACES}]|^-[{ODD_SPACES}]")
_ODD_AT_EDGE = re.compile(rf"^[{ODD_SPACES}]|[{ODD_SPACES}]$")
_REMARK = re.compile(r"[ \t]+(#[^\n]*)")
# A remark starts with a hash and a space. `#5` or `#Labor` is text that was lost, and so is
# a lone number after `# `, as in `Room # 5`.
_LOST = re.compile(r"#\w|# \d+\s*$")
_NOTE_BEFORE = re.compile(r"(?<![^\s(/])[A-G]$")
_SWALLOWED = re.compile(r"\s*(?:-\s*\w|[A-Za-z_]\w*:[^\s/])")
_NO_SPACE_AFTER_COLON = re.compile(r"[a-z_]+:[^\s:/]")
_NO_SPACE_AFTER_HYPHEN = re.compile(r"-[^\s-]")
# What a line holds if a text on it may be a slip; lines without are passed over for speed.
_SUSPECT = re.compile(
    rf"[ \t]#\w|[ \t]# \d+[ \t]*$|[A-G][ \t]+# \w|[{ODD_SPACES}{CURLY}]|(?:^|[\s\[{{,])[&!]|^[ \t]*-[^\s-]|[a-z_]:[^\s:/]",
    re.MULTILINE,
)


@dataclass(frozen=True, slots=True)
class Slips:
    """`problems` are shown; a `doubt` explains why a value at its address may be refused later."""

    problems: tuple[Problem, ...] = ()
    doubts: tuple[Problem, ...] = ()


def find_slips(file: str, text: str, lines: Sequence[str], root: yaml.Node) -> Slips:
    """Look through a file's unquoted texts, but not under `private`.

    Errors: a copy mark or a kind mark (`&`, `!`) in front, a space that is none after a
    colon or hyphen. Warnings: a text cut off by ` #`, curly quotes all around, a list
    item or field taken into the text above it.
    """
    suspects = _suspect_lines(text)
    problems: list[Problem] = []
    doubts: list[Problem] = []
    for address, node in nodes_below(root, (file,)):
        first = node.start_mark.line
        if first not in suspects and first == node.end_mark.line:
            continue
        found = _marked(address, node, text, lines)
        if found is None and is_plain(node):
            found = _plain_slip(address, node, text, lines)
            if found is None or found.severity is Severity.WARNING:
                doubts += _doubt(address, node, lines, found)
        if found is not None:
            problems.append(found)
    return Slips(tuple(problems), tuple(doubts))


def _suspect_lines(text: str) -> frozenset[int]:
    """Find the lines, counted from 0, that need a closer look."""
    lines: set[int] = set()
    line = last = 0
    for found in _SUSPECT.finditer(text):
        at = found.end() - 1
        line += text.count("\n", last, at)
        last = at
        lines.add(line)
    return frozenset(lines)


def nodes_below(root: yaml.Node, address: Address) -> Iterator[tuple[Address, yaml.Node]]:
    """Give field names and values in the order of the file, each once even if copied."""
    seen: set[int] = set()
    waiting: list[tuple[Address, yaml.Node]] = [(address, root)]
    while waiting:
        here, node = waiting.pop()
        if id(node) in seen:
            continue
        seen.add(id(node))
        yield here, node
        if type(node) is not yaml.ScalarNode:
            waiting.extend(reversed(_inside(node, here)))


def _inside(node: yaml.Node, address: Address) -> list[tuple[Address, yaml.Node]]:
    if isinstance(node, yaml.SequenceNode):
        return [((*address, place_in_list), item) for place_in_list, item in enumerate(node.value)]
    inside: list[tuple[Address, yaml.Node]] = []
    for key, value in node.value:
        if isinstance(key, yaml.ScalarNode):
            here = (*address, key.value)
            inside.append((here, key))
            if key.value != PRIVATE:
                inside.append((here, value))
    return inside


def _marked(address: Address, node: yaml.Node, text: str, lines: Sequence[str]) -> Problem | None:
    start = node.start_mark.index
    mark = text[start : start + 1]
    if mark not in {"&", "!"} or (isinstance(node, yaml.MappingNode) and not _opens_here(node)):
        return None
    written = lines[node.start_mark.line][node.start_mark.column :].split(" #")[0].rstrip()
    at = Position(node.start_mark.line + 1, node.start_mark.column + 1, len(written))
    if isinstance(node, yaml.ScalarNode):
        whole = node.end_mark.index == start + len(written)
        return special_character(address, written, at, whole=whole)
    label = written.split()[0]
    return Problem(
        SHARED_ENTRY,
        f"`{label}` marks what follows for copying or for a kind of its own, and neither is read here",
        address,
        f"remove `{label}`, and write copies out in full",
        position=Position(at.line, at.column, len(label)),
    )


def special_character(
    address: Address, written: str, position: Position, *, whole: bool = False
) -> Problem:
    """Say that the first sign of a text would be taken for something else.

    `whole` if the text surely begins and ends where it stands.
    """
    sign = "a backtick" if written[:1] == "`" else f"`{written[:1]}`"
    return Problem(
        SPECIAL_FIRST_CHARACTER,
        f"a text that starts with {sign} needs quotes, since {sign} has a meaning of its own there",
        address,
        f"write {in_quotes(written)}" if len(written) > 1 else f"remove {sign}",
        position=position,
        fix=_edit(position, in_quotes(written)) if whole else None,
    )


def _edit(position: Position, text: str) -> Fix:
    return Fix(edits=(Edit(position, text),))


def _opens_here(node: yaml.MappingNode) -> bool:
    """Whether an entry begins before its first field name, so that a mark is the entry's own."""
    return not node.value or node.value[0][0].start_mark.index != node.start_mark.index


def _plain_slip(
    address: Address, node: yaml.Node, text: str, lines: Sequence[str]
) -> Problem | None:
    return (
        _odd_space(address, node, text)
        or _dropped(address, node, text)
        or _curly(address, node, lines)
        or _swallowed(address, node, lines)
    )


def _odd_space(address: Address, node: yaml.Node, text: str) -> Problem | None:
    start = node.start_mark.index
    written = text[start : node.end_mark.index]
    found = _ODD_AFTER_MARK.search(written)
    if found:
        return odd_space(address, place(text, start + found.end() - 1))
    edge = _ODD_AT_EDGE.search(written)
    return odd_space(address, place(text, start + edge.start())) if edge else None


def odd_space(address: Address, position: Position) -> Problem:
    """Refuse a space that is none where the file's order depends on spaces."""
    return Problem(
        ODD_SPACE,
        "this looks like a space, but is a non-breaking one, probably pasted",
        address,
        "delete it and type an ordinary space",
        position=position,
        fix=_edit(position, " "),
    )


def _dropped(address: Address, node: yaml.Node, text: str) -> Problem | None:
    remark = _REMARK.match(text, node.end_mark.index)
    written = text[node.start_mark.index : node.end_mark.index]
    sharp = _NOTE_BEFORE.search(written)
    if not remark or not (sharp or _LOST.match(remark[1])):
        return None
    lost = remark[1].rstrip()
    whole = f"{written}{lost}" if sharp else f"{written}{text[node.end_mark.index : remark.end()]}"
    way = "put the text before it in quotes" if sharp else "write a space after the #"
    end = node.end_mark
    column = end.column + remark.start(1) - end.index
    return Problem(
        DROPPED_TEXT,
        f"the text after # was dropped: `{lost}`",
        address,
        f"if it belongs to the text, write {in_quotes(whole.strip())}; if it is a remark, {way}",
        severity=Severity.WARNING,
        position=Position(end.line + 1, column + 1, len(lost)),
    )


def _curly(address: Address, node: yaml.Node, lines: Sequence[str]) -> Problem | None:
    value = node.value
    if len(value) < 2 or value[0] not in CURLY or value[-1] not in CURLY:  # noqa: PLR2004 - a pair
        return None
    at = node_position(node, lines)
    told = curly_quotes(address, value[1:-1], at)
    one_line = node.start_mark.line == node.end_mark.line
    return replace(told, fix=_edit(at, in_quotes(value[1:-1]))) if one_line else told


def curly_quotes(address: Address, inside: str, position: Position) -> Problem:
    """Warn that curly quotes around a text are a part of it."""
    return Problem(
        CURLY_QUOTES,
        "these curly quotes are read as a part of the text",
        address,
        f"write straight quotes, {in_quotes(inside)}, or leave the quotes out",
        severity=Severity.WARNING,
        position=position,
    )


def _swallowed(address: Address, node: yaml.Node, lines: Sequence[str]) -> Problem | None:
    first, last = node.start_mark.line, node.end_mark.line
    for number in range(first + 1, min(last + 1, len(lines))):
        line = lines[number]
        if _SWALLOWED.match(line):
            indent = len(line) - len(line.lstrip())
            return Problem(
                SWALLOWED_LINE,
                f"this line was read as more of the text that begins on line {first + 1}",
                address,
                _swallowed_hint(line.strip()),
                severity=Severity.WARNING,
                position=Position(number + 1, indent + 1, len(line.strip())),
                fix=_items(node, lines),
            )
    return None


def _swallowed_hint(line: str) -> str:
    if re.match(r"-\S", line):
        return f"a list item needs a space after its hyphen: `- {line[1:]}`"
    if line.startswith("-"):
        return (
            "to begin a list, leave nothing after the colon above and line the hyphens up below it"
        )
    name, _, rest = line.partition(":")
    return f"a field needs a space after its colon: `{name}: {rest}`"


def _doubt(
    address: Address, node: yaml.Node, lines: Sequence[str], found: Problem | None
) -> list[Problem]:
    """Say what could be behind a later refusal of this text."""
    if found is not None:
        return [found] if found.code != DROPPED_TEXT or is_empty(node) else []
    at = node_position(node, lines)
    if _NO_SPACE_AFTER_COLON.match(node.value):
        name, _, rest = node.value.partition(":")
        told = no_space_after_colon(address, name, rest, at)
        return [replace(told, fix=space_at(replace(at, column=at.column + len(name) + 1)))]
    if _NO_SPACE_AFTER_HYPHEN.match(node.value):
        return [
            replace(no_space_after_hyphen(address, node.value[1:], at), fix=_items(node, lines))
        ]
    return []


def _items(node: yaml.Node, lines: Sequence[str]) -> Fix | None:
    """Begin an item with every line of a text, if each has its hyphen."""
    first, last = node.start_mark.line, node.end_mark.line
    texts = [lines[number] for number in range(first, last + 1) if lines[number].strip()]
    if texts[0][: node.start_mark.column].strip() or not all(
        _NO_SPACE_AFTER_HYPHEN.match(text.lstrip()) for text in texts
    ):
        return None
    after = (
        Position(number + 1, len(lines[number]) - len(lines[number].lstrip()) + 2)
        for number in range(first, last + 1)
        if lines[number].strip()
    )
    return Fix(edits=tuple(Edit(replace(at, length=0), " ") for at in after))


def space_at(position: Position) -> Fix:
    """Put a space in front of what stands at a place."""
    return Fix(edits=(Edit(replace(position, length=0), " "),))


def no_space_after_hyphen(address: Address, rest: str, position: Position) -> Problem:
    """Say that a hyphen alone does not begin a list item."""
    return Problem(
        NO_SPACE_AFTER_HYPHEN,
        "a list item needs a space after its hyphen",
        address,
        f"write `- {rest.strip()}`",
        position=position,
    )


def no_space_after_colon(address: Address, name: str, rest: str, position: Position) -> Problem:
    """Say that a colon alone does not end a field's name."""
    return Problem(
        NO_SPACE_AFTER_COLON,
        f"the colon after `{name}` needs a space behind it",
        address,
        f"write `{name}: {rest.strip()}`",
        position=position,
    )

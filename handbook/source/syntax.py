"""Where the reading of a file broke off, to a plain sentence about the likely slip.

The parser's own words name the place where it gave up, seldom the slip; so each of the
looks below goes by the lines around that place.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import yaml

from handbook.problems import Position, Problem
from handbook.source.decoding import place
from handbook.source.nodes import odd_name, too_deep
from handbook.source.quoting import in_quotes
from handbook.source.slips import (
    CURLY,
    ODD_SPACES,
    no_space_after_colon,
    no_space_after_hyphen,
    odd_space,
    special_character,
)

_FIELD = re.compile(r"\s*(?:- +)*(?P<name>[^\s\[{\"'#:-][^:#]*):(?=\s|$)\s*(?P<value>.*)")
_TIGHT_FIELD = re.compile(r"\s*(?:- +)*(?P<name>[A-Za-z_][\w-]*):(?P<value>[^\s:/].*)")
_ODD = re.compile(rf"^\s*[{ODD_SPACES}]|(?:\w:|^\s*-)(?=[{ODD_SPACES}])")
_LEAD = re.compile(r"\s*(?:- +)*")
_REMARK = re.compile(r"\s+#.*$")
_FAR = 50  # lines looked back for an opening quote or bracket


@dataclass(frozen=True, slots=True)
class Stop:
    """Where reading stopped and where what was being read began; both count from 0.

    `said` is the parser's reason, in lower case.
    """

    file: str
    lines: Sequence[str]
    said: str
    line: int
    column: int
    from_line: int
    from_column: int

    @property
    def text(self) -> str:
        """The line at which reading stopped."""
        return self.lines[self.line]

    @property
    def at_start(self) -> bool:
        """Whether only spaces come before the place on its line."""
        return not self.text[: self.column].strip()

    @property
    def above(self) -> int | None:
        """The nearest line above that holds more than a remark."""
        for number in range(self.line - 1, -1, -1):
            bare = self.lines[number].strip()
            if bare and not bare.startswith("#"):
                return number
        return None

    def problem(
        self, code: str, message: str, hint: str, line: int, column: int, length: int = 1
    ) -> Problem:
        """Make a problem; `line` and `column` count from 0."""
        at = Position(line + 1, column + 1, max(1, length))
        return Problem(code, message, (self.file,), hint, position=at)


Look = Callable[[Stop], Problem | None]


def explain(file: str, text: str, error: yaml.YAMLError) -> Problem:
    """Turn the parser's error into one problem, with its place and a way to mend it."""
    stop = _stop(file, text.split("\n"), error)
    for look in _LOOKS:
        problem = look(stop)
        if problem is not None:
            return problem
    return stop.problem(
        "unreadable-line",
        "this line, or the one above it, cannot be read",
        "check its indent, its quotes and its brackets; text with signs in it is safest in quotes",
        stop.line,
        _indent(stop.text),
        len(stop.text.strip()),
    )


def _stop(file: str, lines: Sequence[str], error: yaml.YAMLError) -> Stop:
    said = " ".join(
        str(part) for part in (getattr(error, "context", ""), getattr(error, "problem", "")) if part
    )
    at = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    start = getattr(error, "context_mark", None) or at
    line, column = (at.line, at.column) if at else (0, 0)
    while line > 0 and (line >= len(lines) or not lines[line].strip()):
        line, column = line - 1, len(lines[min(line - 1, len(lines) - 1)])
    from_line, from_column = (start.line, start.column) if start else (line, column)
    return Stop(
        file, lines, said.lower(), line, column, min(from_line, len(lines) - 1), from_column
    )


def _tab(stop: Stop) -> Problem | None:
    for number in _suspects(stop):
        found = re.match(r" *\t+", stop.lines[number])
        if found:
            others = sum(1 for line in stop.lines if re.match(r" *\t", line)) - 1
            more = f" and of {others} more" if others else ""
            return stop.problem(
                "tab-indent",
                f"a tab stands at the start of this line{more}, where only spaces are read",
                "replace each tab by two spaces",
                number,
                found[0].index("\t"),
            )
    if stop.text[stop.column : stop.column + 1] == "\t":
        return stop.problem(
            "tab-indent",
            "a tab stands where a space is wanted",
            "replace the tab by a space",
            stop.line,
            stop.column,
        )
    return None


def _odd_space(stop: Stop) -> Problem | None:
    for number in _suspects(stop):
        found = _ODD.search(stop.lines[number])
        if found:
            line = stop.lines[number]
            column = next(n for n, letter in enumerate(line) if re.match(f"[{ODD_SPACES}]", letter))
            return odd_space((stop.file,), Position(number + 1, column + 1))
    return None


def _curly(stop: Stop) -> Problem | None:
    for number in _suspects(stop):
        field = _FIELD.match(stop.lines[number])
        if not field or not field["value"]:
            continue
        value = _REMARK.sub("", field["value"]).strip()
        if value[0] in CURLY or (value[0] in "\"'" and value[-1] in CURLY):
            return stop.problem(
                "curly-quotes",
                "curly quotes do not hold a text together as straight ones do",
                f"write {field['name']}: {in_quotes(value.strip(CURLY + chr(34) + chr(39)))}",
                number,
                field.start("value"),
                len(value),
            )
    return None


def _second_document(stop: Stop) -> Problem | None:
    if "single document" not in stop.said and not stop.text.startswith("---"):
        return None
    return stop.problem(
        "second-document",
        "a line of three hyphens starts a second document, and a file holds one",
        "remove the line, or move what follows to a file of its own",
        stop.line,
        0,
        3,
    )


def _too_deep(stop: Stop) -> Problem | None:
    if "nesting depth" not in stop.said:
        return None
    return too_deep((stop.file,), Position(stop.line + 1, stop.column + 1))


def _tight_colon(stop: Stop) -> Problem | None:
    if not _about_colon(stop):
        return None
    for number in _suspects(stop):
        found = _TIGHT_FIELD.match(stop.lines[number])
        if found and not _FIELD.match(stop.lines[number]):
            at = Position(number + 1, found.end("name") + 1)
            return no_space_after_colon((stop.file,), found["name"], found["value"], at)
    return None


def _about_colon(stop: Stop) -> bool:
    return "mapping values are not allowed" in stop.said or "find expected ':'" in stop.said


def _colon_in_text(stop: Stop) -> Problem | None:
    if "mapping values are not allowed" not in stop.said:
        return None
    field = _FIELD.match(stop.text)
    if not field or field.end("name") >= stop.column:
        return None
    value = _REMARK.sub("", field["value"]).strip()
    return stop.problem(
        "colon-in-text",
        "a colon inside a text looks like the start of another field",
        f"put the text in quotes: {field['name'].strip()}: {in_quotes(value)}",
        stop.line,
        stop.column,
    )


def _missing_colon(stop: Stop) -> Problem | None:
    if not _about_colon(stop):
        return None
    number = stop.above if "mapping values" in stop.said else stop.from_line
    if number is None or ":" in stop.lines[number]:
        return None
    line = stop.lines[number]
    indent = _indent(line)
    if re.match(r"-[^\s-]", line.strip()):
        at = Position(number + 1, indent + 1, len(line.strip()))
        return no_space_after_hyphen((stop.file,), line.strip()[1:], at)
    same_indent = indent == _indent(stop.text)
    if "mapping values" in stop.said and not same_indent:
        return None
    word = line.split()[0] if line.split() else ""
    return stop.problem(
        "missing-colon",
        "this line has no colon, so it is neither a field nor part of one",
        f"write `{word}: …` if it is a field; indent the line if it goes on with the text above",
        number,
        indent,
        len(line.strip()),
    )


def _missing_name(stop: Stop) -> Problem | None:
    column = _lead(stop.text)
    if not stop.text[column:].startswith((": ", ":\t")):
        return None
    at = Position(stop.line + 1, column + 1)
    return odd_name((stop.file,), at)


def _special_character(stop: Stop) -> Problem | None:
    """Find a sign in front of a text that has a meaning of its own there."""
    line, column = stop.line, stop.column
    if re.search("scanning (an alias|an anchor|a tag|a block scalar|a directive)", stop.said):
        line, column = stop.from_line, stop.from_column
    elif not re.search(
        "start any token|undefined alias|entries are not allowed|keys are not allowed"
        "|tag handle|node content|incompatible|directive",
        stop.said,
    ):
        return None
    mark = stop.lines[line][column : column + 1]
    if not mark or mark not in "@`%*&!|>?-,":
        return None
    written = _REMARK.sub("", stop.lines[line][column:]).rstrip()
    if mark == "-":
        return stop.problem(
            "special-first-character",
            "a list cannot begin on the line of its field",
            f"move `{written}` to the next line, or write {in_quotes(written)} if it is one text",
            line,
            column,
            len(written),
        )
    return special_character((stop.file,), written, Position(line + 1, column + 1, len(written)))


def _bad_backslash(stop: Stop) -> Problem | None:
    if "escape" not in stop.said and "hexadecimal" not in stop.said:
        return None
    column = stop.text.rfind("\\", 0, stop.column + 1)
    return stop.problem(
        "stray-backslash",
        "a backslash in double quotes has a meaning of its own",
        "use single quotes around the text, or write the backslash twice",
        stop.line,
        max(0, column),
        2,
    )


def _unclosed_quote(stop: Stop) -> Problem | None:
    if "quoted scalar" in stop.said:
        return _open_quote(stop, stop.from_line, stop.from_column)
    if stop.at_start or not _ended_early(stop):
        return None
    for number in range(stop.line - 1, max(-1, stop.line - _FAR), -1):
        field = _FIELD.match(stop.lines[number])
        value = _REMARK.sub("", field["value"]).strip() if field else ""
        if field and value[:1] in {'"', "'"} and value.count(value[0]) == 1:
            return _open_quote(stop, number, field.start("value"))
    return None


def _open_quote(stop: Stop, line: int, column: int) -> Problem:
    written = stop.lines[line][column:].rstrip()
    curly = written[-1] in CURLY
    return stop.problem(
        "unclosed-quote",
        "this quote is opened, but not closed on its line"
        + (": the one at the end is curly" if curly else ""),
        f"close it at the end of the text: {written.rstrip(CURLY)}{written[:1]}",
        line,
        column,
        len(written),
    )


def _ended_early(stop: Stop) -> bool:
    return bool(
        re.search("find expected (key|'-')|expected <block end>|<document start>", stop.said)
    )


def _text_after_quote(stop: Stop) -> Problem | None:
    if stop.at_start or not _ended_early(stop):
        return None
    rest = _REMARK.sub("", stop.text[stop.column :]).strip()
    if rest[:1] in {"]", "}"}:
        return stop.problem(
            "stray-bracket",
            f"this `{rest[0]}` closes nothing",
            "remove it, or put the whole text in quotes",
            stop.line,
            stop.column,
        )
    begun = _FIELD.match(stop.text)
    start = begun.start("value") if begun else _lead(stop.text)
    whole = _REMARK.sub("", stop.text[start:]).strip()
    kind = "bracket" if whole[:1] in {"[", "{"} else "quote"
    return stop.problem(
        "text-after-quote",
        f"text goes on after the closing {kind}",
        f"put all of it in one pair of quotes: {in_quotes(_without_doubled(whole))}",
        stop.line,
        stop.column,
        len(rest),
    )


def _without_doubled(whole: str) -> str:
    """Take off the outer quotes of a text such as 'Don't stop', which hold only a part of it."""
    quote = whole[:1]
    if quote in {'"', "'"} and re.fullmatch(f"{quote}[^{quote}]*{quote}[^{quote}]*{quote}", whole):
        return whole[1:-1]
    return whole


def _bracket(stop: Stop) -> Problem | None:
    if "flow" not in stop.said and "node content" not in stop.said:
        return None
    opened = _open_bracket(stop)
    if opened is None:
        return stop.problem(
            "stray-bracket",
            f"`{stop.text[stop.column : stop.column + 1]}` cannot start a text",
            "remove it, or put the whole text in quotes",
            stop.line,
            stop.column,
        )
    line, column = opened
    closing = "]" if stop.lines[line][column] == "[" else "}"
    rest = stop.lines[line][column:]
    if re.search(r"\s#", rest.partition(closing)[0]):
        return _remark_in_brackets(stop, line, rest)
    if line == stop.line and closing in rest and stop.column < len(stop.text.rstrip()):
        return _inside_brackets(stop)
    return stop.problem(
        "unclosed-bracket",
        f"this `{rest[0]}` is opened, but not closed",
        f"add `{closing}` after the last item, or put the text in quotes if it is no list",
        line,
        column,
        len(rest.rstrip()),
    )


def _remark_in_brackets(stop: Stop, line: int, rest: str) -> Problem:
    hash_at = stop.lines[line].index("#", len(stop.lines[line]) - len(rest))
    return stop.problem(
        "unclosed-bracket",
        "the # starts a remark, so the end of this list in brackets is lost",
        "put the item with the # in quotes",
        line,
        hash_at,
        len(stop.lines[line]) - hash_at,
    )


def _inside_brackets(stop: Stop) -> Problem:
    if stop.text[stop.column : stop.column + 1] == ":":
        message, hint = (
            "a colon inside this text looks like the start of another field",
            "put the text in quotes",
        )
        return stop.problem("colon-in-text", message, hint, stop.line, stop.column)
    return stop.problem(
        "missing-comma",
        "two items of this list in brackets are not parted by a comma",
        "put a comma between them, or quotes around the whole item",
        stop.line,
        stop.column,
    )


def _open_bracket(stop: Stop) -> tuple[int, int] | None:
    """Find the last bracket before the stop that nothing closes; quotes are passed over."""
    first = max(0, stop.line - _FAR)
    before = [*stop.lines[first : stop.line], stop.text[: stop.column]]
    opened: list[int] = []
    text = "\n".join(before)
    for found in re.finditer(r"\"[^\"\n]*\"|'[^'\n]*'|\s#[^\n]*|[\[\]{}]", text):
        if found[0] in {"[", "{"}:
            opened.append(found.start())
        elif found[0] in {"]", "}"} and opened:
            opened.pop()
    if not opened:
        return None
    at = place(text, opened[-1])
    return first + at.line - 1, at.column - 1


def _uneven_indent(stop: Stop) -> Problem | None:
    if not stop.at_start and "mapping values" not in stop.said:
        return None
    column = _indent(stop.text)
    above = stop.above
    if above is None:
        return None
    columns = _columns_above(stop)
    return stop.problem(
        "uneven-indent",
        "this line does not line up with the lines above it",
        _indent_hint(stop, column, columns),
        stop.line,
        column,
        len(stop.text.strip()),
    )


def _columns_above(stop: Stop) -> dict[int, tuple[int, str]]:
    """Map each column at which a line may begin here to the last line that begins there.

    A list item counts twice: at its hyphen and at what follows the hyphen.
    """
    columns: dict[int, tuple[int, str]] = {}
    least = 10**6
    for number in range(stop.line - 1, max(-1, stop.line - _FAR), -1):
        line = stop.lines[number]
        bare = line.strip()
        if not bare or bare.startswith("#"):
            continue
        indent = _indent(line)
        inner = _lead(line)
        for column in {indent, inner}:
            if column < least:
                columns.setdefault(column, (number, bare))
        least = min(least, indent) if indent < least else least
    return columns


def _indent_hint(stop: Stop, column: int, columns: dict[int, tuple[int, str]]) -> str:
    here = columns.get(column)
    if here and here[1].startswith("-") and not stop.text.strip().startswith("-"):
        return (
            "put `- ` in front if this begins a new item of the list; "
            "add two spaces in front if it goes on with the item above"
        )
    if here and stop.text.strip().startswith("-"):
        return f"a list belongs below the name of its field, and no field is open here; see line {here[0] + 1}"
    near = sorted(columns, key=lambda other: (abs(other - column), -other))[:2]
    lines = {columns[other][0] + 1 for other in near}
    if len(lines) == 1:
        places = " or ".join(str(other + 1) for other in near)
        return f"start it in column {places}, as line {lines.pop()} does"
    ways = [f"in column {other + 1}, as line {columns[other][0] + 1} does" for other in near]
    return f"start it {', or '.join(ways)}"


def _suspects(stop: Stop) -> tuple[int, ...]:
    """Give the lines on which the slip may be, the likeliest first."""
    above = () if stop.above is None else (stop.above,)
    return tuple(dict.fromkeys((stop.line, stop.from_line, *above)))


def _lead(line: str) -> int:
    """Count the characters before a line's own text: spaces and list hyphens."""
    found = _LEAD.match(line)
    return found.end() if found else 0


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())


_LOOKS: tuple[Look, ...] = (
    _too_deep,
    _tab,
    _odd_space,
    _second_document,
    _bad_backslash,
    _unclosed_quote,
    _special_character,
    _curly,
    _tight_colon,
    _colon_in_text,
    _missing_name,
    _missing_colon,
    _bracket,
    _text_after_quote,
    _uneven_indent,
)

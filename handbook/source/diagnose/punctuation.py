"""Broken reading because of a quote, a bracket or a sign with a meaning of its own."""

from __future__ import annotations

import re
from dataclasses import replace

from handbook.problems import COLON_IN_TEXT, Code, Edit, Fix, Position, Problem
from handbook.source.decoding import place
from handbook.source.diagnose.stop import FAR, FIELD, REMARK, Stop, lead, suspects
from handbook.source.lint import CURLY, CURLY_QUOTES, SPECIAL_FIRST_CHARACTER, special_character
from handbook.source.quoting import in_quotes

STRAY_BACKSLASH = Code(
    "stray-backslash",
    "A backslash stands in double quotes.",
    "In double quotes a backslash begins a code for another character. In single quotes, or without quotes, it is a letter like any other.",
    bad='file: "C:\\music"',
    good="file: 'C:\\music'",
)
UNCLOSED_QUOTE = Code(
    "unclosed-quote",
    "A quote is opened, but not closed.",
    "The text would go on to the next quote, over all lines between.",
    bad='name: "Winter cycle\nyear: 2026-27',
    good='name: "Winter cycle"\nyear: 2026-27',
)
STRAY_BRACKET = Code(
    "stray-bracket",
    "A bracket closes nothing.",
    bad="weekdays: [Mon, Wed]]",
    good="weekdays: [Mon, Wed]",
)
TEXT_AFTER_QUOTE = Code(
    "text-after-quote",
    "Text goes on after a closing quote or bracket.",
    "Quotes hold a whole text or none of it. For an apostrophe inside, use double quotes.",
    bad="title: 'Don't peel moss'",
    good='title: "Don\'t peel moss"',
)
UNCLOSED_BRACKET = Code(
    "unclosed-bracket",
    "A bracket is opened, but not closed.",
    "A list in brackets ends with its bracket; a # inside it starts a remark, and hides the rest.",
    bad="weekdays: [Mon, Wed\nperiod: p3",
    good="weekdays: [Mon, Wed]\nperiod: p3",
)
MISSING_COMMA = Code(
    "missing-comma",
    "Two items of a list in brackets are not parted by a comma.",
    bad='notes: ["Breathe" "Play"]',
    good='notes: ["Breathe", "Play"]',
)


def curly_quote(stop: Stop) -> Problem | None:
    """Find curly quotes that were to hold a text together."""
    for number in suspects(stop):
        field = FIELD.match(stop.lines[number])
        if not field or not field["value"]:
            continue
        value = REMARK.sub("", field["value"]).strip()
        if value[0] in CURLY or (value[0] in "\"'" and value[-1] in CURLY):
            return stop.problem(
                CURLY_QUOTES,
                "curly quotes do not hold a text together as straight ones do",
                f"write {field['name']}: {in_quotes(value.strip(CURLY + chr(34) + chr(39)))}",
                number,
                field.start("value"),
                len(value),
            )
    return None


def special_sign(stop: Stop) -> Problem | None:
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
    written = REMARK.sub("", stop.lines[line][column:]).rstrip()
    if mark == "-":
        return stop.problem(
            SPECIAL_FIRST_CHARACTER,
            "a list cannot begin on the line of its field",
            f"move `{written}` to the next line, or write {in_quotes(written)} if it is one text",
            line,
            column,
            len(written),
        )
    field = FIELD.match(stop.lines[line])
    begins = column in {lead(stop.lines[line]), field.start("value") if field else -1}
    at = Position(line + 1, column + 1, len(written))
    return special_character((stop.file,), written, at, whole=begins and mark in "@`%*&!")


def stray_backslash(stop: Stop) -> Problem | None:
    """Find a backslash in double quotes that begins no code."""
    if "escape" not in stop.said and "hexadecimal" not in stop.said:
        return None
    column = stop.text.rfind("\\", 0, stop.column + 1)
    return stop.problem(
        STRAY_BACKSLASH,
        "a backslash in double quotes has a meaning of its own",
        "use single quotes around the text, or write the backslash twice",
        stop.line,
        max(0, column),
        2,
    )


def unclosed_quote(stop: Stop) -> Problem | None:
    """Find a quote that is opened and not closed, perhaps some lines above."""
    if "quoted scalar" in stop.said:
        return _open_quote(stop, stop.from_line, stop.from_column)
    if stop.at_start or not _ended_early(stop):
        return None
    for number in range(stop.line - 1, max(-1, stop.line - FAR), -1):
        field = FIELD.match(stop.lines[number])
        value = REMARK.sub("", field["value"]).strip() if field else ""
        if field and value[:1] in {'"', "'"} and value.count(value[0]) == 1:
            return _open_quote(stop, number, field.start("value"))
    return None


def _open_quote(stop: Stop, line: int, column: int) -> Problem:
    written = stop.lines[line][column:].rstrip()
    curly = written[-1] in CURLY
    return stop.problem(
        UNCLOSED_QUOTE,
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


def text_after_quote(stop: Stop) -> Problem | None:
    """Find text behind a closing quote or bracket."""
    if stop.at_start or not _ended_early(stop):
        return None
    rest = REMARK.sub("", stop.text[stop.column :]).strip()
    if rest[:1] in {"]", "}"}:
        return stop.problem(
            STRAY_BRACKET,
            f"this `{rest[0]}` closes nothing",
            "remove it, or put the whole text in quotes",
            stop.line,
            stop.column,
        )
    begun = FIELD.match(stop.text)
    start = begun.start("value") if begun else lead(stop.text)
    whole = REMARK.sub("", stop.text[start:]).strip()
    kind = "bracket" if whole[:1] in {"[", "{"} else "quote"
    bare = _without_doubled(whole)
    told = stop.problem(
        TEXT_AFTER_QUOTE,
        f"text goes on after the closing {kind}",
        f"put all of it in one pair of quotes: {in_quotes(bare)}",
        stop.line,
        stop.column,
        len(rest),
    )
    at = Position(stop.line + 1, start + 1, len(whole))
    return replace(told, fix=Fix(edits=(Edit(at, in_quotes(bare)),))) if bare != whole else told


def _without_doubled(whole: str) -> str:
    """Take off the outer quotes of a text such as 'Don't stop', which hold only a part of it."""
    quote = whole[:1]
    if quote in {'"', "'"} and re.fullmatch(f"{quote}[^{quote}]*{quote}[^{quote}]*{quote}", whole):
        return whole[1:-1]
    return whole


def bracket(stop: Stop) -> Problem | None:
    """Find a bracket that is opened and not closed, or what is wrong between two."""
    if "flow" not in stop.said and "node content" not in stop.said:
        return None
    opened = _open_bracket(stop)
    if opened is None:
        return stop.problem(
            STRAY_BRACKET,
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
        UNCLOSED_BRACKET,
        f"this `{rest[0]}` is opened, but not closed",
        f"add `{closing}` after the last item, or put the text in quotes if it is no list",
        line,
        column,
        len(rest.rstrip()),
    )


def _remark_in_brackets(stop: Stop, line: int, rest: str) -> Problem:
    hash_at = stop.lines[line].index("#", len(stop.lines[line]) - len(rest))
    return stop.problem(
        UNCLOSED_BRACKET,
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
        return stop.problem(COLON_IN_TEXT, message, hint, stop.line, stop.column)
    return stop.problem(
        MISSING_COMMA,
        "two items of this list in brackets are not parted by a comma",
        "put a comma between them, or quotes around the whole item",
        stop.line,
        stop.column,
    )


def _open_bracket(stop: Stop) -> tuple[int, int] | None:
    """Find the last bracket before the stop that nothing closes; quotes are passed over."""
    first = max(0, stop.line - FAR)
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

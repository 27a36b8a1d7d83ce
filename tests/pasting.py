"""Pastes lines of YAML into content files, as a director would by hand, with PyYAML's marks alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import yaml

from handbook.plan.content_lines import LineKind, Lines


def pasted(files: Mapping[str, str], lines: Iterable[Lines]) -> dict[str, str]:
    """Give files with lines added, set or taken out, one place after another."""
    found = dict(files)
    for one in lines:
        found[one.file] = _pasted(found[one.file], one)
    return found


def _pasted(text: str, one: Lines) -> str:
    if one.kind is LineKind.ADD and not one.under:
        return text.rstrip("\n") + "\n" + "\n".join(one.lines) + "\n"
    node: Any = yaml.compose(text)
    for step in one.under:
        node = _inside(node, step)
    rows = text.splitlines()
    if one.kind is LineKind.ADD:
        column = node.value[0].start_mark.column - 2
        return _with_rows(rows, _end(node, rows), 0, [" " * column + row for row in one.lines])
    if one.kind is LineKind.TAKE_OUT and not one.under:
        name = one.lines[0].removesuffix(":")
        key, value = next(pair for pair in node.value if pair[0].value == name)
        first = key.start_mark.line
        return _with_rows(rows, first, _end(value, rows) - first, [])
    if one.kind is LineKind.TAKE_OUT:
        entry = next(item for item in node.value if _is_meant(item, one.lines[0]))
        first = entry.start_mark.line
        return _with_rows(rows, first, _end(entry, rows) - first, [])
    for row in one.lines:
        text = _with_field(text, one.under, row)
    return text


def _with_field(text: str, under: tuple[str | int, ...], row: str) -> str:
    """Put a field in place of the one of that name, or before all others."""
    node: Any = yaml.compose(text)
    for step in under:
        node = _inside(node, step)
    rows, name = text.splitlines(), row.partition(":")[0]
    key, value = next(
        ((key, value) for key, value in node.value if key.value == name), (None, None)
    )
    if key is None or value is None:
        first = node.value[0][0].start_mark
        before = rows[first.line][: first.column]
        rest = " " * first.column + rows[first.line][first.column :]
        return _with_rows(rows, first.line, 1, [before + row, rest])
    start, end = key.start_mark, value.end_mark
    line = rows[start.line][: start.column] + row + rows[end.line][end.column :]
    return _with_rows(rows, start.line, end.line - start.line + 1, [line])


def _inside(node: Any, step: str | int) -> Any:
    if isinstance(node, yaml.MappingNode):
        return next(value for key, value in node.value if key.value == step)
    if isinstance(step, int):
        return node.value[step]
    return next(item for item in node.value if _field(item, "id") == step)


def _is_meant(item: Any, shown: str) -> bool:
    """Whether an entry has all fields that are shown of it; clock times may be written otherwise."""
    wanted = yaml.load(shown, Loader=yaml.BaseLoader)[0]
    return all(_field(item, name) == value for name, value in wanted.items() if name != "start")


def _field(item: Any, name: str) -> Any:
    return next((value.value for key, value in item.value if key.value == name), None)


def _end(node: Any, rows: list[str]) -> int:
    """Give the line after a node: a block ends where the next thing begins."""
    return min(len(rows), int(node.end_mark.line) + bool(node.flow_style))


def _with_rows(rows: list[str], first: int, count: int, new: list[str]) -> str:
    return "\n".join([*rows[:first], *new, *rows[first + count :]]) + "\n"

"""The one mend of a problem as changes of single places of a file."""

from __future__ import annotations

import pytest

from handbook.fixing.rounds import with_edits
from handbook.problems import Edit, Fix, Position, Problem
from handbook.source.edits import edits_of
from handbook.source.source_map import SourceFile
from handbook.source.yaml_reader import read_yaml


def mended(text: str, address: tuple[str | int, ...], fix: Fix, *, on_key: bool = False) -> str:
    read = read_yaml("f.yaml", text.encode())
    problem = Problem("code", "message", ("f.yaml", *address), on_key=on_key, fix=fix)
    edits = edits_of(problem, SourceFile(read.lines, read.root))
    return with_edits(text.encode(), edits).decode()


@pytest.mark.parametrize(
    ("text", "address", "fix", "then"),
    [
        ("a: x # y\n", ("a",), Fix(word="z"), "a: z # y\n"),
        ("a: 'x'\n", ("a",), Fix(word="z"), 'a: "z"\n'),
        ("a: x\n", ("a",), Fix(word="b: c"), 'a: "b: c"\n'),
        ("{a: x, b: y}\n", ("a",), Fix(word="b, c"), '{a: "b, c", b: y}\n'),
        ("a: x, y\n", ("a",), Fix(items=("x", "y")), "a: [x, y]\n"),
        ("a: [x y, z]\n", ("a", 0), Fix(items=("x", "y")), "a: [x, y, z]\n"),
        ("a:\n- x y\n- z\n", ("a", 0), Fix(items=("x", "y")), "a:\n- x\n- y\n- z\n"),
        ("a: x\n  y\n", ("a",), Fix(word="z"), "a: x\n  y\n"),  # of two lines: left alone
        ("a: x\n", ("b",), Fix(word="z"), "a: x\n"),  # leads nowhere
        ("a: {b: x}\n", ("a",), Fix(word="z"), "a: {b: x}\n"),  # no text
    ],
)
def test_a_value_is_written_so_that_it_is_read_as_it_is(
    text: str, address: tuple[str | int, ...], fix: Fix, then: str
) -> None:
    assert mended(text, address, fix) == then


def test_the_name_of_a_field_is_changed_and_not_its_value() -> None:
    assert mended("ab: ab\n", ("ab",), Fix(word="cd"), on_key=True) == "cd: ab\n"


def test_changes_keep_the_line_ends_of_their_file() -> None:
    edit = Edit(Position(2, 1, 1), "b\nc")
    assert with_edits(b"\xef\xbb\xbfa\r\nx\r\n", [edit]) == b"\xef\xbb\xbfa\r\nb\r\nc\r\n"

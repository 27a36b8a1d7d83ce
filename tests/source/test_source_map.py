"""Where an address leads in a director's file; lines and columns counted by hand."""

from __future__ import annotations

import pytest

from handbook.problems import Address, Position
from handbook.source.source_map import SourceFile, SourceMap
from handbook.source.yaml_reader import read_yaml

FILE = "cycles/winter/cycle.yaml"
TEXT = """\
name: Winter cycle
room:
stages:
  - id: build
    name: {en: Build, es: Construir}
    goals:
      - Play it all
  -
    id: polish
notes: >
  Many
  lines
days: [Mon, Wed]
"""


@pytest.fixture
def source() -> SourceMap:
    read = read_yaml(FILE, TEXT.encode())
    assert read.problems == ()
    return SourceMap({FILE: SourceFile(read.lines, read.root)})


@pytest.mark.parametrize(
    ("steps", "line", "column", "length"),
    [
        (("name",), 1, 7, 12),
        (("room",), 2, 1, 4),  # nothing there: the name of the field
        (("stages",), 3, 1, 6),
        (("stages", 0), 4, 5, 2),  # an item of a list: the first thing in it
        (("stages", 0, "id"), 4, 9, 5),
        (("stages", 0, "name"), 5, 5, 4),
        (("stages", 0, "name", "es"), 5, 27, 9),
        (("stages", 0, "goals", 0), 7, 9, 11),
        (("stages", 1, "id"), 9, 9, 6),
        (("notes",), 10, 8, 1),
        (("days", 1), 13, 13, 3),
    ],
)
def test_a_value_is_found(
    source: SourceMap, steps: Address, line: int, column: int, length: int
) -> None:
    assert source.position((FILE, *steps)) == Position(line, column, length)


@pytest.mark.parametrize(
    ("steps", "line", "column", "length"),
    [
        (("name",), 1, 1, 4),
        (("stages", 0, "id"), 4, 5, 2),
        (("stages", 0, "name", "es"), 5, 23, 2),
        (("days", 1), 13, 13, 3),
    ],
)
def test_the_name_of_a_field_is_found(
    source: SourceMap, steps: Address, line: int, column: int, length: int
) -> None:
    assert source.position((FILE, *steps), on_key=True) == Position(line, column, length)


@pytest.mark.parametrize(
    ("steps", "line", "column"),
    [
        (("ends",), 1, 1),  # missing at the top: the first field of the file
        (("stages", 0, "purpose"), 4, 5),  # missing in an entry: its first field
        (("stages", 7), 3, 1),
        (("stages", 0, "name", "fr"), 5, 5),
        (("name", "en"), 1, 7),
        ((), 1, 1),
    ],
)
def test_a_missing_field_stops_at_the_entry_it_is_missing_from(
    source: SourceMap, steps: Address, line: int, column: int
) -> None:
    found = source.position((FILE, *steps), on_key=True)
    assert found is not None
    assert (found.line, found.column) == (line, column)


def test_a_file_without_nodes_is_marked_at_its_start() -> None:
    assert SourceMap({"a.yaml": SourceFile(("x",))}).position(("a.yaml", "b")) == Position(1, 1)


def test_an_unknown_file_has_no_places(source: SourceMap) -> None:
    assert source.position(("other.yaml", "name")) is None
    assert source.position(()) is None


def test_lines_count_from_one(source: SourceMap) -> None:
    assert source.line(FILE, 1) == "name: Winter cycle"
    assert source.line(FILE, 0) is None
    assert source.line(FILE, 99) is None
    assert source.line("other.yaml", 1) is None

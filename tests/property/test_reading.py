"""Laws of reading: no text, however broken, escapes as an exception or without a place."""

from __future__ import annotations

import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from handbook.source.yaml_reader import LOADER, YamlFile, read_yaml

# The signs that mean something in YAML (1.2.2, 5.3) beside what directors type and paste.
_SIGNS = (
    "name|room|: |:|- |-|\n|\n  |\n    |#5| # x|'|\"|[|]|{|}|,|&a|*a|!x|>|%|@|`|?|\t|\u00a0|“|”"
)
_WORDS = "---|...|<<|~|\\|Winter|6:30|é|\u2028|\x00|🎺"
_PIECES = st.sampled_from([*f"{_SIGNS}|{_WORDS}".split("|"), "|"])
TEXTS = st.lists(_PIECES, max_size=25).map("".join)


def problems_are_whole(file: YamlFile) -> None:
    for problem in file.problems:
        at = problem.position
        assert at is not None
        assert 1 <= at.line <= len(file.lines)
        assert 1 <= at.column <= len(file.lines[at.line - 1]) + 1
        assert at.length >= 1
        assert problem.file == "f.yaml"
        assert problem.message
        assert problem.hint


@given(TEXTS)
@settings(max_examples=400)
@example('"\\x')
@example("%YAML 9.9\n---\na: 1")
@example("- - [ - : ? ")
@example("a: !<\n")
def test_any_text_is_read_or_told(text: str) -> None:
    for loader in (LOADER, yaml.BaseLoader):
        file = read_yaml("f.yaml", text.encode(), loader)
        problems_are_whole(file)
        assert file.root is not None or file.problems


@given(st.binary(max_size=60))
def test_any_bytes_are_read_or_told(raw: bytes) -> None:
    file = read_yaml("f.yaml", raw)
    problems_are_whole(file)
    assert file.root is not None or file.problems

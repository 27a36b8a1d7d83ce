"""The schemas beside the demo, which editors read, are those written from the models."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.schema.json_schema import schema_texts

CONTENT = Path(__file__).parents[2] / "content"
FOLDER = CONTENT / ".schema"


@pytest.mark.parametrize("topic", sorted(schema_texts()))
def test_the_schema_beside_the_demo_is_current(topic: str, rewrite: bool) -> None:
    text, path = schema_texts()[topic], FOLDER / f"{topic}.json"
    if rewrite:
        FOLDER.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text


def test_each_demo_file_names_a_schema_that_is_there() -> None:
    mark = "# yaml-language-server: $schema="
    for path in sorted(CONTENT.rglob("*.yaml")):
        first = path.read_text(encoding="utf-8").splitlines()[0]
        assert first.startswith(mark), path
        assert (path.parent / first.removeprefix(mark)).resolve().parent == FOLDER.resolve(), path
        assert (path.parent / first.removeprefix(mark)).is_file(), path

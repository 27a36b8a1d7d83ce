"""The schemas in a real editor's server: it offers fields, explains them, and finds what `check` finds.

Skipped where there is no node, no npm or no registry; it says so. What a schema can tell of a
shape is compared: types, unknown fields, missing fields.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.loader import load
from handbook.schema.entries import field_descriptions
from handbook.schema.handbook import MODELS
from tests.editor.language_server import Editor, install

FILES = {
    "program": "program.yaml",
    "year": "years/2026-27.yaml",
    "cycle": "cycles/winter-2027/cycle.yaml",
    "music": "cycles/winter-2027/music.yaml",
    "concert": "cycles/winter-2027/concert.yaml",
    "fundamentals": "fundamentals.yaml",
}
# A field of the file, which is to be offered on a new line and explained where it stands.
OFFERED = [
    ("program", "words"),
    ("program", "languages"),
    ("year", "day_labels"),
    ("year", "altered"),
    ("cycle", "marks"),
    ("cycle", "cancelled"),
    ("music", "words"),
    ("concert", "doors"),
    ("concert", "travel"),
    ("concert", "evening_ends"),
    ("fundamentals", "habits"),
    ("fundamentals", "order"),
]
EXPLAINED = [
    ("program", "time_zone"),
    ("program", "contact"),
    ("program", "ensembles"),
    ("year", "first_day"),
    ("year", "meetings"),
    ("cycle", "starts"),
    ("cycle", "stages"),
    ("music", "pieces"),
    ("concert", "downbeat"),
    ("concert", "attire"),
    ("concert", "pick_up"),
    ("fundamentals", "strands"),
]
SPOILT = [
    ("concert", "downbeat: 7:00 pm", "downbeat: soon"),
    ("concert", "downbeat: 7:00 pm", "downbeat: [7:00 pm]"),
    ("concert", "downbeat: 7:00 pm", "downbeats: 7:00 pm"),
    ("concert", "pieces: [first-piece]", "pieces: first-piece"),
    ("year", "weekdays: [Mon, Wed, Fri]", "weekdays: MWF"),
    ("year", "weekdays: [Mon, Wed, Fri]", "weekdays: [Mon Wed]"),
    ("program", "time_zone:", "timezone:"),
    ("music", "goal: quarter = 76", "goal: 76 beats"),
    ("music", "goal: quarter = 76", "gaol: quarter = 76"),
]


@pytest.fixture(scope="module")
def editor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Editor]:
    program = install()
    if program is None:
        pytest.skip("no YAML language server: node, npm or its registry is missing")
    folder = tmp_path_factory.mktemp("content")
    write_starter(folder, *starter_dates(date(2026, 11, 24)))
    speaking = Editor(program, folder)
    yield speaking
    speaking.close()


def text_of(editor: Editor, topic: str) -> str:
    return (editor.folder / FILES[topic]).read_text(encoding="utf-8")


def test_what_is_whole_is_whole_to_the_editor(editor: Editor) -> None:
    for topic, name in FILES.items():
        assert editor.errors(editor.open(name, text_of(editor, topic))) == []


@pytest.mark.parametrize(("topic", "field"), OFFERED)
def test_fields_are_offered(editor: Editor, topic: str, field: str) -> None:
    lines = text_of(editor, topic).rstrip("\n").split("\n")
    kept = [line for line in lines if not line.startswith(f"{field}:")]
    uri = editor.open(FILES[topic], "\n".join([*kept, field[:1]]))
    assert field in editor.completions(uri, len(kept), 1)


@pytest.mark.parametrize(("topic", "field"), EXPLAINED)
def test_fields_are_explained(editor: Editor, topic: str, field: str) -> None:
    text = text_of(editor, topic)
    line = next(n for n, one in enumerate(text.split("\n")) if one.startswith(f"{field}:"))
    uri = editor.open(FILES[topic], text)
    told = editor.hover(uri, line, 1).replace("\\", "").replace("&nbsp;", " ")
    assert field_descriptions(MODELS[topic])[field][:40] in told


@pytest.mark.parametrize(("topic", "written", "slip"), SPOILT)
def test_the_editor_finds_what_check_finds(
    editor: Editor, topic: str, written: str, slip: str, tmp_path: Path
) -> None:
    text = text_of(editor, topic)
    assert written in text
    spoilt = text.replace(written, slip, 1)
    write_starter(tmp_path, *starter_dates(date(2026, 11, 24)))
    (tmp_path / FILES[topic]).write_text(spoilt, encoding="utf-8")
    lines = {
        at.line
        for loaded in [load(tmp_path)]
        for one in loaded.problems
        if (at := one.position or loaded.sources.position(one.address, on_key=one.on_key))
    }
    found = editor.errors(editor.open(FILES[topic], spoilt))
    assert lines & {one["range"]["start"]["line"] + 1 for one in found}

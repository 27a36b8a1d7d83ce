"""`handbook explain concert.yaml`: all that may stand in a file, as the models have it."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from handbook.cli.explain import command
from handbook.cli.fields import fields_text
from handbook.schema.entries import ENTRY_NAMES, field_descriptions
from handbook.schema.handbook import MODELS


def test_every_field_of_every_file_is_listed() -> None:
    said = " ".join(" ".join((fields_text(topic) or "").split()) for topic in MODELS)
    for model in ENTRY_NAMES:
        for name, description in field_descriptions(model).items():
            assert f"{name}: " in said
            assert " ".join(description.split()) in said, (model, name)


def test_lines_fit_a_terminal() -> None:
    long = 80
    for topic in MODELS:
        assert max(len(line) for line in (fields_text(topic) or "").splitlines()) <= long


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("concert", "date: (needed) The day"),
        ("concert.yaml", "concert.yaml"),
        ("years", "first_day: (needed) First day of school"),
        ("concert", "venue: (needed, if the program has none under usual) Where: the id of a venue"),
        ("music.pieces.form", "measures: (needed) First and last measure, both included"),
        ("program.ensembles.groups", "id: (needed) Short name that other files use"),
    ],
)  # fmt: skip
def test_a_name_leads_to_its_fields(name: str, line: str) -> None:
    text = fields_text(name) or ""
    assert line in text.splitlines()


def test_a_wrong_step_is_told_with_the_nearest() -> None:
    assert fields_text("music.peces") == "music has no entries called peces: there are pieces"
    assert fields_text("lunch") is None


def test_the_command_lists_fields_and_still_explains_codes() -> None:
    run = CliRunner()
    fields = run.invoke(command, ["events.yaml"], standalone_mode=False)
    assert fields.output.startswith("events.yaml\n\nevents: ")
    code = run.invoke(command, ["unknown-room"], standalone_mode=False)
    assert code.output.startswith("unknown-room\n\nA room is named")

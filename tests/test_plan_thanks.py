"""`handbook plan --thanks`, and the same in JSON; the turns themselves are tested in tests/plan."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from handbook.cli.main import main
from tests.content_folders import base_files, changed, write_folder

SENTENCE = "Thank you, trumpets, for the quiet start."
THANK = "thank:\n  - {id: drivers, name: the bus drivers}\nensembles:\n"


def ended(*arguments: str) -> object:
    with pytest.raises(SystemExit) as end:
        main(["plan", *arguments])
    return end.value.code


@pytest.fixture
def content(tmp_path: Path) -> str:
    days = f"days:\n  - {{date: 2026-10-19, thanks: '{SENTENCE}'}}\nstages:"
    files = changed(base_files(), "cycles/winter/cycle.yaml", "stages:", days)
    files = changed(files, "program.yaml", "ensembles:\n", THANK)
    return str(write_folder(tmp_path / "content", files))


def test_a_line_a_rehearsal_and_the_counts(
    content: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ended(content, "--thanks", "--ensemble", "lantern") == 0
    lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert f"Mon Oct 19 trumpets stated {SENTENCE}" in lines
    assert "Wed Oct 21 flutes in turn" in lines
    assert "Mon Oct 26 clarinets in turn" in lines
    assert "Wed Oct 28 the bus drivers in turn" in lines
    assert any(line.startswith("Counts: flutes ") for line in lines)


def test_the_json_has_whom(content: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert ended(content, "--json", "--ensemble", "lantern") == 0
    (cycle,) = json.loads(capsys.readouterr().out)["cycles"]
    (band,) = cycle["ensembles"]
    assert [one["thanks"] for one in band["rehearsals"]][:2] == [
        {"to": ["trumpets"], "stated": True},
        {"to": ["flutes"], "stated": False},
    ]


@pytest.mark.parametrize("other", ["--json", "--care", "--home"])
def test_it_stands_alone(content: str, other: str) -> None:
    assert ended(content, "--thanks", other) == 2

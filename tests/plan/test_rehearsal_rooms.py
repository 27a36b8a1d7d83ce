"""A rehearsal may be in a room of a venue, as dress rehearsals are (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_plan
from tests.content_folders import base_files, write_folder

STAGE = "    stage: stage\n    rooms: [{id: stage, name: {en: Main stage, es: Escenario}}]\n"
DRESS = "extra:\n  - {ensemble: lantern, date: 2026-12-08, start: 3:30 pm, end: 5 pm, room: ROOM}\n"


@pytest.mark.parametrize(
    ("room", "told", "name"),
    [
        ("stage", [], "Escenario, Great Hall"),
        ("band-room", [], "Band room"),
        ("stagee", ["unknown-room"], ""),
    ],
)
def test_a_dress_rehearsal_is_on_the_stage_of_the_hall(
    room: str, told: list[str], name: str, tmp_path: Path
) -> None:
    files = dict(base_files())
    program = files["program.yaml"].replace("time_zone:", "languages: [en, es]\ntime_zone:")
    files["program.yaml"] = program.rstrip() + "\n" + STAGE
    files["cycles/winter/cycle.yaml"] += DRESS.replace("ROOM", room)
    outcome = load_plan(write_folder(tmp_path, files))
    assert [one.code for one in outcome.problems if one.code != "missing-translation"] == told
    if outcome.plan:
        rows = outcome.plan.cycles[0].ensembles[0].rehearsals
        (dress,) = [row for row in rows if row.rehearsal.day.isoformat() == "2026-12-08"]
        assert dress.room
        assert dress.room.name.read("es") == name

"""What must lie ready for a rehearsal; the expected lists follow from the texts of these tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.outputs.site import render_site
from handbook.pipeline import load_plan
from handbook.plan.materials import NeedRow, needs_of
from tests.content_folders import base_files, changed, write_folder
from tests.plan.planning import CYCLE, MUSIC, lantern, planned

FUNDAMENTALS = """\
strands:
  - id: tone
    name: Tone
    why: It is what people hear
    exercises:
      - id: swells
        name: Swells
        level: 1
        rehearsals: 60
        media: swells.wav
        materials: [{text: Loudspeaker, where: shelf}]
      - {id: fifths, name: Fifths, level: 2, materials: [Tuner]}
warm_ups:
  - {level: 1, name: Long notes, steps: [Hold one note, {text: With it, media: drone.wav}, {exercise: fifths}], materials: [{text: Loudspeaker, where: shelf}]}
"""
DAYS = """\
days:
  - {date: Mon 2026-10-26, materials: [Forms, {text: Pencils, where: tray}]}
  - {date: Mon 2026-10-26, ensemble: lantern, materials: [{text: March, media: boats.mp3}]}
  - {date: Wed 2026-10-28, ensemble: lantern, kind: assembly}
  - {date: Mon 2026-11-02, ensemble: lantern, fundamentals: none, slots: {warm_up: 0}}
"""


@pytest.fixture
def needs(tmp_path: Path) -> dict[str, tuple[NeedRow, ...]]:
    files = base_files()
    pieces = changed(
        files,
        MUSIC,
        "title: Button Comets\n",
        "title: Button Comets\n    recording: comets.mp3\n    materials: [Triangle]\n",
    )
    band = lantern(
        planned(
            tmp_path,
            {
                "fundamentals.yaml": FUNDAMENTALS,
                MUSIC: pieces[MUSIC],
                CYCLE: files[CYCLE] + DAYS,
            },
        )
    )
    return {row.rehearsal.day.isoformat(): needs_of(band, row) for row in band.rehearsals}


def as_texts(rows: tuple[NeedRow, ...]) -> list[tuple[str | None, str | None, str | None, str]]:
    return [
        (row.text, row.where, row.media, " ".join(type(one).__name__ for one in row.subjects))
        for row in rows
    ]


def test_what_the_day_asks_for_stands_first_and_each_thing_once(
    needs: dict[str, tuple[NeedRow, ...]],
) -> None:
    assert as_texts(needs["2026-10-26"]) == [
        ("March", None, "boats.mp3", ""),
        ("Forms", None, None, ""),
        ("Pencils", "tray", None, ""),
        (None, None, "drone.wav", "WarmUp"),
        ("Loudspeaker", "shelf", None, "WarmUp Exercise"),
        ("Tuner", None, None, "Exercise"),
        (None, None, "swells.wav", "Exercise"),
        (None, None, "comets.mp3", "Piece"),
        ("Triangle", None, None, "Piece"),
    ]


def test_an_assembly_needs_nothing_of_what_is_not_played(
    needs: dict[str, tuple[NeedRow, ...]],
) -> None:
    assert [kind for *_, kind in as_texts(needs["2026-10-28"])] == ["WarmUp", "WarmUp", "Exercise"]


def test_without_a_warm_up_nothing_is_needed_for_it(needs: dict[str, tuple[NeedRow, ...]]) -> None:
    assert {kind for *_, kind in as_texts(needs["2026-11-02"])} == {"Piece"}


def test_a_section_by_itself_needs_what_its_piece_needs(tmp_path: Path) -> None:
    files = base_files()
    pieces = changed(
        files, MUSIC, "title: Button Comets\n", "title: Button Comets\n    materials: [Triangle]\n"
    )
    days = """\
days:
  - date: Mon 2026-10-26
    ensemble: lantern
    kind: sectional
    sections: {winds: {who: [flute], passages: [chase]}}
"""
    band = lantern(planned(tmp_path, {MUSIC: pieces[MUSIC], CYCLE: files[CYCLE] + days}))
    row = next(row for row in band.rehearsals if row.rehearsal.day.day == 26)
    assert [one.text for one in needs_of(band, row)] == ["Triangle"]


def test_no_page_of_the_site_has_them(tmp_path: Path) -> None:
    mark = "zqxmaterial"
    days = f"days: [{{date: Mon 2026-10-26, materials: [{{text: {mark}, where: {mark}}}]}}]\n"
    files = base_files()
    write_folder(tmp_path, {**files, CYCLE: files[CYCLE] + days})
    plan = load_plan(tmp_path).plan
    assert plan is not None
    site = render_site(plan)
    assert not [page.path for page in site.pages if mark in page.body]
    assert not [file.path for file in site.files if mark.encode() in file.content]

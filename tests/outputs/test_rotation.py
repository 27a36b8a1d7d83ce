"""Who plays what in percussion, as players find it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.cli.plan_json import plan_text
from handbook.outputs.page import Context
from handbook.plan.model import Plan
from tests.content_folders import base_files, changed
from tests.outputs.concerts import main_of, page
from tests.outputs.rendering import page_of
from tests.plan.planning import MUSIC, planned

TURNS = "    percussion: {1: [snare-drum], 3: [triangle, suspended-cymbal], 2: []}\n"


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    files = changed(
        base_files(),
        "program.yaml",
        "{flute: 6, clarinet: 8, trumpet: 7}",
        "{flute: 6, snare-drum: 1, percussion: 2}",
    )
    music = changed(
        files, MUSIC, "    title: Button Comets\n", f"    title: Button Comets\n{TURNS}"
    )
    return planned(tmp_path, {"program.yaml": files["program.yaml"], MUSIC: music[MUSIC]}).plan


def words_of(plan: Plan, path: str) -> str:
    html = main_of(page(Context(plan, "en"), path))
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def test_a_percussion_part_has_the_table_and_each_piece_its_list(plan: Plan) -> None:
    told = words_of(plan, "winter/lantern/part/snare-drum/")
    assert "Piece 1 2 3 Button Comets snare drum – triangle, suspended cymbal" in told
    assert (
        "Who plays what Player 1 snare drum Player 2 rests Player 3 triangle, suspended cymbal"
        in told
    )


def test_the_piece_has_it_and_other_parts_do_not(plan: Plan) -> None:
    assert "Percussion: who plays what" in words_of(plan, "winter/lantern/button-comets/")
    assert "who plays what" not in words_of(plan, "winter/lantern/part/flute/").lower()
    assert "who plays what" not in words_of(plan, "winter/harbor/tweed-kites/").lower()


def test_search_and_json_know_it(plan: Plan) -> None:
    entries = page_of(plan, "winter/lantern/part/percussion/").search
    (found,) = [entry for entry in entries if entry.anchor == "percussion-players"]
    assert "triangle, suspended cymbal" in found.text
    assert '"percussion": {' in plan_text(plan, plan.cycles)


def test_a_piece_with_turns_may_be_a_key(plan: Plan) -> None:
    """Pieces are gathered in sets where it is told what gave way."""
    (piece,) = (one.item for one in plan.cycles[0].ensembles[0].pieces)
    assert piece.percussion
    assert {piece: 1}[piece.model_copy()] == 1


def test_each_band_and_group_has_its_own_numbers_alone(tmp_path: Path) -> None:
    """Lantern has two players, in a group of its own; Harbor has three."""
    files = changed(
        base_files(),
        "program.yaml",
        "    name: Lantern Band\n",
        "    name: Lantern Band\n    groups: [{id: drums, name: Drums, instruments: {snare-drum: 1, percussion: 1}}, {id: winds, name: Winds, instruments: {flute: 6}}]\n",
    )
    files = changed(
        files,
        "program.yaml",
        "{flute: 6, clarinet: 8, trumpet: 7}",
        "{flute: 6, snare-drum: 1, percussion: 1}",
    )
    files = changed(files, "program.yaml", "{flute: 4, trumpet: 5}", "{flute: 4, percussion: 3}")
    music = changed(
        files,
        MUSIC,
        "    ensemble: lantern\n",
        "    ensembles: [lantern, harbor]\n    percussion: {1: [snare-drum], 2: [triangle], 3: [gong]}\n",
    )
    plan = planned(tmp_path, {"program.yaml": files["program.yaml"], MUSIC: music[MUSIC]}).plan
    told = {
        band: words_of(plan, f"winter/{band}/button-comets/")
        for band in ("lantern-drums", "lantern-winds", "harbor")
    }
    assert ["gong" in told[band] for band in told] == [False, False, True]
    assert ["who plays what" in told[band] for band in told] == [True, False, True]

"""A piece with an order: its duration, and the road map that its players see."""

from __future__ import annotations

import json
from pathlib import Path

from handbook.cli.plan_json import plan_text
from handbook.pipeline import load_problems
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import MUSIC, lantern, planned

IDS = changed(
    base_files(), MUSIC, "- name: Introduction", "- id: intro\n        name: Introduction"
)
FORM = changed(IDS, MUSIC, "- name: Finale", "- id: finale\n        name: Finale")


def ordered(order: str, *, fine: bool = False) -> dict[str, str]:
    files = changed(
        FORM,
        MUSIC,
        "    passages:\n      - id: opening",
        f"    order: {order}\n    passages:\n      - id: opening",
    )
    if fine:
        files = changed(
            files, MUSIC, "tempo: quarter = 96", "tempo: quarter = 96\n        sign: fine"
        )
    return files


def test_it_lasts_as_long_as_what_is_played(tmp_path: Path) -> None:
    files = ordered("[intro x2, finale, D.C. al Fine, intro]", fine=True)
    assert load_problems(write_folder(tmp_path / "checked", files)).problems == ()
    (piece,) = lantern(planned(tmp_path, files)).pieces
    # By hand: 16 measures of 4 beats at 96 last 40 s, 24 of 2 beats at 80 last 36 s.
    assert [(part.times, part.seconds) for part in piece.parts] == [(3, 120), (1, 36)]
    assert piece.seconds == 156
    plan = planned(tmp_path, files).plan
    data = json.loads(plan_text(plan, plan.cycles))
    (told,) = data["cycles"][0]["ensembles"][0]["pieces"]
    assert told["order"] == ["intro x2", "finale", "D.C. al Fine", "intro"]
    assert told["seconds"] == 156


def test_an_order_from_first_to_last_changes_nothing(tmp_path: Path) -> None:
    plain = lantern(planned(tmp_path / "plain", FORM)).pieces[0]
    told = lantern(planned(tmp_path / "told", ordered("[intro, finale]"))).pieces[0]
    assert told.seconds == plain.seconds
    assert [passage.visits for passage in told.passages] == [
        passage.visits for passage in plain.passages
    ]


def test_players_see_the_road_in_words(tmp_path: Path) -> None:
    files = ordered("[intro x2, finale, D.C. al Fine, intro]", fine=True)
    pages = {page.path: page for page in site_of(planned(tmp_path, files).plan).pages}
    for path in ("winter/lantern/button-comets/", "winter/lantern/part/flute/"):
        text = main_of(pages[path])
        assert "Play Introduction (2 times) and Finale, mm. 1–40." in text
        assert (
            "D.C. al Fine: back to the beginning. Play Introduction, mm. 1–16. Fine: here it ends."
            in text
        )
    assert "Road map" not in main_of(pages["winter/harbor/tweed-kites/"])

"""A piece that two bands rehearse, each by itself (common practice, no source)."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_problems
from handbook.report import report_text
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import main_of
from tests.outputs.rendering import site_of
from tests.plan.planning import CONCERT, MUSIC, ensemble, planned, winter

BOTH = changed(base_files(), MUSIC, "ensemble: harbor", "ensembles: [harbor, lantern]")
TOGETHER = BOTH | {
    CONCERT: BOTH[CONCERT].replace("[tweed-kites]", "[tweed-kites]\n    joined_by: [lantern]")
}
TURN = BOTH | {CONCERT: BOTH[CONCERT].replace("[button-comets]", "[tweed-kites, button-comets]")}


@pytest.mark.parametrize("files", [TOGETHER, TURN])
def test_either_may_play_it_at_the_concert(files: dict[str, str], tmp_path: Path) -> None:
    outcome = load_problems(write_folder(tmp_path, files))
    assert report_text(outcome.problems, outcome.sources) == "no problems\n"


def test_each_band_climbs_in_its_own_rehearsals(tmp_path: Path) -> None:
    cycle = winter(planned(tmp_path, TOGETHER))
    days = {}
    for name in ("harbor", "lantern"):
        band = ensemble(cycle, name)
        piece = next(one for one in band.pieces if one.item.id == "tweed-kites")
        (passage,) = piece.passages
        assert len(passage.at_goal) >= 2
        days[name] = {band.rehearsals[visit.place].rehearsal.day for visit in passage.visits}
    # Lantern meets on Mondays and Wednesdays, Harbor on Tuesdays and Thursdays.
    assert {day.weekday() for day in days["lantern"]} <= {0, 2}
    assert {day.weekday() for day in days["harbor"]} <= {1, 3}


def test_what_a_band_rehearses_by_itself_it_does_not_join(tmp_path: Path) -> None:
    lantern = ensemble(winter(planned(tmp_path, TOGETHER)), "lantern")
    assert lantern.joined == ()
    assert [one.item.id for one in lantern.pieces] == ["tweed-kites", "button-comets"]


def test_each_band_has_its_page_and_parts(tmp_path: Path) -> None:
    pages = {page.path: page for page in site_of(planned(tmp_path, TOGETHER).plan).pages}
    lantern = main_of(pages["winter/lantern/tweed-kites/"])
    harbor = main_of(pages["winter/harbor/tweed-kites/"])
    assert "Also played by Harbor Band" in lantern
    assert "Also played by Lantern Band" in harbor
    assert 'id="tweed-kites-round"' in main_of(pages["winter/lantern/part/clarinet/"])


def test_a_passage_for_nobody_in_a_band_is_the_other_bands(tmp_path: Path) -> None:
    more = "\n      - {id: reeds, name: Reeds, measures: 17-24, goal: quarter = 108, who: [clarinet]}\n"
    files = TOGETHER | {MUSIC: TOGETHER[MUSIC].rstrip() + more}
    outcome = load_problems(write_folder(tmp_path / "checked", files))
    assert outcome.problems == ()
    cycle = winter(planned(tmp_path / "planned", files))
    found = {
        band.item.id: [row.item.id for row in piece.passages]
        for band in cycle.ensembles
        for piece in band.pieces
        if piece.item.id == "tweed-kites"
    }
    assert found == {"lantern": ["round", "reeds"], "harbor": ["round"]}  # Harbor has no clarinet


def test_a_piece_of_which_a_band_has_no_passage_is_rehearsed_as_a_whole(tmp_path: Path) -> None:
    clarinets = changed(
        TOGETHER, MUSIC, "name: The round", "name: The round\n        who: [clarinet]"
    )
    files = changed(clarinets, MUSIC, "ensemble: lantern", "ensembles: [lantern, harbor]")
    result = planned(tmp_path, files)
    pieces = {one.item.id: one for one in ensemble(winter(result), "harbor").pieces}
    assert pieces["tweed-kites"].passages == ()
    page = next(
        one for one in site_of(result.plan).pages if one.path == "winter/harbor/tweed-kites/"
    )
    assert "The round" not in main_of(page)


def test_a_name_that_neither_band_has_is_told_of_both(tmp_path: Path) -> None:
    files = TOGETHER | {
        MUSIC: TOGETHER[MUSIC].replace("name: The round", "name: The round\n        who: [tuba]")
    }
    (problem,) = load_problems(write_folder(tmp_path, files)).problems
    assert problem.message == "no instrument of harbor or lantern is called `tuba`"


@pytest.mark.parametrize(
    ("files", "told"),
    [
        (BOTH, ["piece-not-on-program"]),  # Lantern plays it nowhere
        (changed(BOTH, MUSIC, "[harbor, lantern]", "[harbor, lantern, harbor]"), ["piece-not-on-program", "repeated-item"]),
        (changed(TURN, MUSIC, "[harbor, lantern]", "[harbor, lamp]"), ["piece-of-other-ensemble", "unknown-ensemble"]),
        (changed(TURN, MUSIC, "measures: 1-32", "measures: 1-64"), ["measures-without-passage"]),
        (changed(TURN, MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: polish"), ["lock-changes-nothing"]),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_once(files: dict[str, str], told: list[str], tmp_path: Path) -> None:
    problems = load_problems(write_folder(tmp_path, files)).problems
    assert sorted(one.code for one in problems) == told


def test_what_one_band_alone_cannot_hold_is_told_once(tmp_path: Path) -> None:
    files = changed(
        TURN, MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: 2026-10-19"
    )
    told = [one.code for one in load_problems(write_folder(tmp_path, files)).problems]
    # Harbor first meets the day after; Lantern meets that day, but once is too little.
    assert sorted(told) == ["goal-too-late", "lock-before-first-rehearsal"]
